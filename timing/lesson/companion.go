package lesson

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

const (
	companionAsk     phrase.Text = "Which cylinders are paired with cylinder {{.N}}: at TDC together with it, but a turn apart in the cycle? Name them all, or none."
	companionAskOne  phrase.Text = "Cylinder {{.N}} is at its firing TDC. Which other cylinders are at TDC too, at overlap TDC (between exhaust and intake)? Name them all, or none."
	companionAskSwap phrase.Text = "Cylinder {{.N}} is at overlap TDC (between exhaust and intake). Which other cylinders fire at this TDC? Name them all, or none."
	companionPart    phrase.Text = "The cylinders"
	companionStep    phrase.Text = "One turn later is {{.Fires}} + 360 = {{.Sum}}°."
	companionRound   phrase.Text = "One turn later is {{.Fires}} + 360 = {{.Sum}}°, which in the cycle is {{.At}}°."
	companionIs      phrase.Text = "At {{.At}}° cylinder {{.List}} fires."
	companionNone    phrase.Text = "At {{.At}}° no cylinder fires: cylinder {{.N}} has no paired cylinder."
	companionTwo     phrase.Text = "A two-stroke fires at every TDC: none of its cylinders has a paired cylinder a turn apart."
)

// askCompanion asks for the companions of a cylinder: of 1 at first, then of any;
// from level 3 on in other words.
func askCompanion(m *maker) (Question, bool) {
	e := m.engine
	cylinder := 1
	if m.level >= 2 {
		cylinder = m.cylinder()
	}
	if e.Strokes() == 4 && !m.companionsPlain(cylinder) {
		return Question{}, false
	}
	q := Question{Given: []phrase.Sentence{m.scheme()}, Ask: say(companionAsk, map[string]any{"N": cylinder})}
	if e.Strokes() == 4 && m.level >= 3 {
		q.Ask.Text = oneOf(m.dice, companionAskOne, companionAskSwap)
	}
	list := e.Companions(cylinder)
	q.Parts = []Part{{Ask: say(companionPart, nil), Form: Pick, Of: e.Cylinders(), Cylinders: list}}
	q.After = &Figure{Name: "cycle", At: e.FiresAt(cylinder), Cylinder: cylinder}
	if e.Strokes() == 2 {
		q.Steps = []phrase.Sentence{say(companionTwo, nil)}
		return q, true
	}
	if len(list) > 0 {
		q.After.Cylinder = list[0]
	}
	fires := e.FiresAt(cylinder)
	at := timing.Wrap(fires+timing.Turn, e.Cycle())
	text := companionStep
	if fires+timing.Turn >= e.Cycle() {
		text = companionRound
	}
	q.Steps = append(m.firesSteps(cylinder), say(text, map[string]any{"Fires": deg(fires), "Sum": deg(fires + timing.Turn), "At": deg(at)}))
	if len(list) == 0 {
		q.Steps = append(q.Steps, say(companionNone, map[string]any{"At": deg(at), "N": cylinder}))
		return q, true
	}
	for _, c := range list[:1] {
		q.Steps = append(q.Steps, m.firesSteps(c)...)
	}
	q.Steps = append(q.Steps, say(companionIs, map[string]any{"At": deg(at), "List": joined(list, ", ")}))
	return q, true
}

// companionsPlain tells whether every other cylinder is either a companion or so
// far from one that nobody would take it for one.
func (m *maker) companionsPlain(cylinder int) bool {
	e := m.engine
	near := 0
	for c := 1; c <= e.Cylinders(); c++ {
		if size(timing.Difference(e.FiresAt(cylinder)+timing.Turn, e.FiresAt(c), e.Cycle())) < clearance {
			near++
		}
	}
	return near == len(e.Companions(cylinder))
}
