package sheet

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/quantity"
)

// variants are the inputs of some variants of an exercise with made-up engines.
func variants(t *testing.T, n, count int) []ExerciseInput {
	t.Helper()
	var list []ExerciseInput
	for i := range n {
		seed := uint64(7 + i)
		questions, err := lesson.Exercise(lesson.Source{}, lesson.Kinds(), seed, count)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, ExerciseInput{Questions: questions, Seed: seed, Date: time.Date(2026, 3, 31, 0, 0, 0, 0, time.UTC),
			Say: language.New("en", quantity.Units{}).Say})
	}
	return list
}

// The key has every question once, and beside it what the answers to each variant's own
// exercise say of it: the long answer sheets, made one by one, say the same.
func TestKeyOfVariants(t *testing.T) {
	list := variants(t, 3, 9)
	key := KeySheet(list)
	var table Table
	for _, b := range key.Blocks {
		if t, ok := b.(Table); ok {
			table = t
		}
	}
	if len(table.Columns) != 4 || len(table.Rows) != 9 {
		t.Fatalf("%d columns and %d rows, want 4 and 9", len(table.Columns), len(table.Rows))
	}
	differ := 0
	for i, in := range list {
		var own Table
		for _, b := range AnswerSheet(in).Blocks {
			if t, ok := b.(Table); ok {
				own = t
			}
		}
		for n, row := range table.Rows {
			kind, answer, _ := strings.Cut(row[1+i], "\n")
			if answer != own.Rows[n][1] || own.Rows[n][0] != fmt.Sprintf("%d. %s", n+1, kind) {
				t.Errorf("question %d, variant %d: %q, its own answers say %q", n+1, i, row[1+i], own.Rows[n])
			}
			if i > 0 && row[1+i] != row[1] {
				differ++
			}
		}
	}
	if differ < 9 { // of 18: where one is to choose from two the same may be right
		t.Errorf("only %d of 18 answers differ from variant A's", differ)
	}
}

// Each variant begins on a page of its own, under its letter, with room for a name.
func TestVariantsBeginOnAPage(t *testing.T) {
	d := VariantsSheet(variants(t, 3, 4))
	found := 0
	for _, page := range d.Pages(A4) {
		for _, s := range textsOf(page) {
			if strings.HasPrefix(s, "Exercise 7, variant ") {
				found++
				if first := textsOf(page)[0]; first != s {
					t.Errorf("%q is not the first on its page, %q is", s, first)
				}
			}
		}
	}
	if found != 3 {
		t.Errorf("%d pages begin a variant, want 3", found)
	}
}

// textsOf are the texts of a page, in the order in which they were set.
func textsOf(page figure.Drawing) (list []string) {
	for _, s := range page.Shapes {
		if t, ok := s.(figure.Text); ok {
			list = append(list, t.S)
		}
	}
	return list
}

// The cycle diagram to fill in gives nothing away: no stroke, no dead centre. The answers
// have both, cylinder by cylinder where the running sum of the intervals puts it.
func TestDiagramToFillIn(t *testing.T) {
	in := variants(t, 1, 1)[0]
	in.Diagram = true
	j := in.Questions[0].Job
	j.Engine.Strokes, j.Engine.FiringOrder, j.Engine.FiringIntervalsDeg = 4, []int{1, 3, 4, 2}, nil
	in.Questions[0].Job = j
	diagram := func(d Document) (words string, f Figure) {
		g, ok := d.Blocks[len(d.Blocks)-1].(Group)
		if !ok {
			t.Fatalf("the last block is %T", d.Blocks[len(d.Blocks)-1])
		}
		return g.Blocks[1].(Paragraph).Text, g.Blocks[2].(Figure)
	}
	asked, blank := diagram(ExerciseSheet(in))
	if !strings.Contains(asked, "1-3-4-2") || !strings.Contains(asked, "180°") {
		t.Errorf("it asks %q", asked)
	}
	is, solved := diagram(AnswerSheet(in))
	for i, name := range []string{"power", "exhaust", "intake", "compression"} {
		if strings.Contains(strings.Join(textsOf(blank.Drawing), " "), name) {
			t.Errorf("the blank diagram says %q", name)
		}
		if !strings.Contains(strings.Join(textsOf(solved.Drawing), " "), name) {
			t.Errorf("the solved diagram does not say %q", name)
		}
		if want := fmt.Sprintf("cylinder %d at %d°", []int{1, 3, 4, 2}[i], 180*i); !strings.Contains(is, want) {
			t.Errorf("the answer is %q, want %q in it", is, want)
		}
	}
}
