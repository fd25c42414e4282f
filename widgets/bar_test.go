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

// Where there is little room the name takes several lines, and the bar its height; the
// whole name can be read, beside what it is worth.
func TestBarBreaksItsName(t *testing.T) {
	b := bar(t, 200)
	one := b.MinSize().Height
	const name = "a cause with a name that is much too long for so little room"
	b.SetShare(name, "42 in 100", 0.4, -1)
	var lines []string
	for _, l := range b.label {
		lines = append(lines, l.Text)
		if b.value.Text != "42 in 100" || l.Position().X+l.MinSize().Width > b.value.Position().X {
			t.Errorf("%q lies over what it is worth", l.Text)
		}
	}
	if len(lines) < 2 || strings.Join(lines, " ") != name {
		t.Errorf("the name is broken into %q", lines)
	}
	if h, last := b.MinSize().Height, b.label[len(lines)-1]; h <= one || b.fill.Position().Y < last.Position().Y+last.MinSize().Height-1 {
		t.Errorf("%d lines need %g, one %g; the bar lies at %g", len(lines), h, one, b.fill.Position().Y)
	}
	b.Resize(fyne.NewSize(900, b.MinSize().Height))
	if len(b.label) != 1 || b.label[0].Text != name || b.MinSize().Height != one {
		t.Errorf("with room enough it is still %d lines", len(b.label))
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
	if b.edge.Hidden || !b.label[0].TextStyle.Bold || !b.Selected() {
		t.Error("nothing shows that it is chosen")
	}
	b.SetSelected(false)
	b.MouseIn(nil)
	if b.frame.StrokeWidth == 0 {
		t.Error("nothing shows that it is pointed at")
	}
	b.MouseOut()
}
