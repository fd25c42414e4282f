package sheet

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// The words of the claim sheet. It says what was measured and what follows, and
// nothing about how it came about.
const (
	wordClaim             phrase.Text = "Measurement report on a part"
	wordFrom              phrase.Text = "Sent by"
	wordDelivered         phrase.Text = "Delivered on"
	wordSignature         phrase.Text = "Place, date and signature"
	wordDifferDowelNose   phrase.Text = "Seen from the nose, the dowel lies {{.Measured}}° {{.MeasuredSide}} of the keyway; it should lie {{.Should}}° {{.ShouldSide}} of it ({{.Datum}}). The difference is {{.Difference}}° ± {{.U}}° (standard uncertainty)."
	wordDifferDowelFly    phrase.Text = "Seen from the flywheel, the dowel lies {{.Measured}}° {{.MeasuredSide}} of the keyway; it should lie {{.Should}}° {{.ShouldSide}} of it ({{.Datum}}). The difference is {{.Difference}}° ± {{.U}}° (standard uncertainty)."
	wordDifferKeywayNose  phrase.Text = "Seen from the nose, the keyway lies {{.Measured}}° {{.MeasuredSide}} of the No. 1 throw; it should lie {{.Should}}° {{.ShouldSide}} of it ({{.Datum}}). The difference is {{.Difference}}° ± {{.U}}° (standard uncertainty)."
	wordDifferKeywayFly   phrase.Text = "Seen from the flywheel, the keyway lies {{.Measured}}° {{.MeasuredSide}} of the No. 1 throw; it should lie {{.Should}}° {{.ShouldSide}} of it ({{.Datum}}). The difference is {{.Difference}}° ± {{.U}}° (standard uncertainty)."
	wordSetAgainst        phrase.Text = "Drawing against measured"
	wordSetBesideOld      phrase.Text = "Compared with the old part"
	wordMeasuredIntervals phrase.Text = "The 95 % intervals of the measured angles are: dowel {{.Dowel}}, keyway {{.Keyway}}."
	wordMeasuredInterval  phrase.Text = "The 95 % interval of the measured angle is {{.Interval}}."
	wordSurely            phrase.Text = "With what uncertainty"
	wordEffect            phrase.Text = "Effect on injection"
	wordGearAhead         phrase.Text = "The keyway lies {{.Error}}° ahead, in the direction of rotation: camshaft and valves are early by as much."
	wordGearBehind        phrase.Text = "The keyway lies {{.Error}}° behind, against the direction of rotation: camshaft and valves are late by as much."
	wordNoEffect          phrase.Text = "Where injection then starts cannot be said: the job does not give the start commanded."
	wordNoJudgement       phrase.Text = "This sheet states what was measured on this part, how, and with what uncertainty. It does not say how the difference came about. The part, the readings and the file that holds them are kept and can be inspected again."
	wordDifferenceSide    phrase.Text = "{{.Size}}° {{.Sense}} of where it should be"
	wordIntervalSide      phrase.Text = "{{.From}}° to {{.To}}° {{.Sense}}"
	wordIntervalSides     phrase.Text = "{{.From}}° {{.FromSense}} to {{.To}}° {{.ToSense}}"
	wordSeenNose          phrase.Text = "Angles are as seen from the nose. ± is one standard uncertainty (JCGM 100:2008); the 95 % interval contains the true angle in 95 % of such measurements."
	wordSeenFly           phrase.Text = "Angles are as seen from the flywheel. ± is one standard uncertainty (JCGM 100:2008); the 95 % interval contains the true angle in 95 % of such measurements."
	wordProbabilities     phrase.Text = "By these readings the part is: as drawn {{.Drawn}}, mirrored {{.Mirrored}}, keyway wrong {{.Keyway}}, another difference {{.Other}}."
	wordClaimPartTitle    phrase.Text = "The part"
)

// ClaimSheet writes down for a supplier what was measured on a part, beside the
// drawing. It needs a dowel or keyway with both; its error is [job.Faults].
func ClaimSheet(in Input) (Document, error) {
	m := newMaker(in, wordClaim)
	m.signless = true
	p, err := finding.PartOf(m.Angles)
	if err != nil {
		return Document{}, err
	}
	m.places = placesOf(p)
	var list []measuredFeature
	for _, f := range m.features(p) {
		if f.angle.DrawingDeg != nil && f.angle.MeasuredDeg != nil {
			list = append(list, f)
		}
	}
	if len(list) == 0 {
		return Document{}, m.unclaimable()
	}
	m.letterhead()
	m.add(Heading{m.doc.Kind, 1}, Paragraph{Text: m.doc.Title})
	names := []phrase.Text{wordSupplier, wordOrderNumber, wordPartNumber, wordPartSerial, wordDelivered}
	if line(m.Shop.Name) == "" { // else it stands above
		names = append([]phrase.Text{wordFrom}, names...)
	}
	m.identify(wordClaimPartTitle, names...)
	if m.Job.MeasuredDatum() != nil {
		m.section(wordSetBesideOld)
	} else {
		m.section(wordSetAgainst)
	}
	m.differences(list)
	if len(p.Parts) > 0 { // with what each has: no angle stands twice
		m.partsTable(p.Parts, m.intervals(list))
	} else {
		m.sides(list)
	}
	if !m.photographs() { // old beside new on photographs shows all that the drawing does
		m.figure("part", claimPart)
	}
	for _, f := range list {
		m.how(f)
	}
	m.section(wordSurely)
	m.surely(p, list)
	m.effect()
	m.whatNow(true)
	end := maker{Input: m.Input, doc: &Document{}}
	if says := m.text(wordNoJudgement); !end.code(says) {
		end.add(Paragraph{Text: says})
	}
	end.add(Blanks{[]string{m.text(wordSignature)}})
	m.add(Group{end.doc.Blocks})
	return *m.doc, nil
}

