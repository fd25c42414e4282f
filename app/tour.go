package app

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/phrase"
)

// tourStep points at one part of the window and says what it is for.
type tourStep struct {
	at   func(u *ui) fyne.CanvasObject
	says phrase.Sentence
}

// tourSteps are the tour, all of them on the cycle page.
var tourSteps = []tourStep{
	{func(u *ui) fyne.CanvasObject { return u.head.content },
		phrase.Sentence{Text: "This sentence is the answer, on every page: when injection starts, and how far that is from what the ECU commands."}},
	{func(u *ui) fyne.CanvasObject { return u.TourPart("form") },
		phrase.Sentence{Text: "This is the job. Type what you know of the engine and what was measured on the crankshaft; errors are shown next to their field, and Ctrl+Z undoes every step."}},
	{func(u *ui) fyne.CanvasObject { return u.TourPart("cycle") },
		phrase.Sentence{Text: "Each row is a cylinder, from one firing to the next. Drag the cursor, click, or use the arrow keys; the space bar turns the crankshaft."}},
	{func(u *ui) fyne.CanvasObject { return u.TourPart("wheel") },
		phrase.Sentence{Text: "This is the end of the crankshaft: sensor wheel, keyway and dowel, as drawn and as measured. Drag it to turn it."}},
	{func(u *ui) fyne.CanvasObject { return u.TourPart("dowel") },
		phrase.Sentence{Text: "What if the dowel were elsewhere? Move it here, and watch when injection starts. The job stays as it is."}},
	{func(u *ui) fyne.CanvasObject { return u.pages.tabs },
		phrase.Sentence{Text: "Here are the other pages. Part is the bench, where an angle is measured. F1 explains the page shown, F5 shows it to a class, and Help has the cautions: read them before you turn an engine."}},
}

// tour leads through the window: a card beside what it speaks of, and a frame
// round that. The window below can be used meanwhile.
type tour struct {
	u    *ui
	step int

	ring *canvas.Rectangle
	card *fyne.Container
	says *widget.Label
	many *widget.Label
	back *tourButton
	next *tourButton
	room *fyne.Container // ring and card
}

// TourPart is a part of the first page.
func (u *ui) TourPart(name string) fyne.CanvasObject {
	return u.pages.at(0).(desk.Guided).TourPart(name)
}

// startTour begins the tour, from its beginning when it is on already.
func (u *ui) startTour() {
	if u.tour == nil {
		u.tour = newTour(u)
	}
	u.pages.show(0)
	u.jobForm().ShowForm(true)
	u.menu.load()
	u.Window.SetContent(container.NewStack(u.Root, u.tour.room))
	u.tour.show(0)
}

// firstTour begins the tour once in the program's life, unless the program was
// started for a job.
func (u *ui) firstTour(name string) {
	if name == "" && !u.Prefs.Bool(desk.PrefTour) && !u.Covered() {
		u.startTour()
	}
}

func newTour(u *ui) *tour {
	t := &tour{u: u, says: kit.Prose(), many: widget.NewLabel("")}
	t.ring = canvas.NewRectangle(nil)
	t.ring.StrokeWidth, t.ring.CornerRadius = 4, 6
	ground := canvas.NewRectangle(nil)
	ground.StrokeWidth, ground.CornerRadius = 2, 6
	ground.FillColor = theme.Color(theme.ColorNameOverlayBackground)
	ground.StrokeColor, t.ring.StrokeColor = u.Look.FigureColor(figure.Commanded), u.Look.FigureColor(figure.Commanded)
	t.back = newTourButton(t, tr("Back"), func() { t.show(t.step - 1) })
	t.next = newTourButton(t, "", func() { t.show(t.step + 1) })
	t.next.Importance = widget.HighImportance
	skip := newTourButton(t, tr("Skip the tour"), t.end)
	buttons := container.NewHBox(t.many, layout.NewSpacer(), skip, t.back, t.next)
	t.card = container.NewStack(ground, container.NewPadded(container.NewBorder(nil, buttons, nil, nil, t.says)))
	t.room = container.New(&tourLayout{t}, t.ring, t.card)
	return t
}

