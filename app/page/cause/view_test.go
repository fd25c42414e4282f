package cause

import (
	"context"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

func TestCauseFigures(t *testing.T) {
	u, p := causing(t, untouched())
	p.causes.pick("dowel mirrored")
	p.next.tabs.SelectIndex(figuresTab)
	f := p.next.figures
	desktest.Contains(t, "the figures", f.says.Text, "every injection starts 28° late")
	so, now := desktest.Painted(f.pair.so), desktest.Painted(f.pair.now)
	if so == now {
		t.Error("as the cause has it is no other than as the job has it")
	}
	desktest.Contains(t, "what the figure shows", f.pair.so.AccessibilityLabel(), "28° late")
	u.SetAt(100)
	if desktest.Painted(f.pair.so) == so || desktest.Painted(f.pair.now) == now {
		t.Error("the wheels do not turn with the crank")
	}
	test.Tap(f.which.Buttons[1])
	if desktest.Painted(f.pair.so) == so || desktest.Painted(f.pair.so) == desktest.Painted(f.pair.now) {
		t.Error("the cycle shows nothing of the cause")
	}
	cycle := desktest.Painted(f.pair.so)
	test.Tap(f.which.Buttons[signalsFigure])
	if desktest.Painted(f.pair.so) == cycle || desktest.Painted(f.pair.so) == desktest.Painted(f.pair.now) {
		t.Error("the signals show nothing of the cause")
	}
	desktest.Contains(t, "what the signals show", f.pair.so.AccessibilityLabel(), "sensor")
	test.Tap(f.which.Buttons[cycleFigure])
	p.causes.pick("cam wheel half a turn out")
	desktest.Contains(t, "the figures", f.says.Text, "on the wrong stroke")
	desktest.TapButton(t, f.content, "Enlarge")
	if f.large == nil || desktest.Painted(f.large.so) == desktest.Painted(f.large.now) {
		t.Error("larger, the figures are not there")
	}
	desktest.Contains(t, "the dialog", u.Said(), "on the wrong stroke", "If it is this", "As the job has it")
	u.Keys(fyne.KeyEscape)
	if u.Said() != "" {
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
	u.SetTextSize(1.5)
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
	u.SetTextSize(1)
	u.Window.Resize(fyne.NewSize(1280, 800))
	if p.panes.Narrow || !p.causes.content.Visible() || !p.next.content.Visible() {
		t.Error("with room again they do not stand side by side")
	}
}

func TestCausePageFits(t *testing.T) {
	u, p := causing(t, untouched("kind = \"smoke\"\nvalue = \"white\"", "kind = \"correlation_error_deg\"\nvalue = -27"))
	for _, scale := range []float32{1, 1.5, 2} {
		u.Window.Resize(fyne.NewSize(1024, 604))
		u.SetTextSize(scale)
		if m := u.Root.MinSize(); m.Width > 1024 || scale < 2 && m.Height > 604 {
			t.Errorf("at %g the window needs %v", scale, m)
		}
	}
	if strings.Contains(desktest.Words(p.content), "{{") {
		t.Error("a place is open")
	}
}

// What was measured on the part leads to the causes, and what cannot be to where it
// was typed.
func TestLeadsToTheEvidence(t *testing.T) {
	u, p := causing(t, "")
	u.Leave()
	u.Open(Kind.Name, "dowel_error_deg") // as the part page does
	if !u.IsOpen(Kind.Name) || !p.known.groups.List[len(p.known.list)-1].Open || u.Window.Canvas().Focused() != fyne.Focusable(p.known.rows["dowel_error_deg"].shows) {
		t.Error("it does not lead to the dowel among the evidence")
	}
	p.known.reveal("compression_bar")
	desktest.Retype(u.Window.Canvas(), p.number("compression_bar", 0).value.Field, "much")
	_, key := u.Wrong()
	u.Leave()
	u.Show(key)
	if !u.IsOpen(Kind.Name) || u.Window.Canvas().Focused() != p.number("compression_bar", 0).focus() {
		t.Errorf("%s does not lead to its field", key)
	}
	desktest.Retype(u.Window.Canvas(), p.number("compression_bar", 0).value.Field, "26")
	u.Leave()
	if u.Show("evidence[1].value"); !u.IsOpen(Kind.Name) {
		t.Error("a fault of the file does not lead to the page")
	}
	if u.Show("engine.strokes"); u.IsOpen(Kind.Name) {
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
	inTurn := false
	var wanted weighing
	p.ranking = kit.NewLatest(&inTurn, func(_ context.Context, w weighing) func() { wanted = w; return nil })
	u.Edit("test", func(j *job.Job) { putClue(j, "starts", 0, false) })
	desktest.Contains(t, "the second line", p.second.Text, "Recalculating")
	if p.sentence.Text != said {
		t.Error("the old answer is gone before there is a new one")
	}
	p.ranking.Settle()
	p.rank(t.Context(), wanted)()
	if strings.Contains(p.second.Text, "Recalculating") || !p.ranked.Equal(u.Session.Job()) {
		t.Errorf("weighed, it says %q", p.second.Text)
	}
	p.take(j, c, nil) // of another job: the page says so until the right one comes
	desktest.Contains(t, "the second line", p.second.Text+p.sentence.Text, "Nothing is recorded yet")
}

func TestAnotherJobForgetsWhatWasTyped(t *testing.T) {
	u, p := causing(t, untouched())
	desktest.Retype(u.Window.Canvas(), p.number("correlation_error_deg", 0).value.Field, "27")
	u.Window.Canvas().Unfocus()
	u.Begin(desk.NewSession("", desk.Demo(), nil))
	if got := p.number("correlation_error_deg", 0).value.Field.Text(); got != "" {
		t.Errorf("the field still shows %q", got)
	}
	desktest.Contains(t, "the sentence", p.sentence.Text, "The dowel is on the other side of the keyway than drawn")
	u.Is(t, desk.Demo().Job())
}

// A drawing that is missing keeps the causes from being weighed; the page says so.
func TestCausesThatCannotBeWeighed(t *testing.T) {
	text := strings.Replace(string(assets.DemoJob), "drawing = { angle_deg = 14.0, side = \"clockwise\", u_deg = 0.1 }\n", "", 1)
	_, p := causing(t, text)
	if p.valid {
		return // a measured dowel without a drawing is no evidence and does no harm
	}
	desktest.Contains(t, "the page", desktest.Words(p.content), "The causes cannot be calculated yet.")
}