// claimPart is the height of a claim's figure of the part, in points.
const claimPart = 210

// unclaimable says what a claim needs and the job lacks.
func (m maker) unclaimable() error {
	section, f := "dowel", m.Job.Dowel
	if f == nil {
		section, f = "keyway", m.Job.Keyway
	}
	key, what := section+".measured", "is missing: a claim sets what was measured against the drawing"
	if f.Measured != nil {
		key = section + ".drawing"
	}
	return job.Faults{{Key: key, Message: what}}
}

// differences say for each feature how far it lies from the drawing.
func (m maker) differences(list []measuredFeature) {
	for i, f := range list {
		text, style := wordDifferDowelNose, Body
		switch fly := m.seenFrom() == timing.Flywheel; {
		case f.section == "keyway" && fly:
			text = wordDifferKeywayFly
		case f.section == "keyway":
			text = wordDifferKeywayNose
		case fly:
			text = wordDifferDowelFly
		}
		if i == 0 {
			style = Lead
		}
		is, side := m.seen(*f.angle.MeasuredDeg)
		should, shouldSide := m.seen(*f.angle.DrawingDeg)
		m.add(Paragraph{m.with(text, map[string]any{"Measured": is, "MeasuredSide": side, "Should": should, "ShouldSide": shouldSide, "Datum": m.datum(f.section),
			"Difference": m.fine(math.Abs(apart(*f.angle.DrawingDeg, *f.angle.MeasuredDeg))), "U": m.doubt(f.differenceU())}), style})
	}
}

// surely is the verdict with its probabilities, and the budget of uncertainty.
func (m maker) surely(p finding.Part, list []measuredFeature) {
	if v := p.Verdict; v != nil {
		m.add(Paragraph{Text: m.with(wordProbabilities, map[string]any{"Drawn": m.percent(v.AsDrawn), "Mirrored": m.percent(v.Mirrored),
			"Keyway": m.percent(v.KeywayWrong), "Other": m.percent(v.OtherError)})})
	}
	m.budget(list)
	var facts []phrase.Sentence
	for _, f := range p.Facts {
		if !finding.SaysWheelError(f) { // the difference is said above, without a sign
			facts = append(facts, f)
		}
	}
	m.sentences(wordKnow, facts)
}

// sides is the table of drawing against measured as the part is seen: which way an angle
// leads is said, and never left to a sign.
func (m maker) sides(list []measuredFeature) {
	t := Table{Columns: []Column{m.column(wordWhat, false), m.column(m.datumHead(), true), m.column(wordMeasured, true), m.column(wordDifference, true),
		m.column(wordU, true), m.column(wordInterval, true)}}
	one := func(deg float64) string {
		size, sense := m.seen(deg)
		return m.with(wordSideBare, map[string]any{"Size": size, "Sense": sense})
	}
	for _, f := range list {
		size, sense := m.seen(apart(*f.angle.DrawingDeg, *f.angle.MeasuredDeg))
		difference := m.with(wordDifferenceSide, map[string]any{"Size": size, "Sense": sense})
		if size.String() == "0" {
			difference = m.num(wordDegrees, 0, 0)
		}
		t.Rows = append(t.Rows, []string{m.text(f.name), one(*f.angle.DrawingDeg), one(*f.angle.MeasuredDeg), difference, m.doubted(f.angle.UDeg), m.interval(f)})
	}
	about := wordSeenNose
	if m.seenFrom() == timing.Flywheel {
		about = wordSeenFly
	}
	m.add(t, Paragraph{m.text(about), Small})
}

// interval is a measured angle's 95 % interval, with the sides on which it is seen.
func (m maker) interval(f measuredFeature) string {
	i := f.angle.Interval95Deg
	if i == nil {
		return m.text(wordUnknown)
	}
	lo, from := m.seen(i[0])
	hi, to := m.seen(i[1])
	if from != to {
		return m.with(wordIntervalSides, map[string]any{"From": lo, "FromSense": from, "To": hi, "ToSense": to})
	}
	if lo.Value > hi.Value {
		lo, hi = hi, lo
	}
	return m.with(wordIntervalSide, map[string]any{"From": lo, "To": hi, "Sense": from})
}

// intervals say in a sentence where the measured angles lie.
func (m maker) intervals(list []measuredFeature) string {
	var where []string
	for _, f := range list {
		if f.angle.Interval95Deg != nil {
			where = append(where, m.interval(f))
		}
	}
	switch len(where) {
	case 0:
		return ""
	case 1:
		return m.with(wordMeasuredInterval, map[string]any{"Interval": where[0]})
	}
	return m.with(wordMeasuredIntervals, map[string]any{"Dowel": where[0], "Keyway": where[1]})
}

// claimRow is by how much a cylinder's row is lower on a claim than on a job sheet, in
// points, so that a claim about an engine in line goes onto two pages.
const claimRow = 5

// effect is what the part does to injection and valves.
func (m maker) effect() {
	m.section(wordEffect)
	s, err := finding.ShiftOf(m.Angles)
	if err != nil {
		m.add(Paragraph{Text: m.text(wordNoEffect)})
		return
	}
	m.add(Paragraph{Text: m.Say.Sentence(s.Says)})
	if g := (phrase.Num{Value: math.Abs(s.GearErrorDeg), Decimals: 2}); g.String() != "0" {
		text := wordGearAhead
		if s.GearErrorDeg < 0 {
			text = wordGearBehind
		}
		m.add(Paragraph{Text: m.with(text, map[string]any{"Error": g})})
	}
	m.figure("cycle", m.cycleHeight()-claimRow*float64(len(m.Job.Engine.FiringOrder)))
}
