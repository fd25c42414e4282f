package lesson

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

const (
	strokeAsk      phrase.Text = "The crankshaft is at {{.Theta}}°. Which stroke is cylinder {{.N}} on?"
	strokeAskOther phrase.Text = "Cylinder {{.Other}} is {{.Size}}° before its firing TDC. Which stroke is cylinder {{.N}} on?"
	strokeAskOn    phrase.Text = "Cylinder {{.Other}} is {{.Size}}° before its firing TDC. The crankshaft is turned forwards by {{.On}}°. Which stroke is cylinder {{.N}} on then?"

	strokeStepOther phrase.Text = "{{.Size}}° before the firing TDC of cylinder {{.Other}} the crankshaft is at {{.Fires}} − {{.Size}} = {{.Sum}}°."
	strokeStepRound phrase.Text = "{{.Size}}° before the firing TDC of cylinder {{.Other}} the crankshaft is at {{.Fires}} − {{.Size}} = {{.Sum}}°, which in the cycle is {{.Theta}}°."
	strokeStepOn    phrase.Text = "Turned forwards by {{.On}}° it is at {{.From}} + {{.On}} = {{.Sum}}°."
	strokeStepOnRnd phrase.Text = "Turned forwards by {{.On}}° it is at {{.From}} + {{.On}} = {{.Sum}}°, which in the cycle is {{.Theta}}°."
	strokeStepIs    phrase.Text = "From {{.From}}° to {{.To}}° after firing TDC is the {{.Stroke}} stroke."
	strokePart      phrase.Text = "The stroke"
)

// askStroke asks for the stroke of a cylinder: 1 at first, then any; from level 4
// on the crank's angle has to be found from another cylinder, on level 5 it is
// turned on besides.
func askStroke(m *maker) (Question, bool) {
	e := m.engine
	cylinder, other := 1, m.cylinder()
	if m.level >= 2 {
		cylinder = m.cylinder()
	}
	before, on := timing.Deg(m.step(10, 170, 5)), timing.Deg(m.step(100, int(e.Cycle())-10, 10))
	theta := timing.Deg(m.step(0, int(e.Cycle())-10, 10))
	if m.level == 3 {
		theta = timing.Deg(m.between(0, int(e.Cycle())-1))
	}
	q := Question{Given: []phrase.Sentence{m.scheme()}}
	data := map[string]any{"N": cylinder}
	if m.level < 4 {
		q.Given = append(q.Given, say(givenZero, nil))
		data["Theta"] = deg(theta)
		q.Ask = say(strokeAsk, data)
	} else {
		theta = e.CrankAngle(other, before)
		data["Other"], data["Size"] = other, deg(before)
		q.Ask = say(strokeAskOther, data)
		q.Steps = append(m.firesSteps(other), m.otherStep(other, before))
		if m.level == 5 {
			data["On"] = deg(on)
			q.Ask.Text = strokeAskOn
			q.Steps = append(q.Steps, m.onStep(theta, on))
			theta = timing.Wrap(theta+on, e.Cycle())
		}
	}
	alpha := e.Angle(cylinder, theta)
	if !clear(alpha) || m.level >= 4 && other == cylinder && e.Cylinders() > 1 {
		return q, false
	}
	q.Steps = append(append(q.Steps, m.firesSteps(cylinder)...), m.ownStep(cylinder, theta), m.strokeStep(alpha))
	q.Parts = []Part{m.strokePart(alpha)}
	q.After = &Figure{Name: "cycle", At: theta, Cylinder: cylinder}
	return q, true
}

// strokePart asks for the stroke at a cylinder's own angle.
func (m *maker) strokePart(alpha timing.Deg) Part {
	p := Part{Ask: say(strokePart, nil), Form: Choose}
	for i, s := range m.engine.StrokeSpans() {
		p.Choices = append(p.Choices, say(s.Stroke.Text(), nil))
		if s.Stroke == m.engine.StrokeAt(alpha) {
			p.Choice = i
		}
	}
	return p
}

func (m *maker) strokeStep(alpha timing.Deg) phrase.Sentence {
	for _, s := range m.engine.StrokeSpans() {
		if s.Stroke == m.engine.StrokeAt(alpha) {
			return say(strokeStepIs, map[string]any{"From": deg(s.Span.From), "To": deg(s.Span.To), "Stroke": s.Stroke.Text()})
		}
	}
	panic("lesson: an angle on no stroke")
}

func (m *maker) otherStep(other int, before timing.Deg) phrase.Sentence {
	fires, text := m.engine.FiresAt(other), strokeStepOther
	if fires < before {
		text = strokeStepRound
	}
	return say(text, map[string]any{"Size": deg(before), "Other": other, "Fires": deg(fires), "Sum": deg(fires - before), "Theta": deg(m.engine.CrankAngle(other, before))})
}

func (m *maker) onStep(from, on timing.Deg) phrase.Sentence {
	text := strokeStepOn
	if from+on >= m.engine.Cycle() {
		text = strokeStepOnRnd
	}
	return say(text, map[string]any{"On": deg(on), "From": deg(from), "Sum": deg(from + on), "Theta": deg(timing.Wrap(from+on, m.engine.Cycle()))})
}
