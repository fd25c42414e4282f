package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
)

func TestTagStaysWhereThereIsRoom(t *testing.T) {
	test.NewTempApp(t)
	room := fyne.NewSize(200, 100)
	g := newTag()
	size := g.write("16° BTDC", 12)
	for _, tt := range []struct {
		name           string
		x, top         float32
		wantX, wantTop float32
	}{
		{"in the middle", 100, 40, 100 - size.Width/2, 40},
		{"at the left edge", 0, 40, 0, 40},
		{"beyond the right edge", 300, 40, 200 - size.Width, 40},
		{"above", 100, -30, 100 - size.Width/2, 0},
		{"below", 100, 99, 100 - size.Width/2, 100 - size.Height},
	} {
		g.put(tt.x, tt.top, room)
		if want := fyne.NewPos(tt.wantX, tt.wantTop); g.box.Position() != want || g.text.Position() != want {
			t.Errorf("%s: the ground is at %v, its words at %v, want %v", tt.name, g.box.Position(), g.text.Position(), want)
		}
	}
	g.put(100, 0, fyne.NewSize(10, 5))
	if g.box.Position() != (fyne.Position{}) {
		t.Errorf("with less room than it takes it begins at %v", g.box.Position())
	}
}
