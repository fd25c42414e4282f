package sheet

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// The words of how something was measured.
const (
	wordFromNose phrase.Text = "Seen from the nose (front end), where the crankshaft turns {{.Sense}}."
	wordFromFly  phrase.Text = "Seen from the flywheel end, where the crankshaft turns {{.Sense}}."
	wordOnSide   phrase.Text = "The feature is {{.Sense}} of the one it is measured from."
	wordMarks    phrase.Text = "points marked in the photograph"
	wordScatter  phrase.Text = "scatter of the readings"
	wordSeveral  phrase.Text = "{{.Name}}: {{.Says}}"
	wordPoint    phrase.Text = "{{.X}}; {{.Y}}"
)

// nameOf is what a reading is called, by its key in the job file.
func nameOf(key string) phrase.Text {
	if key == part.ReadScatter {
		return wordScatter
	}
	v, _ := job.ValueOf(key)
	return v.Name
}

// measuredFeature is dowel or keyway, with what the job says and what it comes to.
type measuredFeature struct {
	section   string
	name, how phrase.Text
	feature   *job.Feature
	angle     *finding.FeatureAngle
}

// differenceU is the standard uncertainty of measured less drawing: both in
// quadrature (JCGM 100:2008, eq. 10).
func (f measuredFeature) differenceU() float64 {
	u := 0.0
	for _, v := range []*float64{f.angle.DrawingUDeg, f.angle.UDeg} {
		if v != nil {
			u = math.Hypot(u, *v)
		}
	}
	return u
}

func (m maker) features(p finding.Part) []measuredFeature {
	var list []measuredFeature
	for _, f := range []measuredFeature{
		{"dowel", wordDowel, wordHowDowel, m.Job.Dowel, p.Dowel},
		{"keyway", wordKeyway, wordHowKeyway, m.Job.Keyway, p.Keyway},
	} {
		if f.feature != nil && f.angle != nil {
			list = append(list, f)
		}
	}
	return list
}

// measured is what was measured on the crankshaft, how, and how surely.
func (m maker) measured() {
	m.section(wordMeasuring)
	p, err := finding.PartOf(m.Angles)
	if err != nil {
		if m.Job.Dowel == nil && m.Job.Keyway == nil {
			m.add(Paragraph{Text: m.text(wordNothing)})
		} else {
			m.add(Paragraph{Text: m.lacking(err)})
		}
		return
	}
	list := m.features(p)
	m.parts(p.Parts)
	m.angles(list)
	m.figure("part", 270)
	m.photographs()
	for _, f := range list {
		m.how(f)
	}
	m.budget(list)
	m.sentences(wordKnow, p.Notes)
}

// angles is the table of drawing against measured.
func (m maker) angles(list []measuredFeature) {
	t := Table{Columns: []Column{m.column(wordWhat, false), m.column(m.datumHead(), true), m.column(wordMeasured, true), m.column(wordDifference, true),
		m.column(wordU, true), m.column(wordInterval, true)}}
	for _, f := range list {
		row := []string{m.text(f.name), m.maybe(wordDegrees, f.angle.DrawingDeg, 2), m.maybe(wordDegrees, f.angle.MeasuredDeg, 2), m.text(wordUnknown),
			m.maybe(wordDegrees, f.angle.UDeg, 2), m.text(wordUnknown)}
		if f.angle.DrawingDeg != nil && f.angle.MeasuredDeg != nil {
			row[3] = m.num(wordDegrees, apart(*f.angle.DrawingDeg, *f.angle.MeasuredDeg), 2)
		}
		if i := f.angle.Interval95Deg; i != nil {
			row[5] = m.with(wordFromTo, map[string]any{"From": phrase.Num{Value: i[0], Decimals: 2}, "To": phrase.Num{Value: i[1], Decimals: 2}})
		}
		t.Rows = append(t.Rows, row)
	}
	m.add(t, Paragraph{m.text(wordPositive), Small})
}

