package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/phrase"
)

func (t *tour) typed(names ...fyne.KeyName) {
	for _, n := range names {
		t.u.Window.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: n})
	}
}

// inside tells whether a rectangle lies in a room.
func inside(at fyne.Position, size, room fyne.Size) bool {
	return at.X >= 0 && at.Y >= 0 && at.X+size.Width <= room.Width+0.5 && at.Y+size.Height <= room.Height+0.5
}

// Each step has the keyboard, points at something on the screen, and neither frame
// nor card leaves the window, at any of its sizes.
func TestTourByKeys(t *testing.T) {
	for _, size := range []fyne.Size{{Width: 1024, Height: 604}, {Width: 1280, Height: 800}, {Width: 1920, Height: 1080}} {
		u := window(t)
		u.Window.Resize(size)
		u.OpenPage("part", "")
		choose(t, u, "View", "Cylinders in number order")
		cycleOf(u).ShowForm(false)
		choose(t, u, "Help", "Tour of the window")
		if u.tour == nil || u.pages.kind().Name != "cycle" || !cycleOf(u).FormShown() {
			t.Fatal("the tour is not on, or not on the page it speaks of")
		}
		tour := u.tour
		for i, s := range tourSteps {
			if tour.step != i || tour.says.Text != string(s.says.Text) {
				t.Fatalf("step %d says %q", tour.step, tour.says.Text)
			}
			room := u.Window.Canvas().Size()
			if tour.ring.Size().Width < 50 || tour.ring.Size() != s.at(u).Size() || !inside(tour.ring.Position(), tour.ring.Size(), room) {
				t.Errorf("%v: the frame of step %d is %v at %v", size, i, tour.ring.Size(), tour.ring.Position())
			}
			if !inside(tour.card.Position(), tour.card.Size(), room) || tour.card.Size().Height < tour.card.MinSize().Height {
				t.Errorf("%v: the card of step %d is %v at %v", size, i, tour.card.Size(), tour.card.Position())
			}
			if i == 2 {
				tour.typed(fyne.KeyLeft, fyne.KeyRight)
			}
			tour.typed(fyne.KeyReturn)
		}
		if u.tour != nil || u.Window.Content() != u.Root || !u.Prefs.Bool(desk.PrefTour) {
			t.Error("after the last step the tour is on, or would come again")
		}
	}
}

// At the largest text the card is still whole.
func TestTourAtTheLargestText(t *testing.T) {
	u := window(t)
	u.Window.Resize(fyne.NewSize(1024, 640))
	choose(t, u, "View", "Text size", "200 %")
	choose(t, u, "Help", "Tour of the window")
	for range tourSteps {
		if c, room := u.tour.card, u.Window.Canvas().Size(); !inside(c.Position(), c.Size(), room) || c.Size().Height < c.MinSize().Height {
			t.Errorf("the card of step %d is %v at %v in %v, and needs %v", u.tour.step, c.Size(), c.Position(), room, c.MinSize())
		}
		u.tour.show(u.tour.step + 1)
		if u.tour == nil {
			break
		}
	}
}

func TestTourIsSkipped(t *testing.T) {
	u := window(t)
	choose(t, u, "Help", "Tour of the window")
	u.tour.typed(fyne.KeyRight, fyne.KeyEscape)
	if u.tour != nil || !u.Prefs.Bool(desk.PrefTour) {
		t.Error("Escape does not end the tour for good")
	}
	choose(t, u, "Help", "Tour of the window") // again, from Help
	u.Window.Canvas().Unfocus()
	fill(t, u, "injection.start_btdc_deg", "12") // the window can be used meanwhile
	if u.Session.Job().Injection.StartBTDCDeg.Value != 12 || u.tour == nil {
		t.Error("the window cannot be used during the tour")
	}
	typedKeys(u, fyne.KeyEscape)
	if u.tour != nil {
		t.Error("Escape in the window does not end the tour")
	}
}

// The tour comes by itself once, and never to one who asked for a job.
func TestFirstTour(t *testing.T) {
	u := window(t)
	if u.tour != nil {
		t.Fatal("a window has the tour by itself")
	}
	u.firstTour("job.toml")
	u.firstTour("demo")
	if u.tour != nil {
		t.Error("the tour comes before a job that was asked for")
	}
	u.firstTour("")
	if u.tour == nil {
		t.Fatal("at the first start there is no tour")
	}
	u.tour.end()
	u.firstTour("")
	if u.tour != nil {
		t.Error("the tour comes again")
	}
	u.Inform("x", kit.Wrapped("y"))
	u.Prefs.SetBool(desk.PrefTour, false)
	u.firstTour("")
	if u.tour != nil {
		t.Error("the tour comes over a question")
	}
}

func TestTourInAnotherLanguage(t *testing.T) {
	u := window(t)
	choose(t, u, "Help", "Tour of the window")
	spokenIn(t, u, "de")
	if u.tour != nil || u.Window.Content() != u.Root {
		t.Error("the tour points at what is gone")
	}
	u.startTour()
	if got, want := u.tour.says.Text, say(phrase.Sentence{Text: tourSteps[0].says.Text}); got != want || strings.Contains(got, "{{") {
		t.Errorf("it says %q, want %q", got, want)
	}
}

func TestPlaceCard(t *testing.T) {
	room, card := fyne.NewSize(1000, 600), fyne.NewSize(300, 150)
	for _, c := range []struct {
		name string
		at   fyne.Position
		part fyne.Size
		want fyne.Position
	}{
		{"to its right", fyne.NewPos(0, 50), fyne.NewSize(200, 500), fyne.NewPos(210, 60)},
		{"below", fyne.NewPos(0, 0), fyne.NewSize(1000, 100), fyne.NewPos(10, 110)},
		{"to its left", fyne.NewPos(500, 0), fyne.NewSize(500, 600), fyne.NewPos(190, 10)},
		{"above", fyne.NewPos(0, 400), fyne.NewSize(1000, 200), fyne.NewPos(10, 240)},
		{"over it", fyne.NewPos(0, 0), fyne.NewSize(1000, 600), fyne.NewPos(690, 440)},
		{"kept in the window", fyne.NewPos(0, 580), fyne.NewSize(200, 20), fyne.NewPos(210, 450)},
	} {
		if got := placeCard(c.at, c.part, card, room); got != c.want {
			t.Errorf("%s: at %v, want %v", c.name, got, c.want)
		}
	}
}
