package sheet

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// The words of the sheet that signs a repair off.
const (
	wordSignOff      phrase.Text = "Sign-off after a repair"
	wordSignBeside   phrase.Text = "Before and after"
	wordSignValue    phrase.Text = "value"
	wordSignBefore   phrase.Text = "before the repair"
	wordSignAfter    phrase.Text = "after the repair"
	wordSignShould   phrase.Text = "should be"
	wordSignWheel    phrase.Text = "wheel error"
	wordSignStart    phrase.Text = "start of injection, cylinder 1"
	wordSignRight    phrase.Text = "After the repair the wheel error is {{.Error}} (standard uncertainty): these readings cannot tell it from 0."
	wordSignWrong    phrase.Text = "After the repair the wheel error is {{.Error}} (standard uncertainty): it is not 0, and the repair is not proven."
	wordSignNone     phrase.Text = "{{.Size}}° ± {{.U}}°"
	wordSignAhead    phrase.Text = "{{.Size}}° ± {{.U}}° ahead"
	wordSignBehind   phrase.Text = "{{.Size}}° ± {{.U}}° behind"
	wordSignOpen     phrase.Text = "What was not checked"
	wordOpenKeyway   phrase.Text = "The keyway from the No. 1 throw after the repair: it is taken as drawn."
	wordOpenTrace    phrase.Text = "Recording of the crankshaft and camshaft sensors after the repair: none is in the job."
	wordOpenTDC      phrase.Text = "True top dead centre of the running engine: not found, or not entered in the job."
	wordOpenMirror   phrase.Text = "Whether a photograph that was measured is mirrored."
	wordOpenEngine   phrase.Text = "How the engine runs: this sheet is about angles on the crankshaft."
	wordSignNeeds    phrase.Text = "is missing: the sheet sets the part in the engine beside one with use = %q"
	wordSignName     phrase.Text = "Name, place, date and signature"
	wordSignCustomer phrase.Text = "Customer's signature"
)

// SignOff sets what is in the engine now beside what was in it before the repair, each
// against the datum, for a signature. It needs both; its error is [job.Faults].
func SignOff(in Input) (Document, error) {
	m := newMaker(in, wordSignOff)
	m.signless = true
	was, ok := m.Angles.ComparedBefore()
	if !ok || m.Angles.PartFor(job.UseEngine) < 0 {
		use := job.UseBefore
		if ok {
			use = job.UseEngine
		}
		says := phrase.Of(wordSignNeeds, use)
		return Document{}, job.Faults{{Key: "part", Message: says.String(), Says: says}}
	}
	before, err := finding.PartOf(was)
	if err != nil {
		return Document{}, err
	}
	after, err := finding.PartOf(m.Angles)
	if err != nil {
		return Document{}, err
	}
	errorWas, err := finding.WheelErrorOf(was)
	if err != nil {
		return Document{}, err
	}
	errorIs, err := finding.WheelErrorOf(m.Angles)
	if err != nil {
		return Document{}, err
	}
	m.places = max(placesOf(before), placesOf(after))
	m.letterhead()
	m.add(Heading{m.doc.Kind, 1}, Paragraph{Text: m.doc.Title})
	m.identify(wordCaseTitle, wordCustomer, wordMachine, wordEngineSerial, wordHours)
	data := map[string]any{"Error": m.wayOff(errorIs.Value, errorIs.U)}
	says := wordSignRight
	if off, err := finding.OffMark(m.Angles); err == nil && off {
		says = wordSignWrong
	}
	m.add(Paragraph{m.with(says, data), Lead})
	m.section(wordSignBeside)
	t := Table{Columns: []Column{m.column(wordSignValue, false), m.column(wordSignShould, true), m.column(wordSignBefore, true), m.column(wordSignAfter, true)}}
	t.Rows = m.compared()
	for _, f := range []struct {
		name          phrase.Text
		before, after *finding.FeatureAngle
	}{{wordDowel, before.Dowel, after.Dowel}, {wordKeyway, before.Keyway, after.Keyway}} {
		if f.before == nil && f.after == nil {
			continue
		}
		one := func(a *finding.FeatureAngle) string {
			if a == nil {
				return m.text(wordUnknown)
			}
			return m.sided(a.MeasuredDeg, a.UDeg)
		}
		should := m.text(wordUnknown)
		if f.after != nil {
			should = m.sided(f.after.DrawingDeg, f.after.DrawingUDeg)
		}
		t.Rows = append(t.Rows, []string{m.text(f.name), should, one(f.before), one(f.after)})
	}
	t.Rows = append(t.Rows, []string{m.text(wordSignWheel), m.num(wordDegrees, 0, 0), m.Say.Sentence(m.wayOff(errorWas.Value, errorWas.U)), m.Say.Sentence(m.wayOff(errorIs.Value, errorIs.U))})
	if s, err := finding.ShiftOf(m.Angles); err == nil && len(s.Injections) > 0 {
		if w, err := finding.ShiftOf(was); err == nil {
			t.Rows = append(t.Rows, []string{m.text(wordSignStart), m.Say.BTDC(s.Injections[0].CommandedBTDCDeg), m.Say.BTDC(w.Injections[0].ActualBTDCDeg), m.Say.BTDC(s.Injections[0].ActualBTDCDeg)})
		}
	}
	about := wordPartsNose
	if m.seenFrom() == timing.Flywheel {
		about = wordPartsFly
	}
	m.add(t, Paragraph{m.text(about), Small})
	m.figure("part", signPart)
	for _, f := range m.features(after) {
		m.how(f)
	}
	m.tdcs()
	m.section(wordSignOpen)
	m.add(m.unchecked())
	m.add(Blanks{[]string{m.text(wordSignName), m.text(wordSignCustomer)}})
	return *m.doc, nil
}

