package practice

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/lesson/class"
)

// An instructor writes a code on the board; learners whose computers have another job
// open, and other kinds chosen, are asked the instructor's questions; their result codes
// show the instructor which question failed.
func TestClassByCodes(t *testing.T) {
	u := practising(t, lesson.Stroke, lesson.TDC)
	p := u.Page.(*page)
	desktest.Retype(u.Window.Canvas(), p.choice.seed, "7")
	desktest.Retype(u.Window.Canvas(), p.choice.count, "4")
	p.choice.makeCode(p)
	code := p.choice.class.code.Text()
	x, err := class.ReadExercise(code)
	if err != nil {
		t.Fatalf("the code %q: %v", code, err)
	}
	want, err := x.Questions()
	if err != nil {
		t.Fatal(err)
	}
	var results []string
	for learner := 1; learner <= 2; learner++ {
		u := practising(t, lesson.Gears)
		u.OpenFile(t, desktest.File(t, "job.toml", "format = 1\n[engine]\nstrokes = 2\nfiring_order = [1, 3, 2]\n"))
		p := u.Page.(*page)
		p.side.Buttons[2].OnTapped()
		desktest.Retype(u.Window.Canvas(), p.choice.class.code, strings.ToLower(code)+"0")
		test.Tap(p.choice.begin)
		if p.course != nil || p.choice.class.code.Fault() == "" {
			t.Fatal("a code with a slip begins an exercise")
		}
		desktest.Retype(u.Window.Canvas(), p.choice.class.code, strings.ToLower(code))
		desktest.Retype(u.Window.Canvas(), p.choice.class.learner, string(rune('0'+learner)))
		test.Tap(p.choice.begin)
		for n := range want {
			if p.current == nil || p.current.Key() != want[n].Key() {
				t.Fatalf("learner %d is asked %v, want %v", learner, p.current, want[n].Ask)
			}
			answer(t, u, n != 2 && (n != 1 || learner == 1))
			entered(t, u, fyne.KeyReturn)
		}
		p.side.Buttons[2].OnTapped()
		if said := desktest.Words(p.choice.content); !strings.Contains(said, p.result()) || p.result() == "" {
			t.Errorf("the result %q is not shown", p.result())
		}
		test.Tap(p.choice.class.copy)
		results = append(results, u.App.Clipboard().Content())
	}
	u = practising(t)
	p = u.Page.(*page)
	p.showClass()
	for i, text := range append([]string{code}, results...) {
		entry := u.Entries(t)[min(i, 1)]
		entry.SetText(text)
		u.Window.Canvas().Focus(u.Entries(t)[1])
		if i > 0 {
			u.Press(t, "Add")
		}
	}
	said := u.Said()
	for _, want := range []string{"Question 3 (", "2 of 2 did not have it at once", "2, 3"} {
		if !strings.Contains(said, want) {
			t.Errorf("the class's results do not say %q: %q", want, said)
		}
	}
	u.Dismiss()
	p.showClass() // they are kept
	if again := u.Said(); !strings.Contains(again, "2 of 2 did not have it at once") {
		t.Errorf("opened again it says %q", again)
	}
	u.Press(t, "Add")
	if again := u.Said(); !strings.Contains(again, "no code was entered") && !strings.Contains(again, "No code was entered") {
		t.Errorf("without a code it says %q", again)
	}
}

// A number typed after the last question comes into the result; another exercise begins
// without a result, and the finished one stays until the next is finished.
func TestClassResultKeptAndNumbered(t *testing.T) {
	u := practising(t, lesson.Stroke)
	p := u.Page.(*page)
	x := class.Exercise{Kinds: lesson.Kinds(), Count: 2, Seed: 3}
	begin := func(x class.Exercise) {
		t.Helper()
		code, err := x.Code()
		if err != nil {
			t.Fatal(err)
		}
		p.TurnTo(code)
	}
	begin(x)
	for range 2 {
		answer(t, u, true)
		entered(t, u, fyne.KeyReturn)
	}
	desktest.Retype(u.Window.Canvas(), p.choice.class.learner, "12")
	if r, err := x.ReadResult(p.result()); err != nil || r.Learner != 12 || r.Right() != 2 {
		t.Errorf("the result is of learner %d with %d right, %v", r.Learner, r.Right(), err)
	}
	whole := p.result()
	other := x
	other.Seed = 4
	begin(other)
	if got := p.result(); got != "" {
		t.Errorf("another exercise begins with the result %q", got)
	}
	answer(t, u, true)
	if r, err := other.ReadResult(p.result()); err != nil || r.Learner != 12 {
		t.Errorf("after one question the result is of learner %d, %v", r.Learner, err)
	}
	p.begin()
	if got := p.result(); got != whole {
		t.Errorf("left, the result is %q, want the finished one %q", got, whole)
	}
}

// A code made from what is chosen goes when something else is chosen; one that was typed
// stays.
func TestCodeGoesStale(t *testing.T) {
	u := practising(t, lesson.Stroke)
	p := u.Page.(*page)
	desktest.Retype(u.Window.Canvas(), p.choice.seed, "7")
	p.choice.makeCode(p)
	if p.choice.class.code.Text() == "" {
		t.Fatalf("no code is made: %q", p.choice.class.code.Fault())
	}
	p.chooseKind(lesson.TDC, true)
	if got := p.choice.class.code.Text(); got != "" {
		t.Errorf("after another kind is chosen the code is still %q", got)
	}
	desktest.Retype(u.Window.Canvas(), p.choice.class.code, "2ABC")
	p.chooseKind(lesson.TDC, false)
	if got := p.choice.class.code.Text(); got != "2ABC" {
		t.Errorf("what was typed has become %q", got)
	}
}
