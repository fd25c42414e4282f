package lesson

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

const (
	directionAsk       phrase.Text = "Does injection start early, late, or as commanded?"
	directionPart      phrase.Text = "Injection starts"
	directionEarly     phrase.Text = "early: it is advanced"
	directionLate      phrase.Text = "late: it is retarded"
	directionRight     phrase.Text = "as commanded"
	directionOff       phrase.Text = "Seen from the nose, the dowel is {{.By}}° {{.Side}} of its place."
	directionOffFly    phrase.Text = "Seen from the flywheel, the dowel is {{.By}}° {{.Side}} of its place."
	directionAskLater  phrase.Text = "Injection has to start later. Which way must the sensor wheel be moved on the crankshaft, seen from the nose?"
	directionAskSooner phrase.Text = "Injection has to start earlier. Which way must the sensor wheel be moved on the crankshaft, seen from the nose?"
	directionLaterFly  phrase.Text = "Injection has to start later. Which way must the sensor wheel be moved on the crankshaft, seen from the flywheel?"
	directionSoonerFly phrase.Text = "Injection has to start earlier. Which way must the sensor wheel be moved on the crankshaft, seen from the flywheel?"
	directionPartMove  phrase.Text = "The wheel is moved"
	directionStepTeeth phrase.Text = "A wheel moved in the direction of rotation brings its teeth to the sensor earlier, and injection with them; moved against it, later."
	directionStepEarly phrase.Text = "In the direction of rotation is ahead: the teeth come early, and injection with them."
	directionStepLate  phrase.Text = "Against the direction of rotation is behind: the teeth come late, and injection with them."
	directionStepNone  phrase.Text = "The two errors cancel: the wheel is in its place."
)

// askDirection asks whether an error advances or retards injection, or which way
// the wheel must go. Seen from either end from level 3 on; from level 4 on the
// error has to be found from drawing and measurement, on level 5 with the keyway's.
func askDirection(m *maker) (Question, bool) {
	if m.level <= 3 && m.coin() {
		return m.directionToMove(), true
	}
	if m.level >= 4 {
		return m.directionFound()
	}
	from := m.end()
	off := timing.Deg(m.between(2, 30) * m.sign())
	drawing := timing.Deg(m.step(5, 40, 5) * m.sign())
	m.injection(timing.Deg(10))
	m.job.Dowel = &job.Feature{SeenFrom: from.String(), Drawing: m.reading(drawing, from), Measured: m.reading(drawing+off, from)}
	by, side := m.view(from).Seen(off)
	text := directionOff
	if from == timing.Flywheel {
		text = directionOffFly
	}
	q := Question{Given: []phrase.Sentence{m.rotation(), say(text, map[string]any{"By": deg(by), "Side": side.Text()})}}
	return m.directed(q, from, m.counts(from))
}

// directed completes a question about which way the job's wheel is off.
func (m *maker) directed(q Question, from timing.End, steps ...phrase.Sentence) (Question, bool) {
	s, err := finding.ShiftOf(m.job)
	if err != nil {
		return q, false
	}
	p, last := injectionComes(s.WheelErrorDeg)
	q.Ask, q.Parts = say(directionAsk, nil), []Part{p}
	q.Steps = append(append(q.Steps, steps...), last)
	q.After = &Figure{Name: "wheel", At: 0, From: from}
	return q, true
}

// injectionComes asks what a wheel error does to injection, and says why.
func injectionComes(wheelError float64) (Part, phrase.Sentence) {
	p := Part{Ask: say(directionPart, nil), Form: Choose, Choices: []phrase.Sentence{say(directionEarly, nil), say(directionLate, nil), say(directionRight, nil)}}
	switch {
	case wheelError < 0:
		p.Choice = 1
		return p, say(directionStepLate, nil)
	case wheelError == 0:
		p.Choice = 2
		return p, say(directionStepNone, nil)
	}
	return p, say(directionStepEarly, nil)
}

func (m *maker) directionFound() (Question, bool) {
	from := m.spoil()
	if m.level == 5 && m.below(4) == 0 { // let the two errors cancel
		at := m.signed(m.job.Dowel.Drawing, from) - (m.signed(m.job.Keyway.Measured, from) - m.signed(m.job.Keyway.Drawing, from))
		m.job.Dowel.Measured = m.reading(at, from)
	}
	s, err := finding.ShiftOf(m.job)
	if err != nil || s.WheelErrorDeg != 0 && size(timing.Deg(s.WheelErrorDeg)) < 1 {
		return Question{}, false
	}
	q := Question{Given: append([]phrase.Sentence{m.rotation()}, m.spoiled(from)...)}
	steps := s.Steps[:len(s.Steps)-1] // all but when injection happens
	if s.WheelErrorDeg != 0 {
		steps = steps[:len(steps)-1]
	}
	return m.directed(q, from, append([]phrase.Sentence{m.counts(from)}, steps...)...)
}

func (m *maker) signed(r *job.Reading, from timing.End) timing.Deg {
	side, _ := timing.ParseSense(r.Side)
	return m.view(from).Signed(timing.Deg(r.AngleDeg.Value), side)
}

func (m *maker) directionToMove() Question {
	from := m.end()
	later := m.coin()
	text := [2][2]phrase.Text{{directionAskSooner, directionAskLater}, {directionSoonerFly, directionLaterFly}}[from][map[bool]int{false: 0, true: 1}[later]]
	way := timing.Deg(1)
	if later {
		way = -1
	}
	_, side := m.view(from).Seen(way)
	p := Part{Ask: say(directionPartMove, nil), Form: Choose, Choice: int(side)}
	for _, s := range []timing.Sense{timing.Clockwise, timing.Anticlockwise} {
		p.Choices = append(p.Choices, say(s.Text(), nil))
	}
	return Question{Given: []phrase.Sentence{m.rotation()}, Ask: say(text, nil), Parts: []Part{p},
		Steps: []phrase.Sentence{m.counts(from), say(directionStepTeeth, nil)},
		After: &Figure{Name: "wheel", At: 0, From: from}}
}
