package lesson

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

const (
	tdcGiven     phrase.Text = "Turned by hand, the piston of cylinder 1 comes up against a stop where the degree wheel reads {{.First}}°; turned the other way, where it reads {{.Second}}°. The piston pin has no offset."
	tdcRises     phrase.Text = "The numbers at the pointer rise as the engine turns forwards."
	tdcFalls     phrase.Text = "The numbers at the pointer fall as the engine turns forwards."
	tdcAsk       phrase.Text = "What does the degree wheel read at true TDC?"
	tdcAskMark   phrase.Text = "The TDC mark on the vibration damper comes to the pointer where the degree wheel reads {{.Mark}}°. How far before or after true TDC is that?"
	tdcPart      phrase.Text = "The degree wheel reads"
	tdcPartMark  phrase.Text = "Degrees before or after TDC"
	tdcStepSpan  phrase.Text = "From {{.From}}° to {{.To}}° it is {{.Span}}°, half of it {{.Half}}°."
	tdcStepOver  phrase.Text = "From {{.From}}° over 0° to {{.To}}° it is {{.Span}}°, half of it {{.Half}}°."
	tdcStepMid   phrase.Text = "True TDC is the midpoint: {{.From}} + {{.Half}} = {{.Sum}}°."
	tdcStepRound phrase.Text = "True TDC is the midpoint: {{.From}} + {{.Half}} = {{.Sum}}°, which the wheel shows as {{.At}}°."
	tdcStepMark  phrase.Text = "From TDC at {{.At}}° to the mark at {{.Mark}}° it is {{.By}}° towards higher numbers."
	tdcStepLess  phrase.Text = "From TDC at {{.At}}° to the mark at {{.Mark}}° it is {{.By}}° towards lower numbers."
	tdcStepAfter phrase.Text = "The engine reaches TDC first: the mark is {{.By}}° after TDC."
	tdcStepFirst phrase.Text = "The engine reaches the mark first: it is {{.By}}° before TDC."
)

// askTDC asks for true top dead centre from two readings against a stop: with
// whole numbers at first, then across the wheel's zero and in halves; from level 4
// on how far off a mark is, on level 5 on a wheel that counts down.
func askTDC(m *maker) (Question, bool) {
	m.job.Engine.PinOffsetMM.Given = false
	m.job.Engine.PinOffsetMM.Value = 0
	half := timing.Deg(m.between(10, 70))
	from := timing.Deg(m.between(5, 200)) // and on to at most 340
	if m.level >= 2 {
		from = timing.Wrap(-timing.Deg(m.between(1, 2*int(half)-1)), timing.Turn) // across 0
	}
	if m.level >= 3 {
		half += timing.Deg(m.below(4)) / 4
	}
	to := timing.Wrap(from+2*half, timing.Turn)
	first, second := from, to
	if m.coin() {
		first, second = to, from
	}
	r, err := part.Stop{FirstDeg: float64(first), SecondDeg: float64(second)}.TDC()
	if err != nil {
		return Question{}, false
	}
	at := timing.Wrap(r.Value, timing.Turn)
	data := map[string]any{"First": deg(first), "Second": deg(second), "From": deg(from), "To": deg(to), "Span": deg(2 * half), "Half": deg(half), "Sum": deg(from + half), "At": deg(at)}
	q := Question{Given: []phrase.Sentence{say(tdcGiven, data)}, Ask: say(tdcAsk, nil)}
	span, middle := tdcStepSpan, tdcStepMid
	if to < from {
		span = tdcStepOver
	}
	if from+half >= timing.Turn {
		middle = tdcStepRound
	}
	q.Steps = []phrase.Sentence{say(span, data), say(middle, data)}
	dial := Dial{First: first, Second: second, TDC: at}
	q.After = &Figure{Name: "dial", At: 0, Dial: &dial}
	if m.level < 4 {
		q.Parts = []Part{{Ask: say(tdcPart, nil), Form: Number, Value: float64(at), Tolerance: 0.3, Decimals: 2, Unit: Degrees, Round: float64(timing.Turn)}}
	} else {
		m.tdcMark(&q, &dial, data)
	}
	q.Notes = []phrase.Sentence{say(finding.Cautions[0], nil)}
	return q, true
}

// tdcMark asks how far a mark is off.
func (m *maker) tdcMark(q *Question, dial *Dial, data map[string]any) {
	off := timing.Deg(m.between(2, 15) * m.sign())
	mark := timing.Wrap(dial.TDC+off, timing.Turn)
	dial.Mark, dial.Falls = &mark, m.level == 5 && m.coin()
	after := timing.Difference(dial.TDC, mark, timing.Turn)
	data["Mark"], data["By"] = deg(mark), deg(size(after))
	way, order, counts := tdcStepMark, tdcStepAfter, tdcRises
	if after < 0 {
		way = tdcStepLess
	}
	if dial.Falls {
		after, counts = -after, tdcFalls
	}
	if after < 0 {
		order = tdcStepFirst
	}
	q.Given = append(q.Given, say(counts, nil))
	q.Ask = say(tdcAskMark, data)
	q.Steps = append(q.Steps, say(way, data), say(counts, nil), say(order, data))
	q.Parts = []Part{{Ask: say(tdcPartMark, nil), Form: Number, Value: -float64(after), Tolerance: 0.3, Decimals: 2, Unit: Degrees, Sides: BeforeAfter}}
}
