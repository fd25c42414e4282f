package course

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/lesson/course"
)

// open returns the page at its first step, large enough for its figures.
func open(t *testing.T, code string) (*desktest.Bench, *page) {
	t.Helper()
	u := desktest.New(t, Kind)
	if code != "en" {
		u.Prefs.SetString(desk.PrefLanguage, code)
		u.Rebuild()
	}
	u.Window.Resize(fyne.NewSize(1366, 768))
	u.OpenPage(name, "")
	p := u.Page.(*page)
	if len(p.steps) == 0 {
		t.Fatal("there are no steps")
	}
	return u, p
}

// press gives a key to what has the keyboard, as the window does.
func press(t *testing.T, u *desktest.Bench, key fyne.KeyName, times int) {
	t.Helper()
	for range times {
		to := u.Window.Canvas().Focused()
		if to == nil {
			t.Fatalf("nothing has the keyboard for %s", key)
		}
		to.TypedKey(&fyne.KeyEvent{Name: key})
	}
}

// TestTheCourseByKeysAlone goes through every step with arrow keys, page keys, digits and
// Enter, in each language. Where to go comes from the step's file, how from what the help
// says of the keys.
func TestTheCourseByKeysAlone(t *testing.T) {
	for _, code := range language.Codes {
		t.Run(code, func(t *testing.T) {
			u, p := open(t, code)
			p.begin(0)
			for i := range p.steps {
				s := p.steps[i]
				if p.at != i {
					t.Fatalf("step %d is shown, want %d", p.at, i)
				}
				press(t, u, fyne.KeyReturn, 1) // not right yet: the hint comes
				if p.over || !p.tip.Visible() || p.reason.Visible() {
					t.Fatalf("%s: after a wrong answer: over %v, hint shown %v, reason shown %v", s.Name, p.over, p.tip.Visible(), p.reason.Visible())
				}
				if s.Moves() == course.Cylinder {
					u.Window.Canvas().Focused().TypedRune(rune('0' + int(s.Aim.Answer)))
				} else {
					walkTo(t, u, p, s.Aim.Answer)
				}
				press(t, u, fyne.KeyReturn, 1)
				if !p.over || !p.reason.Visible() || !done(u.Prefs, s.Name) {
					t.Fatalf("%s: at %g: over %v, reason shown %v, kept %v", s.Name, p.stage.value(), p.over, p.reason.Visible(), done(u.Prefs, s.Name))
				}
				if i < len(p.steps)-1 {
					press(t, u, fyne.KeyReturn, 1) // Next step has the keyboard
				}
			}
			if words := p.progress.Text; !strings.Contains(words, "14") || strings.Contains(words, "13") {
				t.Errorf("at the end it says %q", words)
			}
		})
	}
}

// walkTo goes to a place by quarter turns, or turns, and degrees.
func walkTo(t *testing.T, u *desktest.Bench, p *page, to float64) {
	t.Helper()
	coarse := 90.0
	if p.stage.far() {
		coarse = 360
	}
	way := to - p.stage.at
	if n := math.Trunc(way / coarse); n > 0 {
		press(t, u, fyne.KeyPageDown, int(n))
	} else {
		press(t, u, fyne.KeyPageUp, int(-n))
	}
	way = to - p.stage.at
	if way > 0 {
		press(t, u, fyne.KeyRight, int(way))
	} else {
		press(t, u, fyne.KeyLeft, int(-way))
	}
}

