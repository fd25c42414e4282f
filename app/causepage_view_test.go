package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

func TestCauseFigures(t *testing.T) {
	u, p := causing(t, untouched())
	p.causes.pick("dowel mirrored")
	p.next.tabs.SelectIndex(figuresTab)
	f := p.next.figures
	contains(t, "the figures", f.says.Text, "every injection comes 28° late")
	so, now := painted(f.pair.so), painted(f.pair.now)
	if so == now {
		t.Error("as the cause has it is no other than as the job has it")
	}
	contains(t, "what the figure shows", f.pair.so.AccessibilityLabel(), "28° late")
	u.SetAt(100)
	if painted(f.pair.so) == so || painted(f.pair.now) == now {
		t.Error("the wheels do not turn with the crank")
	}
	test.Tap(f.which.Buttons[1])
	if painted(f.pair.so) == so || painted(f.pair.so) == painted(f.pair.now) {
		t.Error("the cycle shows nothing of the cause")
	}
	cycle := painted(f.pair.so)
	test.Tap(f.which.Buttons[signalsFigure])
	if painted(f.pair.so) == cycle || painted(f.pair.so) == painted(f.pair.now) {
		t.Error("the signals show nothing of the cause")
	}
	contains(t, "what the signals show", f.pair.so.AccessibilityLabel(), "sensor")
	test.Tap(f.which.Buttons[cycleFigure])
	p.causes.pick("cam wheel half a turn out")
	contains(t, "the figures", f.says.Text, "on the wrong stroke")
	desktest.TapButton(t, f.content, "Larger")
	if f.large == nil || painted(f.large.so) == painted(f.large.now) {
		t.Error("larger, the figures are not there")
	}
	contains(t, "the dialog", said(u), "on the wrong stroke", "If it is this", "As the job has it")
	typedKeys(u, fyne.KeyEscape)
	if said(u) != "" {
		t.Error("Escape does not close it")
	}
}

// Beside one another where there is room, one at a time where there is not.
func TestPanesFollowTheRoom(t *testing.T) {
	u, p := causing(t, "")
	u.Window.Resize(fyne.NewSize(1024, 604))
	if p.panes.Narrow {
		t.Error("at 1024 the panes do not stand side by side")
	}
	u.setTextSize(1.5)
	u.Window.Resize(fyne.NewSize(1024, 603))
	if !p.panes.Narrow {
		t.Fatal("at 1024 and 150 % they do")
	}
	for i, o := range []fyne.CanvasObject{p.known.content, p.causes.content, p.next.content} {
		test.Tap(p.panes.Choice.Buttons[i])
		if !o.Visible() || o.Size().Width < 1000 {
			t.Errorf("pane %d is %v wide", i, o.Size())
		}
		for k, other := range []fyne.CanvasObject{p.known.content, p.causes.content, p.next.content} {
			if k != i && other.Visible() {
				t.Errorf("pane %d is shown beside %d", k, i)
			}
		}
	}
	p.known.reveal("smoke")
	if !p.known.content.Visible() {
		t.Error("what a check asks for is on a pane that is not shown")
	}
	u.setTextSize(1)
	u.Window.Resize(fyne.NewSize(1280, 800))
	if p.panes.Narrow || !p.causes.content.Visible() || !p.next.content.Visible() {
		t.Error("with room again they do not stand side by side")
	}
}

func TestCausePageFits(t *testing.T) {
	u, p := causing(t, untouched("kind = \"smoke\"\nvalue = \"white\"", "kind = \"correlation_error_deg\"\nvalue = -27"))
	for _, scale := range []float64{1, 1.5, 2} {
		u.Window.Resize(fyne.NewSize(1024, 604))
		u.setTextSize(scale)
		if m := u.Root.MinSize(); m.Width > 1024 || scale < 2 && m.Height > 604 {
			t.Errorf("at %g the window needs %v", scale, m)
		}
	}
	if strings.Contains(words(p.content), "{{") {
		t.Error("a place is open")
	}
}

// What was measured on the part leads to the causes, and what cannot be to where it
// was typed.
func TestLeadsToTheEvidence(t *testing.T) {
	u, p := causing(t, "")
	u.OpenPage("part", "")
	contains(t, "the part page", words(partOf(u).content), "It counts as evidence on the Cause page: measured against the drawing, 28° behind ± 0.3°.")
	test.Tap(partOf(u).evidence)
	if u.pages.now() != desk.Page(p) || !p.known.groups.List[len(p.known.list)-1].Open || u.Window.Canvas().Focused() != fyne.Focusable(p.known.rows["dowel_error_deg"].shows) {
		t.Error("it does not lead to the dowel among the evidence")
	}
	p.known.reveal("compression_bar")
	retype(u, p.number("compression_bar", 0).value.Field, "much")
	_, key := u.Wrong()
	u.pages.show(0)
	u.Show(key)
	if u.pages.now() != desk.Page(p) || u.Window.Canvas().Focused() != p.number("compression_bar", 0).focus() {
		t.Errorf("%s does not lead to its field", key)
	}
	retype(u, p.number("compression_bar", 0).value.Field, "26")
	u.pages.show(0)
	if u.Show("evidence[1].value"); u.pages.now() != desk.Page(p) {
		t.Error("a fault of the file does not lead to the page")
	}
	if u.Show("engine.strokes"); u.pages.now() == desk.Page(p) {
		t.Error("the strokes are no evidence")
	}
}

// While the causes are weighed beside it nothing waits, and what was weighed for
// another job is dropped.
func TestLateRankingIsDropped(t *testing.T) {
	u, p := causing(t, untouched())
	j := p.job
	c := p.found
	p.answer(t, "smoke", 2)
	said := p.sentence.Text
	p.work.busy = true // a ranking is under way
	u.Edit("test", func(j *job.Job) { putClue(j, "starts", 0, false) })
	if !p.work.again {
		t.Error("it is not wanted anew")
	}
	contains(t, "the second line", p.second.Text, "Being weighed anew")
	if p.sentence.Text != said {
		t.Error("the old answer is gone before there is a new one")
	}
	p.work.busy, p.work.again = false, false
	p.rank()
	if strings.Contains(p.second.Text, "anew") || !p.ranked.Equal(u.Session.Job()) {
		t.Errorf("weighed, it says %q", p.second.Text)
	}
	p.take(j, c, nil) // of another job: the page says so until the right one comes
	contains(t, "the second line", p.second.Text+p.sentence.Text, "Nothing was recorded yet")
}

func TestAnotherJobForgetsWhatWasTyped(t *testing.T) {
	u, p := causing(t, untouched())
	retype(u, p.number("correlation_error_deg", 0).value.Field, "27")
	u.Window.Canvas().Unfocus()
	u.Begin(desk.NewSession("", desk.Demo(), nil))
	if got := p.number("correlation_error_deg", 0).value.Field.Text(); got != "" {
		t.Errorf("the field still shows %q", got)
	}
	contains(t, "the sentence", p.sentence.Text, "The dowel is on the wrong side")
	is(t, u, desk.Demo().Job())
}

// A drawing that is missing keeps the causes from being weighed; the page says so.
func TestCausesThatCannotBeWeighed(t *testing.T) {
	text := strings.Replace(string(assets.DemoJob), "drawing = { angle_deg = 14.0, side = \"clockwise\", u_deg = 0.1 }\n", "", 1)
	_, p := causing(t, text)
	if p.valid {
		return // a measured dowel without a drawing is no evidence and does no harm
	}
	contains(t, "the page", words(p.content), "The causes cannot be weighed yet.")
}
