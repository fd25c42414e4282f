package board

import (
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/job"
)

// onBoard opens the board on a bare desk.
func onBoard(t *testing.T, u *desktest.Bench) *Board {
	t.Helper()
	b := Open(u.Desk, nil, false, u.SetSpeed, func() {})
	u.Shows = b.Load
	return b
}

func (b *Board) typed(names ...fyne.KeyName) {
	for _, n := range names {
		b.View.TypedKey(&fyne.KeyEvent{Name: n})
	}
}

func (b *Board) sentence() string { return b.deck.Page(b.page, b.shown).Sentence }

// A presenter's remote has two keys: forward shows the answer and then the next
// question, and back goes the same way back.
func TestBoardWithARemote(t *testing.T) {
	b := onBoard(t, desktest.Bare(t))
	forward := []string{"Cylinder 5 fires next", "Cylinder 5 fires at 120°", "Cylinder 3 fires next", "Cylinder 3 fires at 240°"}
	for _, want := range forward {
		b.typed(fyne.KeyPageDown)
		if !strings.HasPrefix(b.sentence(), want) {
			t.Fatalf("forward: %q, want %q", b.sentence(), want)
		}
	}
	for i := len(forward) - 2; i >= 0; i-- {
		b.typed(fyne.KeyPageUp)
		if !strings.HasPrefix(b.sentence(), forward[i]) {
			t.Fatalf("back: %q, want %q", b.sentence(), forward[i])
		}
	}
	b.typed(fyne.KeyPeriod)
	if s := b.View.AccessibilityLabel(); strings.Contains(s, "fires") {
		t.Errorf("black, it shows %q", s)
	}
	was := b.sentence()
	b.typed(fyne.KeyPageDown)
	if !strings.Contains(b.View.AccessibilityLabel(), was) {
		t.Errorf("after black it shows %q, want %q", b.View.AccessibilityLabel(), was)
	}
}

func TestBoardToItsEnds(t *testing.T) {
	b := onBoard(t, desktest.Bare(t))
	b.typed(fyne.KeyPageUp, fyne.KeyLeft)
	if b.page != 0 || b.shown.Answer {
		t.Errorf("back from the first question is page %d", b.page)
	}
	for range 3 * b.deck.Len() {
		b.typed(fyne.KeySpace)
	}
	if b.page != b.deck.Len()-1 || !b.shown.Answer {
		t.Errorf("the end is page %d of %d", b.page, b.deck.Len())
	}
	b.typed(fyne.KeyHome)
	if b.page != 0 || b.shown.Answer {
		t.Error("Home does not go back to the first question")
	}
	b.typed(fyne.KeyEnd)
	if b.page != b.deck.Len()-1 {
		t.Error("End does not go to the last page")
	}
	for key, c := range map[fyne.KeyName]chart.Chapter{fyne.Key1: chart.FiringOrder, fyne.Key2: chart.Pairs, fyne.Key3: chart.Fault, fyne.Key4: chart.Turning} {
		b.typed(key)
		if first, _ := b.deck.First(c); b.page != first {
			t.Errorf("key %s opens page %d, want %d", key, b.page, first)
		}
	}
}

func TestBoardByMouse(t *testing.T) {
	b := onBoard(t, desktest.Bare(t))
	b.View.Tapped(nil)
	if !b.shown.Answer || b.page != 0 {
		t.Error("a click does not show the answer")
	}
	b.View.Tapped(nil)
	if b.shown.Answer || b.page != 1 {
		t.Error("a second click does not go on")
	}
	b.View.TappedSecondary(nil)
	if !b.shown.Answer || b.page != 0 {
		t.Error("the other button does not go back")
	}
	b.View.Scrolled(&fyne.ScrollEvent{Scrolled: fyne.Delta{DY: -25}})
	if b.shown.Turned != 1 {
		t.Errorf("the mouse wheel turns the crank by %g", float64(b.shown.Turned))
	}
}

func TestBoardAnswersAndNames(t *testing.T) {
	b := onBoard(t, desktest.Bare(t))
	b.typed(fyne.KeyA)
	if !b.shown.Answer || b.page != 0 {
		t.Error("A does not answer")
	}
	b.typed(fyne.KeyA, fyne.KeyS)
	if b.shown.Answer || !b.shown.Names {
		t.Error("S does not name the strokes before the answer")
	}
	b.typed(fyne.KeyRight, fyne.KeyRight)
	if !b.shown.Names || b.shown.Answer {
		t.Error("on the next page the names are gone, or the answer is there")
	}
}

