package chart

import (
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson/plan"
)

// A lesson shows its pages in its own order, each of its own engine, with the
// instructor's words where they are the instructor's; the crank can be turned on every
// page, and what an instructor wrote stays on it.
func TestLessonDeck(t *testing.T) {
	t.Parallel()
	l, six := plan.Lesson{}.WithEngine("Six", job.New(sample.Demo(t)))
	l, one := l.WithEngine("One", job.New(sample.Read(t, "[engine]\nstrokes = 4\nfiring_order = [1]\n")))
	l = l.WithPages([]plan.Page{
		{Engine: one, Show: plan.FiringOrder},
		{Engine: six, Show: plan.Cycle, AtDeg: 120, Question: "Whose injection is it?", Answer: "That of cylinder 5."},
		{Engine: one, Show: plan.Pairs}, // one cylinder has no pair: nothing
		{Engine: six, Show: plan.Wheels, Question: "Look at both."},
		{Engine: six, Show: plan.Wheel, AtDeg: 30, Question: "Where is the gap?"},
		{Engine: six, Show: plan.Fault},
	})
	d, err := NewLessonDeck(l, DeckOptions{})
	if err != nil {
		t.Fatal(err)
	}
	want := []string{"Cylinder 1 fires at 0°", "Whose injection is it? That of cylinder 5.", "Look at both. Look at both.", "Where is the gap?", "What differs?", "On the correct wheel", "The ECU", "Where in the cycle"}
	if d.Len() != len(want) {
		t.Fatalf("%d pages, want %d", d.Len(), len(want))
	}
	for i, w := range want {
		got := d.Page(i, PageView{}).Sentence + " " + d.Page(i, PageView{Answer: true}).Sentence
		if !strings.Contains(got, w) {
			t.Errorf("page %d says %q, want %q", i, got, w)
		}
		for _, v := range []PageView{{}, {Answer: true}, {Turned: 33.3, Answer: true}} {
			if in := d.Page(i, v); len(figure.Board(in, 1.6).Shapes) < 10 || in.Desc == "" {
				t.Errorf("page %d shows %+v", i, in)
			}
		}
	}
	if s := d.Page(1, PageView{Turned: 40, Answer: true}).Sentence; s != "That of cylinder 5." {
		t.Errorf("turned on, an instructor's page says %q", s)
	}
	if first, ok := d.First(Fault); !ok || first != 4 {
		t.Errorf("the fault begins at %d, %v", first, ok)
	}
	empty, err := NewLessonDeck(plan.Lesson{}, DeckOptions{})
	if err != nil || empty.Len() != 1 || empty.Page(0, PageView{Answer: true}).Sentence != string(boardNothing) {
		t.Errorf("an empty lesson: %d pages, %v", empty.Len(), err)
	}
}