// how says how a feature was measured, with every reading.
func (m maker) how(f measuredFeature) {
	r := f.feature.Measured
	if r == nil {
		return
	}
	m.within(f.how)
	said := m.method(*r)
	end, seen := f.feature.SeenFrom, wordFromNose
	if r.SeenFrom != "" {
		end = r.SeenFrom
	}
	view := finding.ViewOf(m.Job, end)
	if view.From == timing.Flywheel {
		seen = wordFromFly
	}
	around := m.with(seen, map[string]any{"Sense": view.Rotates().Text()})
	if r.Side != "" {
		around += " " + m.with(wordOnSide, map[string]any{"Sense": timing.SenseText(r.Side)})
	}
	m.add(Paragraph{Text: said + " " + around})
	if pairs := m.readings(*r); len(pairs.Items) > 0 {
		m.add(pairs)
	}
	var repeats []string
	for _, s := range finding.RepeatsOf(m.Job, f.section) {
		repeats = append(repeats, m.with(wordSeveral, map[string]any{"Name": nameOf(s.Key), "Says": m.Say.Sentence(s.Says)}))
	}
	notes := finding.MirrorNotes
	if m.signless {
		notes = finding.MirrorSaid
	}
	for _, s := range notes(m.only(f.section), m.Angles) {
		repeats = append(repeats, m.Say.Sentence(s))
	}
	if p, ok := m.Photos[f.section+".measured"]; ok {
		said := finding.PhotoNotes(p)
		if m.signless { // the rest is for whoever marks the points
			said = said[:1]
		}
		for _, s := range said {
			repeats = append(repeats, m.Say.Sentence(s))
		}
	}
	if len(repeats) > 0 {
		m.add(List{repeats})
	}
}

// only is the job with one of its two sections.
func (m maker) only(section string) job.Job {
	j := m.Job
	if section == "dowel" {
		j.Keyway = nil
	} else {
		j.Dowel = nil
	}
	return j
}

// method says in a sentence what was done.
func (m maker) method(r job.Reading) string {
	done := job.Methods[max(job.MethodOf(&r), 0)].Done
	return m.with(done, map[string]any{"Sense": timing.SenseText(r.Counts), "File": line(r.File)})
}

// readings are the values that were read, as the job has them.
func (m maker) readings(r job.Reading) Pairs {
	p := &pairing{maker: m}
	show := func(v float64, unit phrase.Text) string {
		switch unit {
		case "mm":
			return m.amount(quantity.Length(v, 3))
		case "px":
			return m.num(wordPixels, v, 3)
		}
		return m.num(wordDegrees, v, 3)
	}
	for _, v := range r.Values() {
		switch {
		case v.Name == "" || v.Points != nil && r.Method == "photo":
		case v.Points != nil:
			for _, at := range *v.Points(&r) {
				p.put(v.Name, m.with(wordPoint, map[string]any{"X": phrase.Num{Value: at.X, Decimals: 3}, "Y": phrase.Num{Value: at.Y, Decimals: 3}}))
			}
		default:
			value := show(v.Number(&r).Value, v.Unit)
			if v.Again != nil {
				for _, again := range *v.Again(&r) {
					value += "; " + show(again, v.Unit)
				}
			}
			p.put(v.Name, value)
		}
	}
	return p.list
}

// budget is the table of where the uncertainty comes from.
func (m maker) budget(list []measuredFeature) {
	t := Table{Columns: []Column{m.column(wordWhat, false), m.column(wordReading, false), m.column(wordU, true), m.column(wordMakes, true), m.column(wordShare, true)}}
	for _, f := range list {
		for _, s := range f.angle.Budget {
			u := m.num(wordPlain, s.U, 3)
			switch s.Unit {
			case "mm":
				u = m.amount(quantity.Length(s.U, 3))
			case "deg":
				u = m.num(wordDegrees, s.U, 3)
			}
			reading := nameOf(s.Reading)
			if f.feature.Measured.Method == "photo" { // taken as one angle by now
				reading = wordMarks
			}
			t.Rows = append(t.Rows, []string{m.text(f.name), m.text(reading), u, m.num(wordDegrees, s.ContributionDeg, 3),
				m.num(wordPercent, 100*s.Share, 0)})
		}
	}
	if len(t.Rows) > 1 || len(t.Rows) > 0 && !m.signless { // of one alone it says nothing that is not said
		m.within(wordDoubt)
		m.add(t)
	}
}
