package lesson

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/wheel"
)

const (
	teethAll       phrase.Text = "The crank sensor wheel has {{.Positions}} teeth, evenly spaced, and no gap."
	teethGap       phrase.Text = "The crank sensor wheel has {{.Positions}} evenly spaced positions. Position {{.Missing}} has no tooth."
	teethGaps      phrase.Text = "The crank sensor wheel has {{.Positions}} evenly spaced positions. Positions {{.Missing}} have no teeth."
	teethFirst     phrase.Text = "With the wheel in its place, tooth 1 passes the sensor {{.B}}° before the firing TDC of cylinder 1."
	teethAskPitch  phrase.Text = "How many degrees are there from one position to the next?"
	teethAskCount  phrase.Text = "How many teeth does the wheel have?"
	teethAskGap    phrase.Text = "How many degrees are there from the last tooth before tooth 1 to tooth 1, across the gap?"
	teethAskWhich  phrase.Text = "The wheel is in its place and the crankshaft is at {{.Theta}}°. Which tooth is at the sensor?"
	teethAskWhen   phrase.Text = "The wheel is in its place. At which crank angle, 0 to 360°, does tooth {{.K}} pass the sensor?"
	teethAskOff    phrase.Text = "The crankshaft is at {{.Theta}}°. Which tooth is at the sensor of this wheel?"
	teethPart      phrase.Text = "Degrees"
	teethPartTooth phrase.Text = "Tooth number"
	teethPartCount phrase.Text = "How many teeth"
	teethStepPitch phrase.Text = "A turn of 360° over {{.Positions}} positions: 360 / {{.Positions}} = {{.Pitch}}°."
	teethStepCount phrase.Text = "{{.Positions}} positions less {{.Gone}} without a tooth: {{.Teeth}} teeth."
	teethStepFull  phrase.Text = "All {{.Positions}} positions have a tooth."
	teethStepGap   phrase.Text = "The gap is {{.Gone}} positions without a tooth, so from tooth to tooth it is {{.Steps}} × 360 / {{.Positions}} = {{.Width}}°."
	teethStepOne   phrase.Text = "The gap is one position without a tooth, so from tooth to tooth it is {{.Steps}} × 360 / {{.Positions}} = {{.Width}}°."
	teethStepFirst phrase.Text = "{{.B}}° before TDC is a crank angle of 360 − {{.B}} = {{.At}}°: there tooth 1 passes."
	teethStepTDC   phrase.Text = "Tooth 1 passes at TDC, a crank angle of 0°."
	teethStepAhead phrase.Text = "The wheel is {{.By}}° ahead: tooth 1 passes that much earlier, at {{.At}}°."
	teethStepBack  phrase.Text = "The wheel is {{.By}}° behind: tooth 1 passes that much later, at {{.At}}°."
	teethStepFrom  phrase.Text = "From {{.At}}° to {{.Theta}}° it is {{.Way}}°, which is {{.Steps}} positions of {{.Pitch}}°: tooth {{.K}} is at the sensor."
	teethStepWhen  phrase.Text = "Tooth {{.K}} passes {{.Steps}} × 360 / {{.Positions}} = {{.Way}}° later: {{.At}} + {{.Way}} = {{.Sum}}°."
	teethStepOver  phrase.Text = "Tooth {{.K}} passes {{.Steps}} × 360 / {{.Positions}} = {{.Way}}° later: {{.At}} + {{.Way}} = {{.Sum}}°, a turn less {{.Theta}}°."
)

// askTeeth asks about the crank wheel: its pitch and count on level 1, the gap on
// level 2, then which tooth stands at the sensor, when a tooth passes it, and on
// level 5 which one stands there on a wheel that is off.
func askTeeth(m *maker) (Question, bool) {
	w := m.wheel()
	q := Question{Given: []phrase.Sentence{wheelGiven(w)}, After: &Figure{Name: "wheel"}}
	number := func(ask, part phrase.Text, v float64, p Part) Question {
		p.Form, p.Value, p.Ask = Number, v, say(part, nil)
		q.Ask, q.Parts = say(ask, nil), append(q.Parts, p)
		return q
	}
	pitch := say(teethStepPitch, map[string]any{"Positions": w.Positions, "Pitch": deg(w.Pitch())})
	degrees := Part{Tolerance: hundredths(max(0.01, min(0.1, float64(w.Pitch())/20))), Decimals: 2, Unit: Degrees}
	switch gaps := w.Gaps(); {
	case m.level == 1 && m.coin():
		q.Steps = []phrase.Sentence{say(teethStepFull, map[string]any{"Positions": w.Positions})}
		if gone := len(w.Missing); gone > 0 {
			q.Steps[0] = say(teethStepCount, map[string]any{"Positions": w.Positions, "Gone": gone, "Teeth": w.Teeth()})
		}
		return number(teethAskCount, teethPartCount, float64(w.Teeth()), Part{Tolerance: 0.4, Unit: Count}), true
	case m.level == 1 || m.level == 2 && len(gaps) == 0:
		q.Steps = []phrase.Sentence{pitch}
		return number(teethAskPitch, teethPart, float64(w.Pitch()), degrees), true
	case m.level == 2:
		g := gaps[len(gaps)-1]
		width := w.Pitch() * timing.Deg(g.Missing+1)
		text := teethStepGap
		if g.Missing == 1 {
			text = teethStepOne
		}
		q.Steps = []phrase.Sentence{pitch, say(text, map[string]any{"Gone": g.Missing, "Steps": g.Missing + 1, "Positions": w.Positions, "Pitch": deg(w.Pitch()), "Width": deg(width)})}
		q.After.At = w.PassesAt(1, 0)
		return number(teethAskGap, teethPart, float64(width), degrees), true
	}
	return m.toothAtSensor(q, w)
}

