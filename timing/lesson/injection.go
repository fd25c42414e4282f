package lesson

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

const (
	injectionAsk      phrase.Text = "Where does injection start, and on which stroke?"
	injectionPart     phrase.Text = "Degrees before or after firing TDC"
	injectionAsked    phrase.Text = "The ECU (engine control unit) commands injection {{.At}}° before TDC."
	injectionAhead    phrase.Text = "The sensor wheel is {{.By}}° ahead of its place, in the direction of rotation."
	injectionBehind   phrase.Text = "The sensor wheel is {{.By}}° behind its place, against the direction of rotation."
	injectionDowel    phrase.Text = "Seen from the nose, the drawing has the dowel {{.Drawing}}° {{.DrawingSide}} of the keyway; it was measured {{.Measured}}° {{.MeasuredSide}} of it."
	injectionDowelFly phrase.Text = "Seen from the flywheel, the drawing has the dowel {{.Drawing}}° {{.DrawingSide}} of the keyway; it was measured {{.Measured}}° {{.MeasuredSide}} of it."
	injectionKeyway   phrase.Text = "Seen from the nose, the drawing has the keyway {{.Drawing}}° {{.DrawingSide}} of the No. 1 throw; it was measured {{.Measured}}° {{.MeasuredSide}} of it."
	injectionKeyFly   phrase.Text = "Seen from the flywheel, the drawing has the keyway {{.Drawing}}° {{.DrawingSide}} of the No. 1 throw; it was measured {{.Measured}}° {{.MeasuredSide}} of it."
	injectionNoKey    phrase.Text = "The keyway is correct."
	injectionTurns    phrase.Text = "Seen from the nose the crankshaft turns {{.Sense}}, so {{.Sense}} counts positive here."
	injectionTurnsFly phrase.Text = "Seen from the flywheel the crankshaft turns {{.Sense}}, so {{.Sense}} counts positive here."
)

// askInjection asks where injection lands with a wheel that is off: said outright
// on level 1, by a dowel beside its place on level 2, on either side of the keyway
// on level 3, seen from either end on level 4, with the keyway off too on level 5.
func askInjection(m *maker) (Question, bool) {
	from := m.spoil()
	s, err := finding.ShiftOf(m.job)
	if err != nil {
		return Question{}, false
	}
	first := s.Injections[0]
	actual := timing.Deg(first.ActualBTDCDeg)
	if size(actual) < 2 || size(actual) > 115 || size(timing.Deg(s.WheelErrorDeg)) < 1 {
		return Question{}, false
	}
	q := Question{Ask: say(injectionAsk, nil)}
	asked := say(injectionAsked, map[string]any{"At": deg(timing.Deg(first.CommandedBTDCDeg))})
	if m.level == 1 {
		q.Given = []phrase.Sentence{m.strokesOnly(), offBy(timing.Deg(s.WheelErrorDeg)), asked}
		q.Steps = s.Steps[len(s.Steps)-2:]
		q.After = &Figure{Name: "cycle", At: timing.Deg(first.ActualCrankDeg), Cylinder: 1}
	} else {
		q.Given = append(append([]phrase.Sentence{m.strokesOnly(), m.rotation()}, m.spoiled(from)...), asked)
		q.Steps = append([]phrase.Sentence{m.counts(from)}, s.Steps...)
		q.After = &Figure{Name: "wheel", At: timing.Deg(first.ActualCrankDeg), From: from}
	}
	alpha := m.engine.Angle(1, timing.Deg(first.ActualCrankDeg))
	q.Steps = append(append([]phrase.Sentence(nil), q.Steps...), m.strokeStep(alpha))
	q.Parts = []Part{
		{Ask: say(injectionPart, nil), Form: Number, Value: float64(actual), Tolerance: 0.5, Decimals: 2, Unit: Degrees, Sides: BeforeAfter},
		m.strokePart(alpha),
	}
	return q, true
}

const (
	strokesFour phrase.Text = "A four-stroke."
	strokesTwo  phrase.Text = "A two-stroke."
)

// strokesOnly says what the engine is, where the order of firing does not matter.
func (m *maker) strokesOnly() phrase.Sentence {
	if m.engine.Strokes() == 2 {
		return say(strokesTwo, nil)
	}
	return say(strokesFour, nil)
}

// offBy says how far the wheel is off.
func offBy(delta timing.Deg) phrase.Sentence {
	text := injectionAhead
	if delta < 0 {
		text = injectionBehind
	}
	return say(text, map[string]any{"By": deg(size(delta))})
}

// spoil makes up a start of injection and a crankshaft that is off as the level
// asks for, and returns the end it is seen from.
func (m *maker) spoil() timing.End {
	from := timing.Nose
	if m.level >= 4 && m.coin() {
		from = timing.Flywheel
	}
	unit := 1.0
	if m.level >= 4 {
		unit = 0.5
	}
	angle := func(lo, hi int) timing.Deg {
		return timing.Deg(unit * float64(m.between(int(float64(lo)/unit), int(float64(hi)/unit))))
	}
	drawing := angle(8, 45) * timing.Deg(m.sign())
	measured := drawing + angle(2, 30)*timing.Deg(m.sign())
	switch {
	case m.level == 2:
		measured = angle(5, 60)
		if drawing < 0 {
			measured = -measured
		}
	case m.level >= 3 && m.coin():
		measured = -drawing // drilled on the other side
	}
	m.injection(timing.Deg(m.between(3, 18)))
	m.job.Dowel = &job.Feature{SeenFrom: from.String(), Drawing: m.reading(drawing, from), Measured: m.reading(measured, from)}
	if m.level == 5 {
		key := timing.Deg(m.step(60, 120, 5) * m.sign())
		off := angle(2, 12) * timing.Deg(m.sign())
		m.job.Keyway = &job.Feature{SeenFrom: from.String(), Drawing: m.reading(key, from), Measured: m.reading(key+off, from)}
	}
	return from
}

// injection sets when the controller asks for it.
func (m *maker) injection(btdc timing.Deg) {
	m.job.Injection = &job.Injection{StartBTDCDeg: job.Num(float64(btdc))}
}

// spoiled says how the dowel and the keyway were drawn and measured.
func (m *maker) spoiled(from timing.End) []phrase.Sentence {
	dowel, keyway := injectionDowel, injectionKeyway
	if from == timing.Flywheel {
		dowel, keyway = injectionDowelFly, injectionKeyFly
	}
	list := []phrase.Sentence{say(injectionNoKey, nil), drawnAndMeasured(dowel, m.job.Dowel)}
	if m.job.Keyway != nil {
		list[0] = drawnAndMeasured(keyway, m.job.Keyway)
	}
	return list
}

func drawnAndMeasured(text phrase.Text, f *job.Feature) phrase.Sentence {
	return say(text, map[string]any{
		"Drawing": deg(timing.Deg(f.Drawing.AngleDeg.Value)), "DrawingSide": timing.SenseText(f.Drawing.Side),
		"Measured": deg(timing.Deg(f.Measured.AngleDeg.Value)), "MeasuredSide": timing.SenseText(f.Measured.Side)})
}

// counts says which side counts positive.
func (m *maker) counts(from timing.End) phrase.Sentence {
	text := injectionTurns
	if from == timing.Flywheel {
		text = injectionTurnsFly
	}
	return say(text, map[string]any{"Sense": m.view(from).Rotates().Text()})
}
