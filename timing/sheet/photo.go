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

// photoBox is the room a photograph gets, and halfBox that of two beside each other.
var (
	photoBox = figure.Box{W: Width, H: 330}
	halfBox  = figure.Box{W: (Width - photoGap) / 2, H: 200}
)

const photoGap = 11.0

// beside are what is said below the photographs of the two parts that are compared, and
// besideAngles what they show, by the end that the sheet is seen from.
var (
	beside = map[string]phrase.Text{
		"dowel":  "At the left the photograph from which the angle that should be was taken, at the right the one on which the dowel was measured.",
		"keyway": "At the left the photograph from which the angle that should be was taken, at the right the one on which the keyway was measured.",
	}
	besideAngles = map[timing.End]phrase.Text{
		timing.Nose:     "They show {{.Should}} and {{.Is}}, seen from the nose.",
		timing.Flywheel: "They show {{.Should}} and {{.Is}}, seen from the flywheel.",
	}
)

// photographs adds the pictures that an angle was taken from, with what was
// marked in them: of a section that has two, old beside new, and it tells whether there
// are such.
func (m maker) photographs() (pair bool) {
	if m.Picture == nil {
		return false
	}
	for i := 0; i < len(photoReadings); i += 2 {
		drawing, measured := photoReadings[i], photoReadings[i+1]
		if m.isPhoto(drawing.section, true) && m.isPhoto(measured.section, false) {
			left, _ := m.photograph(drawing.section, true, halfBox)
			right, _ := m.photograph(measured.section, false, halfBox)
			if left != nil && right != nil {
				m.add(Figure{Name: "photo", Drawing: figure.Beside(*left, *right, photoGap), Caption: m.besideWords(drawing.section)})
				pair = true
				continue
			}
		}
		for _, p := range photoReadings[i : i+2] {
			if !m.isPhoto(p.section, p.drawing) {
				continue
			}
			switch d, err := m.photograph(p.section, p.drawing, photoBox); {
			case err != nil:
				m.add(Paragraph{Text: m.with(p.missing, map[string]any{"Why": err})})
			case d == nil:
				m.add(Paragraph{Text: m.text(p.outside)})
			default:
				m.add(Figure{Name: "photo", Drawing: *d, Caption: m.text(p.of)})
			}
		}
	}
	return pair
}

// besideWords are the words below two photographs: what each shows, and the angles as
// they are seen from the end that the sheet is, where both can be measured.
func (m maker) besideWords(section string) string {
	words := m.text(beside[section])
	should, ok := m.besideAngle(section, true)
	is, both := m.besideAngle(section, false)
	if !ok || !both {
		return words
	}
	return words + " " + m.with(besideAngles[m.seenFrom()], map[string]any{"Should": should, "Is": is})
}

// besideAngle is the angle that a photograph shows, false where it cannot be measured.
func (m maker) besideAngle(section string, drawing bool) (phrase.Sentence, bool) {
	reading, _ := readingOf(m.Angles, section, drawing)
	if reading == nil {
		return phrase.Sentence{}, false
	}
	f := m.Angles.Dowel
	if section == "keyway" {
		f = m.Angles.Keyway
	}
	r, err := reading.As(section, drawing).Measure(finding.ViewOf(m.Job, endIn(f, reading)))
	if err != nil {
		return phrase.Sentence{}, false
	}
	return finding.SeenAngle(m.Job, m.seenFrom().String(), float64(r.Value)), true
}

// endIn is the end that a reading of a feature was seen from.
func endIn(f *job.Feature, r *job.Reading) string {
	if r.SeenFrom != "" {
		return r.SeenFrom
	}
	return f.SeenFrom
}

// isPhoto tells whether a reading's angle was taken from a photograph.
func (m maker) isPhoto(section string, drawing bool) bool {
	reading, key := readingOf(m.Job, section, drawing)
	_, ok := m.Photos[key]
	return ok && reading != nil
}

// photograph is a reading's photograph with what was marked in it, nil where what was
// marked lies outside it.
func (m maker) photograph(section string, drawing bool, box figure.Box) (*figure.Drawing, error) {
	reading, key := readingOf(m.Job, section, drawing)
	img, info, err := m.Picture(reading.File)
	if err != nil {
		return nil, err
	}
	return chart.PhotoFigure(img, info.Width, info.Height, finding.MarksOf(*reading), m.Photos[key], box, m.Say), nil
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
