package sheet

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// The words of how something was measured.
const (
	wordByAngle   phrase.Text = "The angle was read off directly."
	wordByWheel   phrase.Text = "A degree wheel fixed to the shaft was read at both features; its numbers grow {{.Sense}}."
	wordByChord   phrase.Text = "The straight distance from centre to centre was measured, with both radii."
	wordByOutside phrase.Text = "The distance was measured with a caliper over the far sides of pin and key, and the centre distance worked out from their sizes."
	wordByInside  phrase.Text = "The distance was measured with a caliper between the near sides of pin and key, and the centre distance worked out from their sizes."
	wordByOutEdge phrase.Text = "The distance was measured with a caliper over the far side of the pin and the far edge of the empty keyway, and the centre distance worked out from their sizes."
	wordByInEdge  phrase.Text = "The distance was measured with a caliper between the near side of the pin and the near edge of the empty keyway, and the centre distance worked out from their sizes."
	wordByArc     phrase.Text = "The length along a rim was measured with a tape."
	wordByXY      phrase.Text = "The places of centre and features were measured as coordinates."
	wordByPhoto   phrase.Text = "Points were marked on a photograph of the shaft's end, {{.File}}, and the angle was worked out from them with the tilt of the camera taken out."
	wordFromNose  phrase.Text = "Looked at from the nose, where the crankshaft turns {{.Sense}}."
	wordFromFly   phrase.Text = "Looked at from the flywheel, where the crankshaft turns {{.Sense}}."
	wordOnSide    phrase.Text = "The feature was seen to lie {{.Sense}} of the one it is measured from."
	wordUGiven    phrase.Text = "standard uncertainty given"
	wordMarks     phrase.Text = "points marked in the photograph"
	wordScatter   phrase.Text = "scatter of the readings"
	wordSeveral   phrase.Text = "{{.Name}}: {{.Says}}"
	wordPoint     phrase.Text = "{{.X}}; {{.Y}}"
)

// quantities name the readings, by their keys in the job file.
var quantities = map[string]phrase.Text{
	"angle_deg": "angle", "throw_deg": "degree wheel at the No. 1 throw", "keyway_deg": "degree wheel at the keyway",
	"dowel_deg": "degree wheel at the dowel", "chord_mm": "distance across", "pin_mm": "diameter of the pin", "key_mm": "width of the key",
	"dowel_radius_mm": "radius of the dowel", "throw_radius_mm": "radius of the throw", "keyway_radius_mm": "radius of the keyway",
	"arc_mm": "length along the rim", "rim_radius_mm": "radius of the rim", "centre": "coordinates of the centre",
	"keyway": "coordinates of the keyway", "dowel": "coordinates of the dowel", "throw": "coordinates of the throw",
	"scatter": wordScatter,
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
	t := Table{Columns: []Column{m.column(wordWhat, false), m.column(wordDrawing, true), m.column(wordMeasured, true), m.column(wordDifference, true),
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
	m.add(Paragraph{Text: m.method(*r)})
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
	m.add(Paragraph{Text: around})
	if pairs := m.readings(*r); len(pairs.Items) > 0 {
		m.add(pairs)
	}
	var repeats []string
	for _, s := range finding.RepeatsOf(m.Job, f.section) {
		repeats = append(repeats, m.with(wordSeveral, map[string]any{"Name": quantities[s.Key], "Says": m.Say.Sentence(s.Says)}))
	}
	if p, ok := m.Photos[f.section+".measured"]; ok {
		for _, s := range finding.PhotoNotes(p) {
			repeats = append(repeats, m.Say.Sentence(s))
		}
	}
	if len(repeats) > 0 {
		m.add(List{repeats})
	}
}

// method says in a sentence what was done.
func (m maker) method(r job.Reading) string {
	switch r.Method {
	case "degree_wheel":
		return m.with(wordByWheel, map[string]any{"Sense": timing.SenseText(r.Counts)})
	case "arc":
		return m.text(wordByArc)
	case "xy":
		return m.text(wordByXY)
	case "photo":
		return m.with(wordByPhoto, map[string]any{"File": line(r.File)})
	case "chord":
		return m.text(map[[2]string]phrase.Text{
			{"outside", ""}: wordByOutside, {"outside", "key"}: wordByOutside, {"outside", "keyway"}: wordByOutEdge,
			{"inside", ""}: wordByInside, {"inside", "key"}: wordByInside, {"inside", "keyway"}: wordByInEdge,
			{"", ""}: wordByChord, {"centres", ""}: wordByChord,
		}[[2]string{r.Over, r.On}])
	}
	return m.text(wordByAngle)
}

// readings are the values that were read, as the job has them.
func (m maker) readings(r job.Reading) Pairs {
	p := &pairing{maker: m}
	several := func(key string, show func(float64) string, first job.Number, again []float64) {
		if !first.Given {
			return
		}
		value := show(first.Value)
		for _, v := range again {
			value += "; " + show(v)
		}
		p.put(quantities[key], value)
	}
	degrees := func(v float64) string { return m.num(wordDegrees, v, 3) }
	length := func(v float64) string { return m.amount(quantity.Length(v, 3)) }
	several("angle_deg", degrees, r.AngleDeg, r.AngleAgainDeg)
	several("throw_deg", degrees, r.ThrowDeg, r.ThrowAgainDeg)
	several("keyway_deg", degrees, r.KeywayDeg, r.KeywayAgainDeg)
	several("dowel_deg", degrees, r.DowelDeg, r.DowelAgainDeg)
	several("chord_mm", length, r.ChordMM, r.ChordAgainMM)
	several("pin_mm", length, r.PinMM, nil)
	several("key_mm", length, r.KeyMM, nil)
	several("dowel_radius_mm", length, r.DowelRadiusMM, nil)
	several("throw_radius_mm", length, r.ThrowRadiusMM, nil)
	several("keyway_radius_mm", length, r.KeywayRadiusMM, nil)
	several("arc_mm", length, r.ArcMM, r.ArcAgainMM)
	several("rim_radius_mm", length, r.RimRadiusMM, nil)
	if r.Method == "xy" {
		for _, c := range []struct {
			key    string
			points []job.Point
		}{{"centre", r.Centre}, {"keyway", r.Keyway}, {"dowel", r.Dowel}, {"throw", r.Throw}} {
			for _, at := range c.points {
				p.put(quantities[c.key], m.with(wordPoint, map[string]any{"X": phrase.Num{Value: at.X, Decimals: 3}, "Y": phrase.Num{Value: at.Y, Decimals: 3}}))
			}
		}
	}
	p.number(wordUGiven, wordDegrees, r.UDeg)
	p.amount(wordUGiven, quantity.Length, r.UMM)
	p.number(wordUGiven, wordPixels, r.UPx)
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
			reading := quantities[s.Reading]
			if f.feature.Measured.Method == "photo" { // taken as one angle by now
				reading = wordMarks
			}
			t.Rows = append(t.Rows, []string{m.text(f.name), m.text(reading), u, m.num(wordDegrees, s.ContributionDeg, 3),
				m.num(wordPercent, 100*s.Share, 0)})
		}
	}
	if len(t.Rows) > 0 {
		m.within(wordDoubt)
		m.add(t)
	}
}
