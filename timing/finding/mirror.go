package finding

import (
	"math"
	"path"
	"path/filepath"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// What is known of whether a photograph is mirrored. One that is has the angle on the
// other side, which is the very fault that is looked for.
const (
	mirrorWriting   phrase.Text = "Confirmed: writing in the photograph {{.File}} can be read, so it is not mirrored."
	mirrorRotation  phrase.Text = "Confirmed: the turning direction marked on the part is right in the photograph {{.File}}, so it is not mirrored."
	mirrorTurned    phrase.Text = "Stated: the photograph {{.File}} is mirrored; its angle was turned round."
	mirrorOpen      phrase.Text = "Not confirmed: whether the photograph {{.File}} is mirrored. If it is, the angle lies on the other side, and: {{.Says}}"
	mirrorOpenShift phrase.Text = "If it is, the wheel is {{.Error}} in place of {{.Now}}."
	mirrorOpenAlone phrase.Text = "Not confirmed: whether the photograph {{.File}} is mirrored. If it is, the angle lies on the other side."
	mirrorAsk       phrase.Text = "Look for writing in it, or mark the turning direction on the part before you photograph it."
)

// MirrorNotes say of each photograph that an answer stands on how it is known whether it
// is mirrored, and where it is not, what the answer would be if it were. read is the job
// as it is compared, angles the same with an angle for each photograph.
func MirrorNotes(read, angles job.Job) []phrase.Sentence {
	var list []phrase.Sentence
	open := false
	for _, section := range []string{"dowel", "keyway"} {
		for _, which := range []string{"drawing", "measured"} {
			r, seen := readingIn(&read, section, which), readingIn(&angles, section, which)
			if r == nil || r.Method != "photo" || seen == nil || seen.Method == "photo" {
				continue
			}
			data := map[string]any{"File": path.Base(filepath.ToSlash(r.File))}
			switch r.Mirror {
			case job.MirrorWriting:
				list = append(list, phrase.Sentence{Text: mirrorWriting, Data: data})
				continue
			case job.MirrorRotation:
				list = append(list, phrase.Sentence{Text: mirrorRotation, Data: data})
				continue
			case job.MirrorMirrored:
				list = append(list, phrase.Sentence{Text: mirrorTurned, Data: data})
				continue
			}
			open = true
			list = append(list, ifMirrored(angles, section, which, data)...)
		}
	}
	if open {
		list = append(list, phrase.Sentence{Text: mirrorAsk})
	}
	return list
}

// ifMirrored says what the answer would be if one photograph were mirrored.
func ifMirrored(angles job.Job, section, which string, data map[string]any) []phrase.Sentence {
	other := angles.Clone()
	r := readingIn(&other, section, which)
	if side, ok := timing.ParseSense(r.Side); ok {
		r.Side = side.Other().String()
	}
	p, err := PartOf(other.AsItIs())
	if err != nil || p.Verdict == nil {
		return []phrase.Sentence{{Text: mirrorOpenAlone, Data: data}}
	}
	data["Says"] = p.Says
	list := []phrase.Sentence{{Text: mirrorOpen, Data: data}}
	now, err := WheelErrorOf(angles.AsItIs())
	then, err2 := WheelErrorOf(other.AsItIs())
	if err == nil && err2 == nil && math.Abs(float64(timing.Difference(now.Value, then.Value, timing.Turn))) > 0.05 {
		list = append(list, phrase.Sentence{Text: mirrorOpenShift, Data: map[string]any{"Error": outBy(then.Value), "Now": outBy(now.Value)}})
	}
	return list
}

const (
	outAhead  phrase.Text = "{{.Size}}° ahead"
	outBehind phrase.Text = "{{.Size}}° behind"
	outNone   phrase.Text = "at 0°"
)

// outBy says how far a wheel is out, without a sign.
func outBy(d timing.Deg) phrase.Sentence {
	size := phrase.Num{Value: math.Abs(float64(d)), Decimals: 1}
	switch {
	case size.String() == "0":
		return phrase.Sentence{Text: outNone}
	case d < 0:
		return phrase.Sentence{Text: outBehind, Data: map[string]any{"Size": size}}
	}
	return phrase.Sentence{Text: outAhead, Data: map[string]any{"Size": size}}
}
