package sheet

import (
	"pinphase/timing"
	"pinphase/timing/figure"
	"pinphase/timing/finding"
	"pinphase/timing/job"
	"pinphase/timing/plate"
)

// photoWording are the sentences that name what was measured on a photograph.
type photoWording struct{ of, missing, outside string }

var photoWords = map[string]photoWording{
	"dowel": {
		of:      "The photograph on which the dowel was measured: the points that were marked, the rim fitted to them, and the angle.",
		missing: "The photograph on which the dowel was measured cannot be shown here: {{.Why}}",
		outside: "The photograph on which the dowel was measured cannot be shown here: the points that were marked lie outside it.",
	},
	"keyway": {
		of:      "The photograph on which the keyway was measured: the points that were marked, the rim fitted to them, and the angle.",
		missing: "The photograph on which the keyway was measured cannot be shown here: {{.Why}}",
		outside: "The photograph on which the keyway was measured cannot be shown here: the points that were marked lie outside it.",
	},
}

func photoTexts() []string {
	var list []string
	for _, section := range []string{"dowel", "keyway"} {
		w := photoWords[section]
		list = append(list, w.of, w.missing, w.outside)
	}
	return list
}

// photoBox is the room a photograph gets.
var photoBox = figure.Box{W: Width, H: 330}

// photographs adds the pictures that something was measured on, with what was
// marked in them.
func (m maker) photographs() {
	if m.Picture == nil {
		return
	}
	for _, section := range []string{"dowel", "keyway"} {
		f := map[string]*job.Feature{"dowel": m.Job.Dowel, "keyway": m.Job.Keyway}[section]
		r, ok := m.Photos[section+".measured"]
		if !ok || f == nil || f.Measured == nil {
			continue
		}
		words := photoWords[section]
		img, err := m.Picture(f.Measured.File)
		if err != nil {
			m.add(Paragraph{Text: m.with(words.missing, map[string]any{"Why": err.Error()})})
			continue
		}
		size := img.Bounds().Size()
		d := plate.PhotoFigure(img, size.X, size.Y, finding.MarksOf(*f.Measured), r, photoBox, m.Say)
		if d == nil {
			m.add(Paragraph{Text: m.text(words.outside)})
			continue
		}
		m.add(Figure{Name: "photo", Drawing: *d, Caption: m.text(words.of)})
	}
}

// seenFrom is the end from which the dowel was measured, else the keyway; a part
// is drawn as whoever measured it saw it.
func (m maker) seenFrom() timing.End {
	for _, f := range []*job.Feature{m.Job.Dowel, m.Job.Keyway} {
		if f == nil || f.Measured == nil {
			continue
		}
		end := f.SeenFrom
		if f.Measured.SeenFrom != "" {
			end = f.Measured.SeenFrom
		}
		from, _ := timing.ParseEnd(end) // "" is the nose
		return from
	}
	return timing.Nose
}
