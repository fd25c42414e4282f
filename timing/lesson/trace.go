package lesson

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/wheel"
)

const (
	traceBoth    phrase.Text = "A recording, drawn over the crank angle that the ECU (engine control unit) counts by the teeth of the crank sensor wheel: above correct, below as recorded."
	traceAlone   phrase.Text = "A recording, drawn over the crank angle that the ECU (engine control unit) counts by the teeth of the crank sensor wheel."
	traceBelongs phrase.Text = "With correct timing, the edge of tooth {{.Cam}} of the cam sensor wheel comes together with crank tooth {{.Crank}}."
	traceBetween phrase.Text = "With correct timing, the edge of tooth {{.Cam}} of the cam sensor wheel comes {{.Past}}° after crank tooth {{.Crank}}."
	traceWheel   phrase.Text = "The crank sensor wheel has {{.Positions}} evenly spaced positions."
	traceCamGood phrase.Text = "The camshaft was checked: it is correctly timed."
	traceAsk     phrase.Text = "How many crank degrees early or late do the cam edges come among the crank teeth?"
	traceAskBoth phrase.Text = "How many crank degrees early or late do the cam edges come among the crank teeth, and what does injection do?"
	tracePart    phrase.Text = "The cam edges come, in crank degrees"
	traceStepAt  phrase.Text = "The edge of tooth {{.Cam}} of the cam sensor wheel should be at {{.Right}}° of the ECU's angle and is at {{.Is}}°."
	traceLate    phrase.Text = "Counted in crank tooth spacings of {{.Pitch}}°, that is {{.Steps}} × 360 / {{.Positions}} = {{.By}}° later: late."
	traceEarly   phrase.Text = "Counted in crank tooth spacings of {{.Pitch}}°, that is {{.Steps}} × 360 / {{.Positions}} = {{.By}}° earlier: early."
	traceStepDel phrase.Text = "Lateness = wheel error − camshaft error. With the camshaft correct, the wheel error is {{.Wheel}}°."
)

// Recording is what a signals figure shows: how far wheel and cam are ahead, over
// which of the controller's angles.
type Recording struct {
	WheelError, CamError timing.Deg
	From, To             timing.Deg // not wrapped
	Alone                bool       // without the signals as they should be
}

// The room a recording is read in: so far to either side of where the edge belongs.
const traceReach timing.Deg = 60

// leastLate is what can be seen in a figure at a glance.
const leastLate timing.Deg = 4

