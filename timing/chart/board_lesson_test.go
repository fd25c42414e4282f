package chart

import (
	"math"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson/plan"
)

// An instructor may ask about anything on a page: the valves and the wheel's labels are
// there, before the answer and with it. Two wheels of which one was never measured would
// say that nothing is wrong: there is one, and it says so.
func TestOwnPagesShowWhatTheyAskAbout(t *testing.T) {
	t.Parallel()
	l, six := plan.Lesson{}.WithEngine("Six", job.New(sample.Demo(t)))
	unmeasured := sample.Demo(t)
	unmeasured.Dowel.Measured = nil
	l, open := l.WithEngine("Open", job.New(unmeasured))
	l = l.WithPages([]plan.Page{
		{Engine: six, Show: plan.Cycle, Question: "Which valves are open?"},
		{Engine: six, Show: plan.Wheel, Question: "Where is the gap?"},
		{Engine: six, Show: plan.Wheels, Question: "What differs?"},
		{Engine: open, Show: plan.Wheels, Question: "What differs?"},
	})
	d, err := NewLessonDeck(l, DeckOptions{})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range [][]string{
		{string(wordIntakeOpen), string(wordExhaustOpen)},
		{string(wordTooth1), string(wordGap)},
		{string(wordTooth1), string(wordGap), string(wordBoardDrilled)},
		{"No dowel was measured"},
	} {
		for _, answer := range []bool{false, true} {
			drawn := texts(d.Page(i, PageView{Answer: answer}))
			for _, w := range want {
				if !strings.Contains(drawn, w) {
					t.Errorf("page %d, answered %v, lacks %q:\n%s", i, answer, w, drawn)
				}
			}
		}
	}
	if in := d.Page(3, PageView{}); len(in.Panels) != 1 {
		t.Errorf("of an unmeasured wheel there are %d panels", len(in.Panels))
	}
}

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

// On every page of the firing order the answer's arrow ends at the cursor, also where
// both are at the end of the cycle.
func TestArrowEndsAtTheCursor(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"strokes = 4\nfiring_order = [1, 5, 3, 6, 2, 4]", "strokes = 4\nfiring_order = [1]", "strokes = 2\nfiring_order = [1, 3, 2]\nfiring_intervals_deg = [100.1, 129.7, 130.2]"} {
		d, err := NewDeck(sample.Read(t, "[engine]\n"+text+"\n"), DeckOptions{})
		if err != nil {
			t.Fatal(err)
		}
		for i := 0; d.Chapter(i) == FiringOrder; i++ {
			var cursor, head float64
			for _, s := range figure.Board(d.Page(i, PageView{Answer: true}), 1.6).Shapes {
				switch s := s.(type) {
				case figure.Marker:
					if s.Kind == figure.Arrowhead && s.Role == figure.Cursor {
						head = s.X
					}
				case figure.Path:
					if s.Stroke == figure.Cursor && s.Weight == figure.Medium {
						cursor = s.Segs[0].X
					}
				}
			}
			if head == 0 || math.Abs(head-cursor) > 0.01 {
				t.Errorf("%s: page %d has the arrow's head at %g and the cursor at %g", text, i, head, cursor)
			}
		}
	}
}
