package chart

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/lesson/plan"
	"pinphase.org/pinphase/timing/phrase"
)

// boardNothing stands on the board where a lesson has nothing to show.
const boardNothing phrase.Text = "The lesson has no pages yet."

// showsChapter are the chapters that a lesson can have of an engine.
var showsChapter = map[plan.Show]Chapter{plan.FiringOrder: FiringOrder, plan.Pairs: Pairs, plan.Fault: Fault, plan.Turning: Turning}

// unmeasured tells whether nobody has measured how the wheel sits.
func (d *Deck) unmeasured() bool {
	_, err := finding.WheelErrorOf(d.job)
	return err != nil || finding.BasisOf(d.job) == known.Assumed
}

// NewLessonDeck returns what there is to show of a lesson, in its order. What an engine
// has nothing to show in is left out.
func NewLessonDeck(l plan.Lesson, o DeckOptions) (Deck, error) {
	decks := map[string]*Deck{}
	for _, e := range l.Engines {
		d, err := NewDeck(e.Doc.Job(), o)
		if err != nil {
			return Deck{}, err
		}
		decks[e.Name] = &d
	}
	var all Deck
	for _, p := range l.Pages {
		of := decks[p.Engine]
		if of == nil {
			continue // a lesson that was read has none
		}
		if p.Show.Own() {
			page := boardPage{of: of, chapter: Own, at: timing.Deg(p.AtDeg), drilledAt: timing.Deg(p.AtDeg), question: p.Question, answer: p.Answer, marks: true, turning: true,
				wheels: map[plan.Show]int{plan.Wheel: 1, plan.Wheels: 2}[p.Show]}
			if page.wheels == 2 && of.unmeasured() { // two that are alike would say that nothing is wrong
				page.wheels, page.heading = 1, o.Say.text(wordNotMeasured)
			}
			if page.answer == "" {
				page.answer = page.question
			}
			all.pages = append(all.pages, page)
			continue
		}
		for _, page := range of.pages {
			if page.chapter == showsChapter[p.Show] {
				page.of = of
				all.pages = append(all.pages, page)
			}
		}
	}
	if len(all.pages) == 0 {
		all.pages = []boardPage{{chapter: Own, question: o.Say.text(boardNothing), answer: o.Say.text(boardNothing), turning: true, empty: true}}
	}
	return all, nil
}
