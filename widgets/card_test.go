package widgets

import (
	"image"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"

	"pinphase.org/pinphase/timing/figure"
)

// square fills its box with one role.
func square(role figure.Role) func(figure.Box) figure.Drawing {
	return func(box figure.Box) figure.Drawing {
		d := figure.Drawing{W: box.W, H: box.H}
		d.Shapes = []figure.Shape{figure.Path{Segs: figure.Rectangle(figure.Rect{W: box.W, H: box.H}), Fill: role}}
		return d
	}
}

// cards returns two cards in a window and the choices made of them.
func cards(t *testing.T) (list [2]*Card, chosen *[]int, w fyne.Window) {
	t.Helper()
	test.NewTempApp(t)
	chosen = new([]int)
	for i, label := range []string{"degree wheel", "between dowel, keyway edge"} {
		list[i] = NewCard(label, square(figure.Measured))
		list[i].OnChosen = func() { *chosen = append(*chosen, i) }
	}
	w = test.NewTempWindow(t, container.NewGridWithColumns(2, list[0], list[1]))
	w.SetPadded(false)
	w.Resize(fyne.NewSize(260, 120))
	return list, chosen, w
}

func TestCardIsChosenByMouseAndKeys(t *testing.T) {
	list, chosen, w := cards(t)
	test.Tap(list[1])
	if len(*chosen) != 1 || (*chosen)[0] != 1 || w.Canvas().Focused() != fyne.Focusable(list[1]) {
		t.Fatalf("a tap chose %v, the keyboard is at %v", *chosen, w.Canvas().Focused())
	}
	w.Canvas().FocusPrevious()
	for _, key := range []fyne.KeyName{fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter, fyne.KeyA, fyne.KeyDown} {
		list[0].TypedKey(&fyne.KeyEvent{Name: key})
	}
	if got := *chosen; len(got) != 4 || got[3] != 0 || w.Canvas().Focused() != fyne.Focusable(list[0]) {
		t.Errorf("space, Return and Enter chose %v", got[1:])
	}
}

func TestCardShowsThatItIsSelected(t *testing.T) {
	list, _, w := cards(t)
	c := list[0]
	plain := c.frame.StrokeWidth
	if c.lines[0].TextStyle.Bold {
		t.Error("a card that is not selected is bold")
	}
	w.Canvas().Focus(c)
	focused := c.frame.StrokeWidth
	w.Canvas().Unfocus()
	c.MouseIn(nil)
	hovered := c.frame.StrokeWidth
	c.MouseOut()
	if back := c.frame.StrokeWidth; !(focused > plain) || hovered != focused || back != plain {
		t.Errorf("the frame is %g wide, with the keyboard %g, pointed at %g, then %g", plain, focused, hovered, back)
	}
	c.SetSelected(true)
	if !(c.frame.StrokeWidth > focused) || !c.lines[0].TextStyle.Bold {
		t.Error("selected, neither frame nor words stand out")
	}
	c.SetSelected(false)
	if c.frame.StrokeWidth != plain || c.lines[0].TextStyle.Bold {
		t.Error("it stays selected")
	}
}

func TestCardWordsFit(t *testing.T) {
	list, _, _ := cards(t)
	for _, c := range list {
		for _, width := range []float32{c.MinSize().Width, 300} {
			c.Resize(fyne.NewSize(width, 110))
			words := ""
			for _, line := range c.lines {
				if w := fyne.MeasureText(line.Text, line.TextSize, fyne.TextStyle{Bold: true}).Width; w > width {
					t.Errorf("%q is %g wide on a card of %g", line.Text, w, width)
				}
				if bottom := line.Position().Y + line.Size().Height; line.Text != "" && bottom > 110 {
					t.Errorf("%q ends at %g", line.Text, bottom)
				}
				words += line.Text + " "
			}
			if want := c.label + " "; words != want && words != want+" " {
				t.Errorf("on %g units the card says %q", width, words)
			}
		}
	}
	if list[1].lines[1].Text != "" {
		t.Errorf("with room for one line the second is %q", list[1].lines[1].Text)
	}
	for label, want := range map[string][2]string{
		"angle": {"angle", ""}, "degree wheel": {"degree", "wheel"}, "tape on a rim": {"tape on", "a rim"}, "": {"", ""},
	} {
		if got := halves(label); got != want {
			t.Errorf("%q is split into %q", label, got)
		}
	}
}

func TestCardPicture(t *testing.T) {
	list, _, _ := cards(t)
	c := list[0]
	at := func() any {
		s := c.plane.raster.Size()
		img := c.plane.raster.Generator(int(s.Width), int(s.Height)).(*image.RGBA)
		return img.RGBAAt(int(s.Width)/2, int(s.Height)/2)
	}
	if got, want := at(), styleOf(c.Theme()).Color(figure.Measured); got != any(want) {
		t.Errorf("the picture is %v, want %v", got, want)
	}
	c.SetPicture(square(figure.Warning))
	if got, want := at(), styleOf(c.Theme()).Color(figure.Warning); got != any(want) {
		t.Errorf("another picture is %v, want %v", got, want)
	}
	test.ApplyTheme(t, always{theme.DefaultTheme(), theme.VariantDark})
	if got, want := at(), styleOf(c.Theme()).Color(figure.Warning); got != any(want) {
		t.Errorf("in the dark it is %v, want %v", got, want)
	}
	if c.AccessibilityLabel() != "degree wheel" {
		t.Errorf("it is called %q", c.AccessibilityLabel())
	}
}