// signPart is the height of a sign-off's figure of the part, in points.
const signPart = 190

// compared are the rows that name what is set side by side, and when it was measured.
func (m maker) compared() [][]string {
	names, days := []string{m.text(wordPartName)}, []string{m.text(wordPartDated)}
	for _, use := range []string{job.UseDatum, job.UseBefore, job.UseEngine} {
		name, day := m.text(wordDatumDrawing), m.text(wordUnknown)
		if i := m.Job.PartFor(use); i >= 0 {
			p := m.Job.Parts[i]
			if use != job.UseDatum || m.Job.MeasuredDatum() != nil {
				name = line(p.Name)
			}
			day = m.day(p.Dated)
		}
		names, days = append(names, name), append(days, day)
	}
	return [][]string{names, days}
}

// wayOff is an error of the sensor wheel with its uncertainty, and which way it lies.
func (m maker) wayOff(off, u timing.Deg) phrase.Sentence {
	size := m.fine(math.Abs(float64(off)))
	text := wordSignAhead
	switch {
	case size.String() == "0":
		text = wordSignNone
	case off < 0:
		text = wordSignBehind
	}
	return phrase.Sentence{Text: text, Data: map[string]any{"Size": size, "U": m.doubt(float64(u))}}
}

// unchecked is what the job says nothing of.
func (m maker) unchecked() List {
	var l List
	add := func(when bool, text phrase.Text) {
		if when {
			l.Items = append(l.Items, m.text(text))
		}
	}
	recorded := false
	for _, e := range m.Job.Evidence {
		recorded = recorded || e.Kind == "correlation_error_deg" || e.Kind == "tdc_offset_deg"
	}
	add(m.Job.Keyway == nil || m.Job.Keyway.Measured == nil, wordOpenKeyway)
	add(!recorded, wordOpenTrace)
	add(len(m.Job.TDC) == 0, wordOpenTDC)
	open := false
	m.Job.EachReading(func(_ string, r *job.Reading) { open = open || r.Method == "photo" && r.Mirror == "" })
	add(open, wordOpenMirror)
	add(true, wordOpenEngine)
	return l
}
