package practice

import (
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing/lesson"
)

// An instructor's number gives everybody the same questions.
func TestPracticeExercise(t *testing.T) {
	var all [2][]string
	for i := range all {
		u := practising(t)
		p := u.Page.(*page)
		p.record = lesson.Record{Kinds: map[lesson.Kind]lesson.Skill{lesson.TDC: {Level: 1 + 3*i}}}
		p.side.Buttons[2].OnTapped()
		test.Tap(p.choice.engines.Buttons[1])
		desktest.Retype(u.Window.Canvas(), p.choice.seed, "seven")
		desktest.Retype(u.Window.Canvas(), p.choice.count, "0")
		test.Tap(p.choice.begin)
		if p.course != nil || p.choice.seed.Fault() == "" || p.choice.count.Fault() == "" {
			t.Fatal("an exercise without a number begins")
		}
		desktest.Retype(u.Window.Canvas(), p.choice.seed, "7")
		desktest.Retype(u.Window.Canvas(), p.choice.count, "4")
		entered(t, u, fyne.KeyReturn)
		for n := 1; n <= 4; n++ {
			if p.course == nil || !strings.Contains(p.standing.Text, "of 4") {
				t.Fatalf("question %d: %q", n, p.standing.Text)
			}
			all[i] = append(all[i], p.given.Text+p.ask.Text)
			answer(t, u, n%2 == 0)
			if done := strings.Contains(p.verdict.Text, "The exercise is finished: 2 of 4 correct."); done != (n == 4) {
				t.Errorf("after question %d: %q", n, p.verdict.Text)
			}
			entered(t, u, fyne.KeyReturn)
		}
		if p.course != nil || p.current == nil {
			t.Error("after the exercise nothing is asked")
		}
	}
	want, err := lesson.Exercise(lesson.Source{}, lesson.Kinds(), 7, 4)
	if err != nil {
		t.Fatal(err)
	}
	for n := range all[0] {
		if all[0][n] != all[1][n] || all[0][n] != spaced(want[n].Given)+want[n].Ask.String() {
			t.Errorf("question %d is %q for the one, %q for the other", n+1, all[0][n], all[1][n])
		}
	}
}

// The exercise is written with its answers beside it, and nothing is replaced
// without asking.
func TestPracticePrints(t *testing.T) {
	u := practising(t)
	p := u.Page.(*page)
	test.Tap(p.side.Buttons[2])
	test.Tap(p.choice.print)
	if u.Said() != "" || p.choice.seed.Fault() == "" {
		t.Fatal("an exercise without a number is printed")
	}
	desktest.Retype(u.Window.Canvas(), p.choice.seed, "7")
	desktest.Retype(u.Window.Canvas(), p.choice.count, "3")
	folder := t.TempDir()
	for _, again := range []bool{false, true} {
		test.Tap(p.choice.print)
		fields := u.Entries(t)
		if fields[0].Text != "exercise-7.pdf" {
			t.Errorf("the name offered is %q", fields[0].Text)
		}
		fields[1].SetText(folder)
		u.Press(t, "Save")
		if again {
			u.Press(t, "Replace")
			u.Press(t, "Replace")
		}
		if got := u.Said(); !strings.Contains(got, "exercise-7-answers.pdf") {
			t.Errorf("after writing the window says %q", got)
		}
		u.Dismiss()
		for _, name := range []string{"exercise-7.pdf", "exercise-7-answers.pdf"} {
			if !strings.HasPrefix(desktest.Read(t, filepath.Join(folder, name)), "%PDF-") {
				t.Errorf("%s is no PDF", name)
			}
		}
	}
	p.kinds = nil
	test.Tap(p.choice.print)
	if got := u.Said(); !strings.Contains(got, "Choose at least one kind") {
		t.Errorf("without a kind the window says %q", got)
	}
}
