package lesson

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

const (
	firingAsk      phrase.Text = "Cylinder {{.N}} has just fired. Which cylinder fires next?"
	firingAskLast  phrase.Text = "Cylinder {{.N}} has just fired. Which cylinder fired before it?"
	firingAskAt    phrase.Text = "The crankshaft is at {{.Theta}}°. Which cylinder fires next?"
	firingAskBack  phrase.Text = "The crankshaft is at {{.Theta}}° and is turned backwards. Which cylinder's firing TDC comes first?"
	firingAskOther phrase.Text = "Cylinder {{.N}} is {{.Size}}° after its firing TDC. Which cylinder fires next, and after how many more degrees?"
	firingPart     phrase.Text = "The cylinder"
	firingPartDeg  phrase.Text = "Crank degrees until it fires"
	firingStepNext phrase.Text = "In the firing order {{.Order}}, cylinder {{.Next}} comes after cylinder {{.N}}."
	firingStepLast phrase.Text = "In the firing order {{.Order}}, cylinder {{.Last}} comes before cylinder {{.N}}."
	firingStepWrap phrase.Text = "After its last cylinder the order begins again."
	firingStepAt   phrase.Text = "{{.Theta}}° lies between {{.From}}°, where cylinder {{.Last}} fires, and {{.To}}°, where cylinder {{.Next}} fires."
	firingStepEnd  phrase.Text = "{{.Theta}}° lies between {{.From}}°, where cylinder {{.Last}} fires, and {{.To}}°, the end of the cycle, where cylinder {{.Next}} fires."
	firingStepBack phrase.Text = "Backwards, cylinder {{.Last}} comes first."
	firingStepLeft phrase.Text = "From cylinder {{.N}} to cylinder {{.Next}} it is {{.Interval}}°, of which {{.Size}}° have passed: {{.Interval}} − {{.Size}} = {{.Left}}°."
	firingStepPast phrase.Text = "Cylinder {{.Next}} is the first to fire after that: it follows cylinder {{.N}} by {{.Interval}}°. {{.Interval}} − {{.Size}} = {{.Left}}°."
)

// askFiring asks which cylinder fires next: after a cylinder at first, then after
// a crank angle or with the degrees until then.
func askFiring(m *maker) (Question, bool) {
	if m.engine.Cylinders() < 2 {
		return Question{}, false
	}
	switch {
	case m.level <= 2:
		return m.firingByOrder(), true
	case m.level == 3 || m.level == 5 && m.coin():
		return m.firingByAngle()
	}
	return m.firingByOther()
}

// around returns the cylinders before and after one in the firing order, and
// whether it is the last.
func (m *maker) around(cylinder int) (last, next int, first, final bool) {
	order := m.engine.Order()
	n := len(order)
	for i, c := range order {
		if c == cylinder {
			return order[(i+n-1)%n], order[(i+1)%n], i == 0, i == n-1
		}
	}
	panic("lesson: no such cylinder")
}

func (m *maker) firingPart(cylinder int) Part {
	return Part{Ask: say(firingPart, nil), Form: Pick, Of: m.engine.Cylinders(), Cylinders: []int{cylinder}, One: true}
}

func (m *maker) firingByOrder() Question {
	e := m.engine
	n := m.cylinder()
	last, next, first, final := m.around(n)
	data := map[string]any{"N": n, "Next": next, "Last": last, "Order": joined(e.Order(), "-")}
	q := Question{Given: []phrase.Sentence{m.scheme()}, Ask: say(firingAsk, data), Steps: []phrase.Sentence{say(firingStepNext, data)}}
	wanted, over := next, final
	if m.level == 2 && m.coin() {
		q.Ask.Text, q.Steps[0].Text = firingAskLast, firingStepLast
		wanted, over = last, first
	}
	if over {
		q.Steps = append(q.Steps, say(firingStepWrap, nil))
	}
	q.Parts = []Part{m.firingPart(wanted)}
	q.After = &Figure{Name: "cycle", At: e.FiresAt(n), Cylinder: wanted}
	return q
}

func (m *maker) firingByAngle() (Question, bool) {
	e := m.engine
	theta := timing.Deg(m.between(0, int(e.Cycle())-1))
	// The last to have fired, and the next.
	last, next := 0, 0
	for c := 1; c <= e.Cylinders(); c++ {
		if size(timing.Difference(e.FiresAt(c), theta, e.Cycle())) < 2 {
			return Question{}, false
		}
		if last == 0 || e.Angle(c, theta) < e.Angle(last, theta) {
			last = c
		}
		if next == 0 || e.Angle(c, theta) > e.Angle(next, theta) {
			next = c
		}
	}
	to, text := e.FiresAt(next), firingStepAt
	if to < theta {
		to, text = to+e.Cycle(), firingStepEnd
	}
	data := map[string]any{"Theta": deg(theta), "Last": last, "Next": next, "From": deg(e.FiresAt(last)), "To": deg(to)}
	q := Question{Given: []phrase.Sentence{m.scheme(), say(givenZero, nil)}, Ask: say(firingAskAt, data)}
	q.Steps = append(append(q.Steps, m.firesSteps(last)...), say(text, data))
	wanted := next
	if m.level == 5 {
		q.Ask.Text, wanted = firingAskBack, last
		q.Steps = append(q.Steps, say(firingStepBack, data))
	}
	q.Parts = []Part{m.firingPart(wanted)}
	q.After = &Figure{Name: "cycle", At: theta, Cylinder: wanted}
	return q, true
}

// firingByOther asks from a cylinder's own angle; on level 5 others may have
// fired since.
func (m *maker) firingByOther() (Question, bool) {
	e := m.engine
	n := m.cylinder()
	_, next, _, _ := m.around(n)
	past := timing.Deg(m.between(5, int(e.Cycle())/2))
	theta := timing.Wrap(e.FiresAt(n)+past, e.Cycle())
	for c := 1; c <= e.Cylinders(); c++ {
		if size(timing.Difference(e.FiresAt(c), theta, e.Cycle())) < 2 {
			return Question{}, false
		}
		if e.Angle(c, theta) > e.Angle(next, theta) {
			next = c
		}
	}
	interval := timing.Wrap(e.FiresAt(next)-e.FiresAt(n), e.Cycle())
	if next == n {
		interval = e.Cycle()
	}
	text := firingStepLeft
	if _, follows, _, _ := m.around(n); follows != next {
		if m.level < 5 {
			return Question{}, false
		}
		text = firingStepPast
	}
	left := interval - past
	data := map[string]any{"N": n, "Next": next, "Size": deg(past), "Interval": deg(interval), "Left": deg(left), "Order": joined(e.Order(), "-")}
	q := Question{Given: []phrase.Sentence{m.scheme()}, Ask: say(firingAskOther, data)}
	q.Steps = append(append(append(q.Steps, m.firesSteps(n)...), m.firesSteps(next)...), say(text, data))
	q.Parts = []Part{m.firingPart(next), {Ask: say(firingPartDeg, nil), Form: Number, Value: float64(left), Tolerance: 0.5, Decimals: 2, Unit: Degrees}}
	q.After = &Figure{Name: "cycle", At: theta, Cylinder: next}
	return q, true
}
