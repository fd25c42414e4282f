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
	mirrorOpenBrief phrase.Text = "Not confirmed: whether the photograph {{.File}} is mirrored. If it is, the angle lies on the other side, and the wheel is {{.Error}} instead of {{.Now}}."
	mirrorAsk       phrase.Text = "Look for writing in it, or mark the turning direction on the part before you photograph it."
)

// MirrorNotes say of each photograph that an answer stands on how it is known whether it
// is mirrored, and where it is not, what the answer would be if it were. read is the job
// as it is compared, angles the same with an angle for each photograph.
func MirrorNotes(read, angles job.Job) []phrase.Sentence {
	list, open := mirrored(read, angles, ifMirrored)
	if open {
		list = append(list, phrase.Sentence{Text: mirrorAsk})
	}
	return list
}

// MirrorSaid is the same for who reads of the measurement only: a sentence for each
// photograph, and nothing of what to do.
func MirrorSaid(read, angles job.Job) []phrase.Sentence {
	list, _ := mirrored(read, angles, mirroredBrief)
	return list
}

// mirrored says it of each photograph, with other words for one of which it is not known,
// and tells whether there is such a one.
func mirrored(read, angles job.Job, other func(angles job.Job, section, which string, data map[string]any) []phrase.Sentence) (list []phrase.Sentence, open bool) {
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
			list = append(list, other(angles, section, which, data)...)
		}
	}
	return list, open
}

// turned is the job with the angle of one photograph on the other side.
func turned(angles job.Job, section, which string) job.Job {
	other := angles.Clone()
	r := readingIn(&other, section, which)
	if side, ok := timing.ParseSense(r.Side); ok {
		r.Side = side.Other().String()
	}
	return other.AsItIs()
}

// shifted are the wheel's error now and in another job, false where they are as good as
// the same or one is not known.
func shifted(angles, other job.Job) (now, then timing.Deg, ok bool) {
	is, err := WheelErrorOf(angles.AsItIs())
	would, err2 := WheelErrorOf(other)
	return is.Value, would.Value, err == nil && err2 == nil && math.Abs(float64(timing.Difference(is.Value, would.Value, timing.Turn))) > 0.05
}

// mirroredBrief says in one sentence what would be if one photograph were mirrored.
func mirroredBrief(angles job.Job, section, which string, data map[string]any) []phrase.Sentence {
	now, then, ok := shifted(angles, turned(angles, section, which))
	if !ok {
		return []phrase.Sentence{{Text: mirrorOpenAlone, Data: data}}
	}
	data["Error"], data["Now"] = outBy(then), outBy(now)
	return []phrase.Sentence{{Text: mirrorOpenBrief, Data: data}}
}

// ifMirrored says what the answer would be if one photograph were mirrored.
func ifMirrored(angles job.Job, section, which string, data map[string]any) []phrase.Sentence {
	other := turned(angles, section, which)
	p, err := PartOf(other)
	if err != nil || p.Verdict == nil {
		return []phrase.Sentence{{Text: mirrorOpenAlone, Data: data}}
	}
	data["Says"] = p.Says
	list := []phrase.Sentence{{Text: mirrorOpen, Data: data}}
	if now, then, ok := shifted(angles, other); ok {
		list = append(list, phrase.Sentence{Text: mirrorOpenShift, Data: map[string]any{"Error": outBy(then), "Now": outBy(now)}})
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
