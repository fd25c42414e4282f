package lesson

import (
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/gear"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/wheel"
)

const (
	gearsGiven     phrase.Text = "The gears from crankshaft to camshaft have {{.Teeth}} teeth."
	gearsAskTooth  phrase.Text = "By how many crank degrees does a camshaft gear fitted one tooth out move the camshaft?"
	gearsAskTurns  phrase.Text = "After how many crankshaft turns are all the marks aligned again?"
	gearsAskWay    phrase.Text = "Seen from the nose, which way does the camshaft gear turn?"
	gearsAskAhead  phrase.Text = "The camshaft gear was fitted {{.K}} teeth ahead, in the direction it turns. By how many crank degrees do the valves open early or late?"
	gearsAskBehind phrase.Text = "The camshaft gear was fitted {{.K}} teeth behind, against the direction it turns. By how many crank degrees do the valves open early or late?"
	gearsAskOneUp  phrase.Text = "The camshaft gear was fitted one tooth ahead, in the direction it turns. By how many crank degrees do the valves open early or late?"
	gearsAskOneDn  phrase.Text = "The camshaft gear was fitted one tooth behind, against the direction it turns. By how many crank degrees do the valves open early or late?"
	gearsAskSeen   phrase.Text = "By how many crank degrees does the ECU see the camshaft sensor's edges early or late?"
	gearsIsAhead   phrase.Text = "The camshaft is {{.By}} crank degrees ahead."
	gearsIsBehind  phrase.Text = "The camshaft is {{.By}} crank degrees behind."
	gearsPart      phrase.Text = "Crank degrees"
	gearsPartSides phrase.Text = "Crank degrees early or late"
	gearsPartTurns phrase.Text = "Crankshaft turns"
	gearsPartWay   phrase.Text = "The camshaft gear turns"
	gearsStepTooth phrase.Text = "The crankshaft gear has {{.Crank}} teeth: one tooth is 360 / {{.Crank}} = {{.Tooth}} crank degrees, anywhere in the train."
	gearsStepOut   phrase.Text = "{{.K}} × 360 / {{.Crank}} = {{.By}} crank degrees."
	gearsStepEarly phrase.Text = "A camshaft that is ahead opens its valves early."
	gearsStepLate  phrase.Text = "A camshaft that is behind opens its valves late."
	gearsStepMesh  phrase.Text = "Meshing gears turn in opposite directions. From the crankshaft gear to the camshaft gear there are {{.Meshes}} meshes."
	gearsStepOne   phrase.Text = "Meshing gears turn in opposite directions, and the crankshaft gear meshes with the camshaft gear."
	gearsStepSame  phrase.Text = "So the camshaft gear turns as the crankshaft does: {{.Sense}}."
	gearsStepOther phrase.Text = "So the camshaft gear turns against the crankshaft: {{.Sense}}."
	gearsStepMeet  phrase.Text = "A gear has its mark back after as many teeth as it has. All are back after the least common multiple of {{.Teeth}}: {{.Steps}} teeth."
	gearsStepTurns phrase.Text = "The crankshaft gear has {{.Crank}}: {{.Steps}} / {{.Crank}} = {{.Turns}} crankshaft turns."
	gearsStepSeen  phrase.Text = "Seen by the ECU, a cam edge is late by wheel error − camshaft error = {{.Wheel}} − {{.Cam}} = {{.Late}}°."
	gearsStepSign  phrase.Text = "Ahead counts positive. A negative lateness is early."
)

// askGears asks about the gear train: what a tooth is worth, what some teeth out
// do, which way the cam gear turns, when the marks meet again, and on level 5 what
// the controller sees when wheel and cam are both off.
func askGears(m *maker) (Question, bool) {
	t, ok := m.train()
	if !ok {
		return Question{}, false
	}
	q := Question{Given: []phrase.Sentence{say(gearsGiven, map[string]any{"Teeth": joined(t.Teeth(), ", ")})}, After: &Figure{Name: "gears"}}
	tooth := say(gearsStepTooth, map[string]any{"Crank": t.Teeth()[0], "Tooth": deg(t.CrankPerTooth())})
	switch {
	case m.level == 1:
		q.Ask, q.Steps = say(gearsAskTooth, nil), []phrase.Sentence{tooth}
		m.job.Gears.CamTeethOut = 1
		q.Parts = []Part{{Ask: say(gearsPart, nil), Form: Number, Value: float64(t.CrankPerTooth()), Tolerance: 0.05, Decimals: 2, Unit: Degrees}}
	case m.level == 2 || m.level == 4 && m.coin():
		m.gearsOut(&q, t, tooth)
	case m.level == 3:
		m.gearsWay(&q, t)
	case m.level == 5 && m.coin():
		m.gearsSeen(&q)
	default:
		return m.gearsMeet(q, t)
	}
	return q, true
}

