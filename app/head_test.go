package app

import (
	"testing"

	"fyne.io/fyne/v2"
)

// Large text in a low window leaves the page its room: the notes wait behind a
// button.
func TestHeadLeavesRoomForThePage(t *testing.T) {
	u := window(t)
	for _, c := range []struct {
		size  fyne.Size
		text  float64
		short bool
	}{
		{fyne.NewSize(1280, 800), 1, false},
		{fyne.NewSize(1024, 640), 1, false},
		{fyne.NewSize(1024, 640), 1.25, false},
		{fyne.NewSize(1024, 640), 2, true},
		{fyne.NewSize(1920, 1080), 2, false},
		{fyne.NewSize(1024, 640), 1, false},
	} {
		u.Window.Resize(c.size)
		u.setTextSize(c.text)
		if got := u.head.more.Visible(); got != c.short || u.head.notes.Visible() == c.short {
			t.Errorf("at %v and a text size of %g the head is short: %v", c.size, c.text, got)
		}
		if high := u.head.words.Size().Height; high > headShare*c.size.Height {
			t.Errorf("at %v and a text size of %g its words are %g high", c.size, c.text, high)
		}
	}
	u.Window.Resize(fyne.NewSize(1024, 640))
	u.setTextSize(2)
	if got, want := u.head.words.Size().Height, u.head.sentence.MinSize().Height; got > want+1 {
		t.Errorf("the short words have %g, they need %g", got, want)
	}
	u.head.more.OnTapped()
	contains(t, "behind the button", said(u), u.head.notes.Text)
}