// TestTheCourseByMouseAlone does every step by clicks and drags on the figures and on
// buttons.
func TestTheCourseByMouseAlone(t *testing.T) {
	u, p := open(t, "en")
	for i, s := range p.steps {
		p.begin(i)
		strip := func(name string, times int) {
			for range times {
				desktest.TapButton(t, p.stage.content, name)
			}
		}
		switch {
		case s.Moves() == course.Cylinder:
			u.Window.Canvas().Unfocus()
			tapCylinder(t, p, int(s.Aim.Answer))
		case s.Figures[0] == "cycle":
			v := p.stage.cycle
			v.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: place(p, s.Aim.Answer)}, Button: desktop.MouseButtonPrimary})
		default:
			coarse, fine := 10.0, 1.0
			if p.stage.far() {
				coarse, fine = 360, 10
			}
			way, sign := s.Aim.Answer-p.stage.at, "+"
			if way < 0 {
				way, sign = -way, "−"
			}
			strip(fmt.Sprintf("%s%g°", sign, coarse), int(way/coarse))
			strip(fmt.Sprintf("%s%g°", sign, fine), int(math.Round(math.Mod(way, coarse)/fine)))
		}
		desktest.TapButton(t, p.scroll, "Check")
		if !p.over || !done(u.Prefs, s.Name) {
			t.Errorf("%s: at %g it is not reached", s.Name, p.stage.value())
		}
	}
}

// place is where a crank angle lies on the cycle view, found from where the cursor goes
// at two clicks.
func place(p *page, at float64) fyne.Position {
	v := p.stage.cycle
	y := v.Size().Height / 3
	click := func(x float32) float64 {
		v.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}, Button: desktop.MouseButtonPrimary})
		return p.stage.at
	}
	x1, x2 := 0.35*v.Size().Width, 0.6*v.Size().Width
	a1 := click(x1)
	a2 := click(x2)
	return fyne.NewPos(x1+float32((at-a1)/(a2-a1))*(x2-x1), y)
}

// tapCylinder clicks along the drawn engine until a cylinder is chosen.
func tapCylinder(t *testing.T, p *page, cylinder int) {
	t.Helper()
	v := p.stage.engine
	for x := float32(0); x < v.Size().Width; x += 10 {
		v.Tapped(&fyne.PointEvent{Position: fyne.NewPos(x, v.Size().Height/2)})
		if p.stage.chosen == cylinder {
			return
		}
	}
	t.Errorf("no click on the engine chooses cylinder %d", cylinder)
}

// TestAnswerShownIsNotDone: who has the answer shown has not done the step, and may try
// it once more; the hint comes first.
func TestAnswerShownIsNotDone(t *testing.T) {
	u, p := open(t, "en")
	p.TurnTo("04-overlap")
	if p.showMe.Visible() {
		t.Error("the answer is offered before the hint")
	}
	desktest.TapButton(t, p.scroll, "Hint")
	desktest.TapButton(t, p.scroll, "Show me")
	if s := p.steps[p.at]; !s.Reached(p.stage.value()) || done(u.Prefs, s.Name) || !p.reason.Visible() {
		t.Errorf("shown: at %g, kept %v, reason %v", p.stage.value(), done(u.Prefs, s.Name), p.reason.Visible())
	}
	desktest.TapButton(t, p.scroll, "Once more")
	if p.over || p.stage.at != p.steps[p.at].Start {
		t.Errorf("once more: over %v, at %g", p.over, p.stage.at)
	}
}

// TestDoneStepLeadsToPractice: what was explained can be practised, once it is done.
func TestDoneStepLeadsToPractice(t *testing.T) {
	u, p := open(t, "en")
	p.TurnTo("07-paired-cylinders")
	if words := desktest.Words(p.practise); words != "" {
		t.Errorf("before it is done it offers %q", words)
	}
	p.stage.choose(5)
	p.try()
	desktest.TapButton(t, p.practise, "Practise: Paired cylinders")
	if asked, _ := u.Away(); asked != "practice companion" {
		t.Errorf("it opened %q", asked)
	}
}

// TestCourseLeavesTheJobAlone: neither the job nor its crankshaft moves, and another
// language goes on at the same place.
func TestCourseLeavesTheJobAlone(t *testing.T) {
	u, p := open(t, "en")
	was := u.Session.Job()
	p.TurnTo("11-dowel-and-keyway")
	p.stage.put(-5)
	u.Is(t, was)
	if u.At != timing.Deg(0) || u.Supposes() {
		t.Errorf("the job's crankshaft is at %v, what-if %v", u.At, u.Supposes())
	}
	u.Prefs.SetString(desk.PrefLanguage, "de")
	u.Rebuild()
	u.OpenPage(name, "")
	p = u.Page.(*page)
	if p.stage.at != -5 || p.title.Text != "Passstift und Nut" {
		t.Errorf("in German at %g: %q", p.stage.at, p.title.Text)
	}
}