// Fyne's driver for tests ends an animation at once: the crank is run by hand.
func TestBoardRuns(t *testing.T) {
	u := desktest.Bare(t)
	b := onBoard(t, u)
	b.typed(fyne.KeyR)
	if !b.run.On() {
		t.Fatal("R does not run the crank")
	}
	b.run.Advance(100 * time.Millisecond)
	if b.shown.Turned < 2.9 || b.shown.Turned > 3.2 { // 30 degrees a second, and what the driver has added
		t.Errorf("after a tenth of a second it has turned by %g", float64(b.shown.Turned))
	}
	b.typed(fyne.KeyPlus)
	if b.run.Speed != 90 || u.Run.Speed != 90 || u.Prefs.Float(desk.PrefSpeed) != 90 {
		t.Errorf("faster is %g", b.run.Speed)
	}
	b.typed(fyne.KeyMinus, fyne.KeyMinus, fyne.KeyMinus, fyne.KeyMinus)
	if b.run.Speed != desk.Speeds[0] {
		t.Errorf("slowest is %g", b.run.Speed)
	}
	b.typed(fyne.KeyR)
	turned := b.shown.Turned
	if b.run.On() {
		t.Error("R does not pause")
	}
	b.typed(fyne.KeyUp, fyne.KeyUp, fyne.KeyDown)
	if got := b.shown.Turned - turned; got < 0.999 || got > 1.001 {
		t.Errorf("the arrows have turned it by %g", float64(got))
	}
	b.typed(fyne.KeyPageUp)
	if b.shown.Turned != 0 || b.page != 0 {
		t.Error("back does not first turn the crank back")
	}
	b.typed(fyne.KeyR)
	b.typed(fyne.KeyEscape)
	if b.run.On() {
		t.Error("the crank runs on after the board is left")
	}
}

// The board follows the job: what is changed on the instructor's screen is shown.
func TestBoardFollowsTheJob(t *testing.T) {
	u := desktest.Bare(t)
	b := onBoard(t, u)
	b.typed(fyne.Key3, fyne.KeyPageDown)
	if !strings.Contains(b.sentence(), "28° behind") {
		t.Fatalf("it says %q", b.sentence())
	}
	u.Edit("dowel.drawing.angle_deg", func(j *job.Job) { j.Dowel.Drawing.AngleDeg = job.Num(10) })
	if !strings.Contains(b.sentence(), "24° behind") || !b.shown.Answer {
		t.Errorf("after the drawing was changed it says %q", b.sentence())
	}
	u.Edit("engine.firing_order", func(j *job.Job) { j.Engine.FiringOrder = []int{1, 2} })
	if b.deck.Chapter(b.page) != chart.Fault {
		t.Error("it has left the fault")
	}
	b.typed(fyne.Key1, fyne.KeyEnd, fyne.Key2)
	if b.page >= b.deck.Len() {
		t.Errorf("page %d of %d", b.page, b.deck.Len())
	}
	u.OpenDemo()
	u.Undo()
	if b.closed {
		t.Error("another job has closed the board")
	}
}

func TestBoardDarkOrLight(t *testing.T) {
	u := desktest.Bare(t)
	u.Look = &kit.Look{Choice: "dark", Scale: 1}
	b := onBoard(t, u)
	if !b.dark {
		t.Error("in a dark window the board is light")
	}
	b.typed(fyne.KeyD)
	if b.dark {
		t.Error("D does not make it light")
	}
	b.Leave()
	if b = onBoard(t, u); b.dark {
		t.Error("the next board is dark again")
	}
}

func TestBoardHint(t *testing.T) {
	b := onBoard(t, desktest.Bare(t))
	if b.hint.content.Visible() || b.View.Pointer { // the driver for tests is through with it at once
		t.Error("the keys do not go away")
	}
	b.typed(fyne.KeyH)
	if !b.hint.content.Visible() || !b.View.Pointer {
		t.Fatal("H does not show the keys")
	}
	test.Tap(desktest.KeyOn(t, b.hint.content, "S stroke names"))
	if !b.shown.Names {
		t.Error("the mouse does not press S")
	}
	at := b.shown.Turned
	test.Tap(desktest.KeyOn(t, b.hint.content, "↑ forward 1°"))
	if b.shown.Turned != at+1 {
		t.Errorf("forward 1° turns the crank from %v to %v", at, b.shown.Turned)
	}
	b.typed(fyne.KeyPlus)
	if !strings.Contains(b.hint.words.Text, "90°/s") {
		t.Errorf("faster, it says %q", b.hint.words.Text)
	}
	b.typed(fyne.KeyH)
	if b.hint.content.Visible() {
		t.Error("H does not hide the keys")
	}
	b.typed(fyne.KeyH)
	test.Tap(desktest.KeyOn(t, b.hint.content, "Esc close the board"))
	if !b.closed {
		t.Error("the mouse does not leave the board")
	}
}