func (m *maker) gearsOut(q *Question, t gear.Train, tooth phrase.Sentence) {
	k := m.between(1, min(4, max(1, t.Teeth()[0]/4))) * m.sign()
	m.job.Gears.CamTeethOut = k
	gamma := t.CamError(0, k)
	data := map[string]any{"K": max(k, -k), "Crank": t.Teeth()[0], "By": deg(size(gamma))}
	ask, last := gearsAskAhead, gearsStepEarly
	switch {
	case k == 1:
		ask = gearsAskOneUp
	case k == -1:
		ask, last = gearsAskOneDn, gearsStepLate
	case k < 0:
		ask, last = gearsAskBehind, gearsStepLate
	}
	q.Ask = say(ask, data)
	q.Steps = []phrase.Sentence{tooth, say(gearsStepOut, data), say(last, nil)}
	q.Parts = []Part{{Ask: say(gearsPartSides, nil), Form: Number, Value: float64(gamma), Tolerance: 0.2, Decimals: 2, Unit: Degrees, Sides: EarlyLate}}
}

func (m *maker) gearsWay(q *Question, t gear.Train) {
	crank := m.view(timing.Nose).Rotates()
	cam, last := crank, gearsStepSame
	if !t.WithCrank(t.Wheels() - 1) {
		cam, last = crank.Other(), gearsStepOther
	}
	q.Given = append(q.Given, m.rotation())
	q.Ask = say(gearsAskWay, nil)
	mesh := say(gearsStepMesh, map[string]any{"Meshes": t.Wheels() - 1})
	if t.Wheels() == 2 {
		mesh.Text = gearsStepOne
	}
	q.Steps = []phrase.Sentence{mesh, say(last, map[string]any{"Sense": cam.Text()})}
	q.Parts = []Part{{Ask: say(gearsPartWay, nil), Form: Choose, Choice: int(cam),
		Choices: []phrase.Sentence{say(timing.Clockwise.Text(), nil), say(timing.Anticlockwise.Text(), nil)}}}
}

// mostTurns is how many turns somebody may be asked to find by hand.
const mostTurns = 2000

func (m *maker) gearsMeet(q Question, t gear.Train) (Question, bool) {
	turns := t.TurnsUntilMarksMeet(0)
	if !turns.IsInt64() || turns.Int64() > mostTurns {
		return q, false
	}
	data := map[string]any{"Teeth": joined(t.Teeth(), ", "), "Steps": int(t.StepsUntilMarksMeet().Int64()), "Crank": t.Teeth()[0], "Turns": int(turns.Int64())}
	q.Ask = say(gearsAskTurns, nil)
	q.Steps = []phrase.Sentence{say(gearsStepMeet, data), say(gearsStepTurns, data)}
	q.Parts = []Part{{Ask: say(gearsPartTurns, nil), Form: Number, Value: float64(turns.Int64()), Tolerance: 0.4, Unit: Turns}}
	return q, true
}

// gearsSeen asks for the correlation error, delta − gamma.
func (m *maker) gearsSeen(q *Question) {
	delta, gamma := timing.Deg(m.between(2, 25)*m.sign()), timing.Deg(m.between(2, 25)*m.sign())
	if delta == gamma {
		gamma = -gamma
	}
	cam := gearsIsAhead
	if gamma < 0 {
		cam = gearsIsBehind
	}
	one := wheel.Signals{Crank: wheel.Crank{Positions: 1}, Cam: &wheel.Cam{Teeth: []timing.CamDeg{0}, Cycle: m.engine.Cycle()}}
	late := one.CamPassings(wheel.Fitting{Delta: delta, Gamma: gamma})[0].Late
	q.Given = []phrase.Sentence{offBy(delta), say(cam, map[string]any{"By": deg(size(gamma))})}
	q.Ask = say(gearsAskSeen, nil)
	q.Steps = []phrase.Sentence{
		say(gearsStepSign, nil),
		say(gearsStepSeen, map[string]any{"Wheel": deg(delta), "Cam": phrase.Operand(deg(gamma)), "Late": deg(late)}),
	}
	q.Parts = []Part{{Ask: say(gearsPartSides, nil), Form: Number, Value: -float64(late), Tolerance: 0.5, Decimals: 2, Unit: Degrees, Sides: EarlyLate}}
	m.job.Gears.CamTeethOut = 0
	q.After = nil
}

// train returns the job's gear train where sums with it are worth asking for,
// else one made up, which the job then has.
func (m *maker) train() (gear.Train, bool) {
	if t, err := finding.TrainOf(m.job); err == nil && t.Wheels() <= 6 {
		if turns := t.TurnsUntilMarksMeet(0); turns.IsInt64() && turns.Int64() <= mostTurns {
			own := *m.job.Gears
			own.IdlerTeeth = slices.Clone(own.IdlerTeeth)
			m.job.Gears = &own
			return t, true
		}
	}
	crank := m.between(18, 48)
	g := job.Gears{CrankTeeth: crank, CamTeeth: crank * m.engine.Strokes() / 2}
	for range m.below(min(m.level, 4)) {
		g.IdlerTeeth = append(g.IdlerTeeth, m.between(20, 60))
	}
	m.job.Gears = &g
	t, err := finding.TrainOf(m.job)
	return t, err == nil
}