// TestDialShowsTDCOnceFound: a correct answer draws the dead centre on the degree wheel at
// once, and the step has the cautions beside it.
func TestDialShowsTDCOnceFound(t *testing.T) {
	u, p := open(t, "en")
	p.TurnTo("01-one-cylinder")
	if p.care.Visible() {
		t.Error("cautions beside a drawing only")
	}
	p.TurnTo("14-measuring-tdc")
	if words := desktest.Words(p.care); !p.care.Visible() || !strings.Contains(words, "only by hand") {
		t.Errorf("the cautions say %q, shown: %v", words, p.care.Visible())
	}
	p.stage.put(p.steps[p.at].Aim.Answer)
	before := desktest.Painted(p.stage.dial)
	p.try()
	found := desktest.Painted(p.stage.dial)
	if p.stage.load(); found == before || found != desktest.Painted(p.stage.dial) {
		t.Error("the dial was not drawn anew when the answer was correct")
	}
	u.Window.Resize(fyne.NewSize(1000, 480)) // the cautions alone would fill it
	p.reveal()
	if end := p.judged.Position().Y + p.judged.Size().Height; p.scroll.Offset.Y > p.judged.Position().Y || end > p.scroll.Offset.Y+p.scroll.Size().Height+1 {
		t.Errorf("what was said lies at %g to %g, shown is %g on", p.judged.Position().Y, end, p.scroll.Offset.Y)
	}
}

// TestArrowsUpAndDownMove: where no cylinder is asked for, the arrows up and down on the
// engine turn the crankshaft, and a click on a row's name moves the cursor.
func TestArrowsUpAndDownMove(t *testing.T) {
	_, p := open(t, "en")
	p.TurnTo("01-one-cylinder")
	was := p.stage.at
	p.stage.engine.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	if p.stage.at != was+1 {
		t.Errorf("after the arrow up it is at %g, want %g", p.stage.at, was+1)
	}
	p.TurnTo("02-four-strokes")
	if p.stage.cycle.OnRow != nil || p.stage.engine.OnCylinder != nil {
		t.Error("a cylinder can be chosen in a step that asks for none")
	}
	p.TurnTo("06-firing-order")
	p.stage.engine.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	if p.stage.cycle.OnRow == nil || p.stage.chosen == 0 {
		t.Error("no cylinder can be chosen where one is asked for")
	}
}

// TestStepIsAsItWasAfterRebuild: the chosen row and what was said are there again when the
// window is built anew, the words in its language.
func TestStepIsAsItWasAfterRebuild(t *testing.T) {
	u, p := open(t, "en")
	p.TurnTo("06-firing-order")
	without := desktest.Painted(p.stage.cycle)
	p.stage.choose(2)
	p.try()
	with, said := desktest.Painted(p.stage.cycle), p.verdict.Text
	u.Rebuild()
	u.OpenPage(name, "")
	p = u.Page.(*page)
	if got := desktest.Painted(p.stage.cycle); got != with || got == without {
		t.Error("the chosen row is not set off after the rebuild")
	}
	if said != "Not correct yet." || p.verdict.Text != said || !p.verdict.Visible() {
		t.Errorf("it says %q after the rebuild, before %q", p.verdict.Text, said)
	}
	u.Prefs.SetString(desk.PrefLanguage, "de")
	u.Rebuild()
	u.OpenPage(name, "")
	if p = u.Page.(*page); p.verdict.Text != "Noch nicht richtig." {
		t.Errorf("in German it says %q", p.verdict.Text)
	}
}

// TestNoStepsIsNoFault: without steps to read, keys and buttons have nothing to do.
func TestNoStepsIsNoFault(t *testing.T) {
	_, p := open(t, "en")
	p.steps, p.at, p.stage.step = nil, 0, course.Step{}
	p.stage.focus()
	p.Load()
	p.Key(&fyne.KeyEvent{Name: fyne.KeyPageDown})
	p.try()
	if p.over {
		t.Error("nothing was reached")
	}
}
