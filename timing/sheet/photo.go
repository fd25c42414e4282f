package sheet

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// photoWording are the sentences that name an angle taken from a photograph.
type photoWording struct{ of, missing, outside phrase.Text }

// photoReadings are the readings that may be of a photograph, by their keys in the
// order of a sheet, with their words.
var photoReadings = []struct {
	section string
	drawing bool
	photoWording
}{
	{"dowel", true, photoWording{
		of:      "The photograph from which the dowel's drawing angle was taken: the points that were marked, the rim fitted to them, and the angle.",
		missing: "The photograph from which the dowel's drawing angle was taken cannot be shown here: {{.Why}}",
		outside: "The photograph from which the dowel's drawing angle was taken cannot be shown here: the points that were marked lie outside it.",
	}},
	{"dowel", false, photoWording{
		of:      "The photograph on which the dowel was measured: the points that were marked, the rim fitted to them, and the angle.",
		missing: "The photograph on which the dowel was measured cannot be shown here: {{.Why}}",
		outside: "The photograph on which the dowel was measured cannot be shown here: the points that were marked lie outside it.",
	}},
	{"keyway", true, photoWording{
		of:      "The photograph from which the keyway's drawing angle was taken: the points that were marked, the rim fitted to them, and the angle.",
		missing: "The photograph from which the keyway's drawing angle was taken cannot be shown here: {{.Why}}",
		outside: "The photograph from which the keyway's drawing angle was taken cannot be shown here: the points that were marked lie outside it.",
	}},
	{"keyway", false, photoWording{
		of:      "The photograph on which the keyway was measured: the points that were marked, the rim fitted to them, and the angle.",
		missing: "The photograph on which the keyway was measured cannot be shown here: {{.Why}}",
		outside: "The photograph on which the keyway was measured cannot be shown here: the points that were marked lie outside it.",
	}},
}

// photoBox is the room a photograph gets.
var photoBox = figure.Box{W: Width, H: 330}

// photographs adds the pictures that an angle was taken from, with what was
// marked in them.
func (m maker) photographs() {
	if m.Picture == nil {
		return
	}
	for _, p := range photoReadings {
		reading, key := readingOf(m.Job, p.section, p.drawing)
		r, ok := m.Photos[key]
		if !ok || reading == nil {
			continue
		}
		img, info, err := m.Picture(reading.File)
		if err != nil {
			m.add(Paragraph{Text: m.with(p.missing, map[string]any{"Why": err})})
			continue
		}
		d := chart.PhotoFigure(img, info.Width, info.Height, finding.MarksOf(*reading), r, photoBox, m.Say)
		if d == nil {
			m.add(Paragraph{Text: m.text(p.outside)})
			continue
		}
		m.add(Figure{Name: "photo", Drawing: *d, Caption: m.text(p.of)})
	}
}

// readingOf is a reading of the job, nil when there is none, and its key.
func readingOf(j job.Job, section string, drawing bool) (r *job.Reading, key string) {
	f, key := j.Dowel, section+".measured"
	if section == "keyway" {
		f = j.Keyway
	}
	if drawing {
		key = section + ".drawing"
	}
	switch {
	case f == nil:
		return nil, key
	case drawing:
		return f.Drawing, key
	}
	return f.Measured, key
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
