package chart

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/phrase"
)

// The words of the board. A page's question comes first, its answer after it.
const (
	boardNext         phrase.Text = "Cylinder {{.N}} fires at {{.At}}°. Which cylinder fires next?"
	boardNextIs       phrase.Text = "Cylinder {{.Next}} fires next, {{.By}}° later."
	boardAgain        phrase.Text = "Cylinder {{.Next}} fires again, {{.By}}° later."
	boardPair         phrase.Text = "Cylinder {{.N}} fires at {{.At}}°. Which piston reaches TDC with it, and on which strokes?"
	boardPairIs       phrase.Text = "Cylinder {{.Other}} reaches TDC with it, going from exhaust to intake."
	boardDiffer       phrase.Text = "Both crankshafts are at TDC of cylinder 1. What differs?"
	boardBehind       phrase.Text = "With the dowel as drilled, the sensor wheel sits {{.By}}° behind its place."
	boardAhead        phrase.Text = "With the dowel as drilled, the sensor wheel sits {{.By}}° ahead of its place."
	boardSame         phrase.Text = "Nothing differs: the sensor wheel is in its place."
	boardSees         phrase.Text = "On the correct wheel the sensor sees {{.Tooth}}. What does the other sensor see?"
	boardSeesBehind   phrase.Text = "It sees {{.Tooth}}: the ECU's crank angle is {{.By}}° behind the true angle."
	boardSeesAhead    phrase.Text = "It sees {{.Tooth}}: the ECU's crank angle is {{.By}}° ahead of the true angle."
	boardInjects      phrase.Text = "The ECU (engine control unit) commands injection at {{.At}}. Where is each crankshaft when it starts?"
	boardInjectsAt    phrase.Text = "The correct crankshaft is at {{.Asked}}, the other at {{.Happens}}."
	boardLands        phrase.Text = "Where in the cycle does every injection start?"
	boardNotMeasured  phrase.Text = "No dowel was measured, so there is no fault to step through."
	boardUnknown      phrase.Text = "The wheel error cannot be calculated from this job."
	boardTurns        phrase.Text = "The crankshaft turns. Which cylinder fired last, and which fires next?"
	boardTurnsOn      phrase.Text = "Cylinder {{.Last}} fired last; cylinder {{.Next}} fires next."
	boardTurnsOne     phrase.Text = "Cylinder {{.Last}} fires once in every {{.Cycle}}°."
	boardTogether     phrase.Text = "Both crankshafts turn together. Which wheel's tooth 1 reaches the sensor first?"
	boardRightFirst   phrase.Text = "The correct one: the other passes {{.By}}° later."
	boardDrilledFirst phrase.Text = "The one with the faulty dowel: it passes {{.By}}° earlier than the correct one."

	wordBoardRight   phrase.Text = "Correct, as drawn"
	wordBoardDrilled phrase.Text = "Dowel as drilled"
	wordBoardDowel   phrase.Text = "dowel"
)

// firingOrder has a page for every firing.
func (d *Deck) firingOrder() {
	for _, c := range d.engine.Order() {
		at := d.engine.FiresAt(c)
		next := nextToFire(d.engine, at, +1)
		by := timing.Wrap(d.engine.FiresAt(next)-at, d.engine.Cycle())
		answer := boardNextIs
		if next == c {
			answer, by = boardAgain, d.engine.Cycle()
		}
		d.pages = append(d.pages, boardPage{chapter: FiringOrder, at: at, asked: c, answered: next, by: by,
			question: d.say.with(boardNext, map[string]any{"N": c, "At": tenths(at)}),
			answer:   d.say.with(answer, map[string]any{"Next": next, "By": tenths(by)})})
	}
}

// inPairs has a page for every cylinder with a companion.
func (d *Deck) inPairs() {
	for _, c := range d.engine.Order() {
		for _, other := range d.engine.Companions(c) {
			d.pages = append(d.pages, boardPage{chapter: Pairs, at: d.engine.FiresAt(c), asked: c, answered: other, both: true,
				question: d.say.with(boardPair, map[string]any{"N": c, "At": tenths(d.engine.FiresAt(c))}),
				answer:   d.say.with(boardPairIs, map[string]any{"Other": other})})
		}
	}
}