// askTrace asks for the correlation error of a recording that is shown: beside the
// right one, by whole teeth at first, then by halves; from level 3 on without the
// right one beside it, on level 5 what it means for injection.
func askTrace(m *maker) (Question, bool) {
	w := m.wheel()
	cam := m.camWheel()
	if w.Positions < 12 || w.Positions > 120 {
		return Question{}, false
	}
	steps := float64(m.between(1, max(1, int(25/w.Pitch()))) * m.sign())
	if w.Positions <= 72 && (m.level == 2 || m.level >= 4 && m.coin()) {
		steps += 0.5
	}
	late := timing.Deg(steps) * w.Pitch()
	rec := Recording{WheelError: late, Alone: m.level >= 3}
	if m.level < 5 && m.coin() {
		rec.WheelError, rec.CamError = 0, -late
	}
	wheelError, camError := float64(rec.WheelError), float64(rec.CamError)
	s, err := finding.SignalsOf(m.job, finding.SignalOptions{WheelErrorDeg: &wheelError, CamErrorDeg: &camError})
	if err != nil || s.Cam == nil || s.Correlation == nil {
		return Question{}, false
	}
	e := s.Cam.Edges[m.below(len(s.Cam.Edges))]
	late = timing.Deg(*s.Correlation)
	right, is := timing.Deg(e.ExpectedDeg), timing.Deg(e.ExpectedDeg)+late
	if size(late) < leastLate || 3*size(late) > cam.Narrowest().Crank(cam.Cycle) || !teethBetween(w, right, is) {
		return Question{}, false
	}
	rec.From, rec.To = right-traceReach, right+traceReach
	q := Question{Given: []phrase.Sentence{say(traceBoth, nil), say(traceWheel, map[string]any{"Positions": w.Positions})}, Ask: say(traceAsk, nil)}
	if rec.Alone {
		q.Given[0].Text = traceAlone
		q.Given = append(q.Given, belongs(w, e.Tooth, right))
	}
	data := map[string]any{"Cam": e.Tooth, "Positions": w.Positions, "Right": deg(right), "Is": deg(timing.Wrap(is, cam.Cycle)), "Steps": phrase.Num{Value: math.Abs(float64(late / w.Pitch())), Decimals: 1},
		"Pitch": deg(w.Pitch()), "By": deg(size(late)), "Wheel": deg(late)}
	order := traceLate
	if late < 0 {
		order = traceEarly
	}
	q.Steps = []phrase.Sentence{say(teethStepPitch, map[string]any{"Positions": w.Positions, "Pitch": deg(w.Pitch())}), say(traceStepAt, data), say(order, data)}
	q.Parts = []Part{{Ask: say(tracePart, nil), Form: Number, Value: -float64(late), Tolerance: hundredths(max(1, float64(w.Pitch())/4)), Decimals: 2, Unit: Degrees, Sides: EarlyLate}}
	if m.level == 5 {
		q.Given, q.Ask.Text = append(q.Given, say(traceCamGood, nil)), traceAskBoth
		p, last := injectionComes(wheelError)
		q.Parts, q.Steps = append(q.Parts, p), append(q.Steps, say(traceStepDel, data), last)
	}
	q.Before = &Figure{Name: "signals", Recording: &rec}
	q.After = q.Before
	return q, true
}

// teethBetween tells whether no gap lies where the teeth are counted.
func teethBetween(w wheel.Crank, a, b timing.Deg) bool {
	for at := min(a, b) - w.Pitch(); at <= max(a, b)+w.Pitch(); at += w.Pitch() / 2 {
		if w.AtSensor(at, 0).Missing {
			return false
		}
	}
	return true
}

// belongs says where among the crank teeth a cam tooth's edge comes.
func belongs(w wheel.Crank, cam int, at timing.Deg) phrase.Sentence {
	s := w.AtSensor(at, 0)
	data := map[string]any{"Cam": cam, "Crank": s.Position}
	if size(s.Past) < 0.01 {
		return say(traceBelongs, data)
	}
	if s.Past < 0 {
		s = w.AtSensor(at-w.Pitch()/2, 0)
		data["Crank"] = s.Position
		s.Past += w.Pitch() / 2
	}
	data["Past"] = deg(s.Past)
	return say(traceBetween, data)
}

// camWheel returns the job's cam wheel where its edges stand far enough apart, else
// one made up, which the job then has.
func (m *maker) camWheel() wheel.Cam {
	made := func(w *job.CamWheel) wheel.Cam {
		c := wheel.Cam{FirstToothBTDC: timing.Deg(w.FirstToothBTDCDeg.Value), Cycle: m.engine.Cycle()}
		for _, a := range w.TeethCamDeg {
			c.Teeth = append(c.Teeth, timing.CamDeg(a))
		}
		return c
	}
	if w := m.job.CamWheel; w != nil && w.FirstToothBTDCDeg.Given {
		if c := made(w); c.Narrowest().Crank(c.Cycle) >= 30 {
			own := *w
			own.TeethCamDeg = slices.Clone(own.TeethCamDeg)
			m.job.CamWheel = &own
			return c
		}
	}
	n := oneOf(m.dice, 3, 4, 6) // evenly spaced, and one more by which a turn begins
	w := &job.CamWheel{FirstToothBTDCDeg: job.Num(float64(m.step(30, 90, 6)))}
	for i := range n {
		w.TeethCamDeg = append(w.TeethCamDeg, float64(360*i/n))
	}
	w.TeethCamDeg = append(w.TeethCamDeg, 330)
	m.job.CamWheel = w
	return made(w)
}
