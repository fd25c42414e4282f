package cause

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/phrase"
)

// causing returns the window with the cause page shown, of the demo job or of
// another, doing nothing beside the main goroutine.
func causing(t testing.TB, text string) (*desktest.Bench, *page) {
	t.Helper()
	u := desktest.New(t, Kind)
	u.InTurn = true
	if text != "" {
		u.OpenFile(t, desktest.File(t, "job.toml", text))
	}
	u.OpenPage("cause", "")
	return u, u.Page.(*page)
}

// untouched is the demo job with nothing measured on the crankshaft.
func untouched(evidence ...string) string {
	var lines []string
	for _, line := range strings.Split(string(assets.DemoJob), "\n") {
		if !strings.HasPrefix(line, "measured") {
			lines = append(lines, line)
		}
	}
	for _, e := range evidence {
		lines = append(lines, "[[evidence]]\n"+e)
	}
	return strings.Join(lines, "\n")
}

// answer chooses a word of a kind of evidence, as a press of its button or its place
// in the list does; 0 is not known.
func (p *page) answer(t testing.TB, kind string, i int) {
	t.Helper()
	a := p.known.rows[kind].list[0].(*wordAnswer)
	if a.row != nil {
		test.Tap(a.row.buttons[i])
	} else {
		a.sel.SetSelectedIndex(i)
	}
}

// number is the n-th answer of a kind that is a number.
func (p *page) number(kind string, n int) *numberAnswer {
	return p.known.rows[kind].list[n].(*numberAnswer)
}

// read types a number, and which way it is off where that matters (−1: not said).
func (p *page) read(t testing.TB, kind string, n int, text string, way int) {
	t.Helper()
	a := p.number(kind, n)
	desktest.Retype(p.u.Window.Canvas(), a.value.Field, text)
	p.u.Window.Canvas().Unfocus()
	if way >= 0 {
		test.Tap(a.way.buttons[way])
	}
}

func evidenceOf(u *desktest.Bench) string {
	var list []string
	for _, e := range u.Session.Job().Evidence {
		list = append(list, strings.TrimSpace(e.Kind+" "+phrase.Num{Value: e.U.Value, Decimals: 2}.String()+" "+strings.Trim(strings.ReplaceAll(kit.Describe([]any{e.Value}), "−", "-"), "[]")))
	}
	return strings.Join(list, "; ")
}

func TestCausePageAnswersFirst(t *testing.T) {
	u, p := causing(t, "")
	desktest.Contains(t, "the sentence", p.sentence.Text, "Most likely, 99.7 % alone or with another: The dowel is on the other side of the keyway than drawn.")
	desktest.Contains(t, "the second line", p.second.Text, "ertain enough to act on")
	desktest.Contains(t, "the first bar", p.causes.bars[0].AccessibilityLabel(), "Dowel mirrored", "99.7 %")
	desktest.Contains(t, "the reasons", p.causes.why.Text, "What speaks for it", ": dowel from the keyway, measured − drawing, 28° behind")
	desktest.Contains(t, "the page", desktest.Words(p.content), "What is known", "Causes", "What next", "not known")
	u.Is(t, desk.Demo().Job())
}

func TestWithoutEvidenceTheUsualStands(t *testing.T) {
	_, p := causing(t, untouched())
	desktest.Contains(t, "the sentence", p.sentence.Text, "Nothing is recorded yet.")
	if p.second.Visible() {
		t.Errorf("below it stands %q", p.second.Text)
	}
	desktest.Contains(t, "the reasons", p.causes.why.Text, "Nothing that was seen speaks for it or against it yet.")
	if len(p.causes.bars) < leastListed || len(p.next.cards) < 10 {
		t.Errorf("%d causes and %d checks are shown", len(p.causes.bars), len(p.next.cards))
	}
	for i := range p.causes.bars[:len(p.causes.bars)-1] {
		if k := p.found.Causes[i]; k.Probability < k.Prior*0.999 || k.Probability > k.Prior*1.001 {
			t.Errorf("%s stands at %g, before at %g", k.Cause, k.Probability, k.Prior)
		}
	}
}

// The causes listed, each alone or as a pair, add up to the whole. (What a bar shows is
// alone or with another, and bars overlap.)
func TestBarsAddUp(t *testing.T) {
	_, p := causing(t, untouched("kind = \"smoke\"\nvalue = \"white\"", "kind = \"correlation_error_deg\"\nvalue = -27"))
	for _, every := range []bool{false, true} {
		if p.causes.every != every {
			test.Tap(p.causes.all)
		}
		shown, hidden := p.causes.listed()
		sum := 0.0
		for _, k := range shown {
			sum += k.Probability
		}
		if sum < 1-1e-9 || sum > 1+1e-9 || (hidden > 0) == every || len(p.causes.bars) != len(shown) {
			t.Errorf("all %v: %d bars of %d causes add up to %g, %d left out", every, len(p.causes.bars), len(shown), sum, hidden)
		}
	}
}

func TestBarsByKeys(t *testing.T) {
	u, p := causing(t, untouched("kind = \"smoke\"\nvalue = \"white\""))
	first := p.causes.bars[0]
	test.Tap(first)
	why := p.causes.what.Text
	first.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	if u.Window.Canvas().Focused() != fyne.Focusable(p.causes.bars[1]) || !p.causes.bars[1].Selected() || first.Selected() || p.causes.what.Text == why {
		t.Error("Down does not go to the next cause")
	}
	p.causes.bars[1].TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	if !first.Selected() || p.causes.what.Text != why {
		t.Error("Up does not go back")
	}
	first.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp}) // there is none
	first.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if u.Run.On() || !first.Selected() {
		t.Error("Space on a bar does something else than pick it")
	}
}

func TestClashIsSaid(t *testing.T) {
	_, p := causing(t, untouched("kind = \"dowel_error_deg\"\nvalue = -28\nu = 0.1", "kind = \"dowel_error_deg\"\nvalue = 5\nu = 0.1"))
	if !p.clash.Visible() {
		t.Fatal("nothing is said of two readings that do not go together")
	}
	desktest.Contains(t, "the clash", p.clash.Text, "contradict each other")
	p.known.rows["dowel_error_deg"].list[1].(*numberAnswer).remove()
	if p.clash.Visible() {
		t.Errorf("with one reading it still says %q", p.clash.Text)
	}
}