// show shows a step; the one after the last ends the tour.
func (t *tour) show(step int) {
	if step >= len(tourSteps) {
		t.end()
		return
	}
	t.step = max(0, step)
	t.says.SetText(say(tourSteps[t.step].says))
	t.many.SetText(with("{{.N}} of {{.All}}", map[string]any{"N": t.step + 1, "All": len(tourSteps)}))
	t.next.SetText(tr("Next"))
	if t.step == len(tourSteps)-1 {
		t.next.SetText(tr("Done"))
	}
	if t.step == 0 {
		t.back.Disable()
	} else {
		t.back.Enable()
	}
	t.room.Refresh()
	t.u.Window.Canvas().Focus(t.next)
}

// end takes the tour away, for this start and all later ones.
func (t *tour) end() {
	if t == nil || t.u.tour != t {
		return
	}
	t.u.tour = nil
	t.u.Prefs.SetBool(desk.PrefTour, true)
	t.u.Window.SetContent(t.u.Root)
	t.u.Window.Canvas().Unfocus()
}

// tourLayout puts the frame round what the step speaks of, and the card where it
// hides least of that.
type tourLayout struct{ tour *tour }

func (l *tourLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (l *tourLayout) Layout(_ []fyne.CanvasObject, size fyne.Size) {
	t := l.tour
	d := fyne.CurrentApp().Driver()
	target := tourSteps[t.step].at(t.u)
	at := d.AbsolutePositionForObject(target).Subtract(d.AbsolutePositionForObject(t.room))
	t.ring.Move(at)
	t.ring.Resize(target.Size())

	w := min(420*t.u.Look.Scale, size.Width-2*theme.Padding())
	t.card.Resize(fyne.NewSize(w, t.card.MinSize().Height)) // words are wrapped to the width first
	card := fyne.NewSize(max(w, t.card.MinSize().Width), t.card.MinSize().Height)
	t.card.Resize(card)
	t.card.Move(placeCard(at, target.Size(), card, size))
}

// placeCard is where a card goes beside a part of the window: to its right, below,
// to its left or above, wherever there is room, else over its lower right corner;
// it never leaves the window.
func placeCard(at fyne.Position, part, card, room fyne.Size) fyne.Position {
	const gap = 10
	right, bottom := at.X+part.Width, at.Y+part.Height
	p := fyne.NewPos(right-card.Width-gap, bottom-card.Height-gap)
	switch {
	case right+gap+card.Width <= room.Width:
		p = fyne.NewPos(right+gap, at.Y+gap)
	case bottom+gap+card.Height <= room.Height:
		p = fyne.NewPos(at.X+gap, bottom+gap)
	case at.X-gap-card.Width >= 0:
		p = fyne.NewPos(at.X-gap-card.Width, at.Y+gap)
	case at.Y-gap-card.Height >= 0:
		p = fyne.NewPos(at.X+gap, at.Y-gap-card.Height)
	}
	return fyne.NewPos(max(0, min(p.X, room.Width-card.Width)), max(0, min(p.Y, room.Height-card.Height)))
}

// tourButton is a button of the tour: the arrow keys go through it, Escape ends it.
type tourButton struct {
	widget.Button
	tour *tour
}

func newTourButton(t *tour, text string, tapped func()) *tourButton {
	b := &tourButton{tour: t}
	b.Text, b.OnTapped = text, tapped
	b.ExtendBaseWidget(b)
	return b
}

// TypedKey implements [fyne.Focusable].
func (b *tourButton) TypedKey(k *fyne.KeyEvent) {
	t := b.tour
	switch k.Name {
	case fyne.KeyEscape:
		t.end()
	case fyne.KeyRight, fyne.KeyDown, fyne.KeyPageDown:
		t.show(t.step + 1)
	case fyne.KeyLeft, fyne.KeyUp, fyne.KeyPageUp:
		t.show(t.step - 1)
	case fyne.KeyReturn, fyne.KeyEnter:
		b.OnTapped()
	default:
		b.Button.TypedKey(k)
	}
}
