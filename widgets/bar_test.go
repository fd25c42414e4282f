package widgets

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func bar(t *testing.T, width float32) *Bar {
	t.Helper()
	test.NewTempApp(t)
	b := NewBar()
	w := test.NewTempWindow(t, b)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(width, b.MinSize().Height))
	return b
}

func TestBarIsAsLongAsItsShare(t *testing.T) {
	b := bar(t, 400)
	for _, c := range []struct{ share, before float64 }{{0.25, 0.5}, {1, 0}, {0, 1}, {7, -1}} {
		b.SetShare("a cause", "so many", c.share, c.before)
		whole := b.ground.Size().Width
		want := max(1, whole*float32(clamp(c.share)))
		if got := b.fill.Size().Width; got != want {
			t.Errorf("a share of %g is %g of %g long", c.share, got, whole)
		}
		if b.mark.Hidden != (c.before < 0) {
			t.Errorf("the mark of %g is hidden: %v", c.before, b.mark.Hidden)
		}
		if c.before >= 0 {
			if got, want := b.mark.Position().X+1, b.ground.Position().X+whole*float32(c.before); got < want-0.01 || got > want+0.01 {
				t.Errorf("the mark of %g stands at %g, want %g", c.before, got, want)
			}
		}
	}
	if b.AccessibilityLabel() != "a cause, so many" {
		t.Errorf("it is called %q", b.AccessibilityLabel())
	}
}

// Where there is little room the name is cut, not what it is worth.
func TestBarCutsItsName(t *testing.T) {
	b := bar(t, 200)
	const name = "a cause with a name that is much too long for so little room"
	b.SetShare(name, "42 in 100", 0.4, -1)
	if s := b.label.Text; !strings.HasSuffix(s, "…") || !strings.HasPrefix(name, strings.TrimSuffix(s, "…")) {
		t.Errorf("the name is cut to %q", s)
	}
	if b.value.Text != "42 in 100" || b.label.Position().X+b.label.MinSize().Width > b.value.Position().X {
		t.Error("the name lies over what it is worth")
	}
	b.Resize(fyne.NewSize(900, b.MinSize().Height))
	if b.label.Text != name {
		t.Errorf("with room enough it is still %q", b.label.Text)
	}
}

func TestBarIsPicked(t *testing.T) {
	b := bar(t, 300)
	picked, keys := 0, 0
	b.OnChosen = func() { picked++ }
	b.OnKey = func(*fyne.KeyEvent) { keys++ }
	test.Tap(b)
	for _, k := range []fyne.KeyName{fyne.KeySpace, fyne.KeyReturn, fyne.KeyDown} {
		b.TypedKey(&fyne.KeyEvent{Name: k})
	}
	if picked != 3 || keys != 1 {
		t.Errorf("picked %d times, handed on %d keys", picked, keys)
	}
	plain := b.frame.StrokeWidth
	b.FocusLost()
	if b.frame.StrokeWidth == plain {
		t.Error("nothing shows that it has the keyboard")
	}
	b.SetSelected(true)
	if b.edge.Hidden || !b.label.TextStyle.Bold || !b.Selected() {
		t.Error("nothing shows that it is chosen")
	}
	b.SetSelected(false)
	b.MouseIn(nil)
	if b.frame.StrokeWidth == 0 {
		t.Error("nothing shows that it is pointed at")
	}
	b.MouseOut()
}
