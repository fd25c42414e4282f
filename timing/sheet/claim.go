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
	wordClaim            phrase.Text = "Measurement report on a part"
	wordFrom             phrase.Text = "Sent by"
	wordDelivered        phrase.Text = "Delivered on"
	wordSignature        phrase.Text = "Place, date and signature"
	wordDifferDowelNose  phrase.Text = "Seen from the nose, the dowel lies {{.Measured}}° {{.MeasuredSide}} of the keyway; it should lie {{.Should}}° {{.ShouldSide}} of it ({{.Datum}}). The difference is {{.Difference}}° ± {{.U}}° (standard uncertainty)."
	wordDifferDowelFly   phrase.Text = "Seen from the flywheel, the dowel lies {{.Measured}}° {{.MeasuredSide}} of the keyway; it should lie {{.Should}}° {{.ShouldSide}} of it ({{.Datum}}). The difference is {{.Difference}}° ± {{.U}}° (standard uncertainty)."
	wordDifferKeywayNose phrase.Text = "Seen from the nose, the keyway lies {{.Measured}}° {{.MeasuredSide}} of the No. 1 throw; it should lie {{.Should}}° {{.ShouldSide}} of it ({{.Datum}}). The difference is {{.Difference}}° ± {{.U}}° (standard uncertainty)."
	wordDifferKeywayFly  phrase.Text = "Seen from the flywheel, the keyway lies {{.Measured}}° {{.MeasuredSide}} of the No. 1 throw; it should lie {{.Should}}° {{.ShouldSide}} of it ({{.Datum}}). The difference is {{.Difference}}° ± {{.U}}° (standard uncertainty)."
	wordSetAgainst       phrase.Text = "Drawing against measured"
	wordSurely           phrase.Text = "With what uncertainty"
	wordEffect           phrase.Text = "Effect on injection"
	wordEffectSame       phrase.Text = "The same holds for every cylinder: commanded at {{.Asked}}, injection starts at {{.Happens}}."
	wordEffectGear       phrase.Text = "The gear error from the keyway is {{.Error}}°: camshaft and valves are out by as much."
	wordNoEffect         phrase.Text = "Where injection then starts cannot be said: the job does not give the start commanded."
	wordNoJudgement      phrase.Text = "This sheet states what was measured on this part, how, and with what uncertainty. It does not say how the difference came about. The part, the readings and the file that holds them are kept and can be inspected again."
	wordProbabilities    phrase.Text = "By these readings the part is: as drawn {{.Drawn}}, mirrored {{.Mirrored}}, keyway wrong {{.Keyway}}, another difference {{.Other}}."
	wordClaimPartTitle   phrase.Text = "The part"
)

// ClaimSheet writes down for a supplier what was measured on a part, beside the
// drawing. It needs a dowel or keyway with both; its error is [job.Faults].
func ClaimSheet(in Input) (Document, error) {
	m := newMaker(in, wordClaim)
	p, err := finding.PartOf(m.Angles)
	if err != nil {
		return Document{}, err
	}
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
	m.section(wordSetAgainst)
	m.differences(list)
	m.parts(p.Parts)
	m.angles(list)
	m.figure("part", 270)
	m.photographs()
	for _, f := range list {
		m.how(f)
	}
	m.section(wordSurely)
	m.surely(p, list)
	m.effect()
	m.whatNow(true)
	m.add(Paragraph{Text: m.text(wordNoJudgement)}, Blanks{[]string{m.text(wordSignature)}})
	return *m.doc, nil
}

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
			"Difference": phrase.Num{Value: math.Abs(apart(*f.angle.DrawingDeg, *f.angle.MeasuredDeg)), Decimals: 2}, "U": phrase.Num{Value: f.differenceU(), Decimals: 2}}), style})
	}
}

// surely is the verdict with its probabilities, and the budget of uncertainty.
func (m maker) surely(p finding.Part, list []measuredFeature) {
	if v := p.Verdict; v != nil {
		m.add(Paragraph{Text: m.with(wordProbabilities, map[string]any{"Drawn": m.percent(v.AsDrawn), "Mirrored": m.percent(v.Mirrored),
			"Keyway": m.percent(v.KeywayWrong), "Other": m.percent(v.OtherError)})})
	}
	m.budget(list)
	m.sentences(wordKnow, p.Facts)
}

// effect is what the part does to injection and valves.
func (m maker) effect() {
	m.section(wordEffect)
	s, err := finding.ShiftOf(m.Angles)
	if err != nil {
		m.add(Paragraph{Text: m.text(wordNoEffect)})
		return
	}
	m.add(Paragraph{Text: m.Say.Sentence(s.Says)})
	if len(s.Injections) > 1 {
		i := s.Injections[0]
		m.add(Paragraph{Text: m.with(wordEffectSame, map[string]any{"Asked": m.Say.BTDC(i.CommandedBTDCDeg), "Happens": m.Say.BTDC(i.ActualBTDCDeg)})})
	}
	if g := (phrase.Num{Value: s.GearErrorDeg, Decimals: 2}); g.String() != "0" {
		m.add(Paragraph{Text: m.with(wordEffectGear, map[string]any{"Error": g})})
	}
	m.figure("cycle", m.cycleHeight())
	m.sentences(wordReached, s.Steps)
}