// toothAtSensor asks which tooth stands at the sensor or when it does.
func (m *maker) toothAtSensor(q Question, w wheel.Crank) (Question, bool) {
	k := m.between(1, w.Positions)
	if w.IsMissing(k) {
		return q, false
	}
	var delta timing.Deg
	q.Given = append(q.Given, say(teethFirst, map[string]any{"B": deg(w.FirstToothBTDC)}))
	if m.level == 5 {
		delta = timing.Deg(m.between(3, 40) * m.sign())
		q.Given = append(q.Given, m.rotation(), offBy(delta))
		m.job.Dowel = &job.Feature{Drawing: m.reading(10, timing.Nose), Measured: m.reading(10+delta, timing.Nose)}
	}
	theta := timing.Deg(math.Round(float64(w.PassesAt(k, delta))*100) / 100)
	theta = timing.Wrap(theta, timing.Turn)
	if s := w.AtSensor(theta, delta); s.Position != k || size(s.Past) > w.Pitch()/10 {
		return q, false
	}
	first := timing.Wrap(-w.FirstToothBTDC, timing.Turn)
	start := timing.Wrap(first-delta, timing.Turn)
	way := w.Pitch() * timing.Deg(k-1)
	data := map[string]any{"K": k, "Theta": deg(theta), "B": deg(w.FirstToothBTDC), "At": deg(start), "Pitch": deg(w.Pitch()), "Steps": k - 1, "Positions": w.Positions,
		"Way": deg(way), "Sum": deg(start + way), "By": deg(size(delta))}
	at := say(teethStepFirst, map[string]any{"B": deg(w.FirstToothBTDC), "At": deg(first)})
	if first == 0 {
		at = say(teethStepTDC, nil)
	}
	q.Steps = []phrase.Sentence{say(teethStepPitch, map[string]any{"Positions": w.Positions, "Pitch": deg(w.Pitch())}), at}
	switch {
	case delta > 0:
		q.Steps = append(q.Steps, say(teethStepAhead, data))
	case delta < 0:
		q.Steps = append(q.Steps, say(teethStepBack, data))
	}
	q.After.At = theta
	if m.level == 4 {
		text := teethStepWhen
		if start+way >= timing.Turn {
			text = teethStepOver
		}
		q.Ask, q.Steps = say(teethAskWhen, data), append(q.Steps, say(text, data))
		q.Parts = []Part{{Ask: say(teethPart, nil), Form: Number, Value: float64(theta), Tolerance: hundredths(max(0.02, min(1, float64(w.Pitch())/5))), Decimals: 2, Unit: Degrees, Round: float64(timing.Turn)}}
		return q, true
	}
	q.Ask, q.Steps = say(teethAskWhich, data), append(q.Steps, say(teethStepFrom, data))
	if m.level == 5 {
		q.Ask.Text = teethAskOff
	}
	q.Parts = []Part{{Ask: say(teethPartTooth, nil), Form: Number, Value: float64(k), Tolerance: 0.4, Unit: Count}}
	return q, true
}

// wheel returns the job's crank wheel where it can be put into a sentence, else
// one made up, which the job then has.
func (m *maker) wheel() wheel.Crank {
	w := finding.CrankWheelOf(m.job)
	if w == nil || w.Positions < 3 || w.Positions > 360 || len(w.Missing) > 8 || w.Teeth() < 2 {
		m.job.CrankWheel = inventWheel(m.dice, m.level)
	} else {
		own := *m.job.CrankWheel
		own.FirstToothBTDCDeg = job.Num(float64(timing.Wrap(w.FirstToothBTDC, timing.Turn)))
		m.job.CrankWheel = &own
	}
	return *finding.CrankWheelOf(m.job)
}

func wheelGiven(w wheel.Crank) phrase.Sentence {
	text := teethGaps
	switch len(w.Missing) {
	case 0:
		text = teethAll
	case 1:
		text = teethGap
	}
	return say(text, map[string]any{"Positions": w.Positions, "Missing": joined(w.Missing, ", ")})
}