// fault steps from the dowel to where injection lands.
func (d *Deck) fault() {
	e, err := finding.WheelErrorOf(d.job)
	if missing := finding.BasisOf(d.job) == known.Assumed; err != nil || missing {
		text := d.say.text(boardUnknown)
		if missing {
			text = d.say.text(boardNotMeasured)
		}
		d.pages = append(d.pages, boardPage{chapter: Fault, question: text, answer: text, wheels: 1, turning: true})
		return
	}
	page := func(p boardPage) {
		p.chapter = Fault
		d.pages = append(d.pages, p)
	}
	by := map[string]any{"By": tenths(timing.Deg(math.Abs(float64(e.Value))))}
	right := tenths(e.Value).String() == "0"
	sits := boardBehind
	switch {
	case right:
		sits = boardSame
	case e.Value > 0:
		sits = boardAhead
	}
	page(boardPage{wheels: 2, question: d.say.text(boardDiffer), answer: d.say.with(sits, by)})
	if w := finding.CrankWheelOf(d.job); w != nil && !right {
		at := -w.FirstToothBTDC // where tooth 1 of a right wheel is at the sensor
		if seen := d.drilled.turner.At(at).Wheel; seen != nil && seen.Actual != nil {
			text := boardSeesBehind
			if e.Value > 0 {
				text = boardSeesAhead
			}
			page(boardPage{wheels: 2, at: at, drilledAt: at,
				question: d.say.with(boardSees, map[string]any{"Tooth": d.say.tooth(seen.Right)}),
				answer:   d.say.with(text, map[string]any{"Tooth": d.say.tooth(*seen.Actual), "By": by["By"]})})
		}
	}
	if d.shift == nil {
		return
	}
	asked, happens := injection(*d.shift)
	if !right {
		page(boardPage{wheels: 2, at: -*asked, drilledAt: -*happens, marks: true,
			question: d.say.with(boardInjects, map[string]any{"At": d.say.BTDC(float64(*asked))}),
			answer: d.say.with(boardInjectsAt, map[string]any{"Asked": d.say.BTDC(float64(*asked)),
				"Happens": d.say.BTDC(float64(*happens))})})
	}
	page(boardPage{marks: true, question: d.say.text(boardLands), answer: d.say.Sentence(d.shift.Says)})
}

// turns has the engine turning, and the two wheels when they differ.
func (d *Deck) turns() {
	p := boardPage{chapter: Turning, asked: 1, answered: 1}
	p.question, p.answer = d.anywhere(p, 0)
	d.pages = append(d.pages, p)
	if q, a := d.together(); a != "" {
		d.pages = append(d.pages, boardPage{chapter: Turning, wheels: 2, question: q, answer: a, turning: true})
	}
}

// anywhere is what to ask and to answer where the crank has left the angle that
// a page speaks of.
func (d Deck) anywhere(p boardPage, turned timing.Deg) (question, answer string) {
	if p.wheels > 0 {
		if q, a := d.together(); a != "" {
			return q, a
		}
		return p.question, p.answer
	}
	next := nextToFire(d.engine, timing.Wrap(p.at+turned, d.engine.Cycle()), +1)
	last := lastToFire(d.engine, next)
	text := boardTurnsOn
	if last == next {
		text = boardTurnsOne
	}
	return d.say.text(boardTurns), d.say.with(text, map[string]any{"Last": last, "Next": next, "Cycle": int(d.engine.Cycle())})
}

// together is what two turning wheels ask, nothing when they are alike.
func (d Deck) together() (question, answer string) {
	e, err := finding.WheelErrorOf(d.job)
	by := tenths(timing.Deg(math.Abs(float64(e.Value))))
	if err != nil || by.String() == "0" || finding.BasisOf(d.job) == known.Assumed {
		return "", ""
	}
	text := boardRightFirst
	if e.Value > 0 {
		text = boardDrilledFirst
	}
	return d.say.text(boardTogether), d.say.with(text, map[string]any{"By": by})
}

func tenths(d timing.Deg) phrase.Num { return phrase.Num{Value: float64(d), Decimals: 1} }
