package widgets

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// hold is what a pressed button of the mouse has hold of: a point, or the picture.
type hold struct {
	button desktop.MouseButton
	mark   int  // -1: the picture
	pan    bool // the picture, whatever lies there
	moved  bool // further than a hand shakes

	at   fyne.Position // of the pointer, where the movement begins
	from spot          // where the point was then, or which place was in the view's middle
	was  spot          // where the point was when it was taken hold of
}

// shake is how far, in units, the pointer may stray in a click.
const shake = 4

// begin takes the present state as the one the movement begins with.
func (h *hold) begin(pointer fyne.Position, v *PhotoView) {
	h.at, h.from = pointer, spot{v.sight.x, v.sight.y}
	if h.mark >= 0 {
		h.from = v.marks[h.mark].place()
	}
}

// MouseDown implements [desktop.Mouseable].
func (v *PhotoView) MouseDown(e *desktop.MouseEvent) {
	takeKeyboard(v)
	v.pointer, v.hover = e.Position, true
	if v.picture == nil || v.hold != nil {
		return
	}
	h := &hold{button: e.Button, mark: -1}
	switch e.Button {
	case desktop.MouseButtonTertiary:
		h.pan = true
	case desktop.MouseButtonPrimary:
		if h.pan = v.space; !h.pan {
			h.mark = v.reach(float64(e.Position.X), float64(e.Position.Y))
		}
	default:
		return
	}
	if h.mark >= 0 {
		v.choose(h.mark)
		h.was = v.marks[h.mark].place()
	} else {
		v.settle()
		v.tuning, v.aim = false, nil
	}
	v.hold = h
	h.begin(e.Position, v)
	v.show()
}

// MouseUp implements [desktop.Mouseable]. The end of a movement is told by
// DragEnd, which also comes when the button is released elsewhere.
func (v *PhotoView) MouseUp(e *desktop.MouseEvent) {
	h := v.hold
	if h == nil || h.moved || e.Button != h.button {
		return
	}
	v.hold = nil
	other := h.mark >= 0 && v.PlaceKind != "" && v.marks[h.mark].Kind != v.PlaceKind
	if h.mark < 0 && !h.pan || other { // where one of another kind lies is a place like any other
		v.click(h.at)
	}
	v.show()
}

// click acts on a click where no point is.
func (v *PhotoView) click(at fyne.Position) {
	x, y, on := v.onPicture(at)
	if v.PlaceKind == "" || !on {
		v.choose(-1)
		return
	}
	v.place(spot{x, y})
}

// onPicture returns the place of the picture under a position of the view. Just
// beside the picture its edge is meant.
func (v *PhotoView) onPicture(at fyne.Position) (x, y float64, on bool) {
	x, y = v.sight.transform().Invert(float64(at.X), float64(at.Y))
	cx, cy := max(0, min(x, v.sight.picW)), max(0, min(y, v.sight.picH))
	return cx, cy, math.Hypot(x-cx, y-cy)*v.sight.scale <= grabRadius
}

// Dragged implements [fyne.Draggable]. Positions beyond the view's edges are as
// good as others.
func (v *PhotoView) Dragged(e *fyne.DragEvent) {
	h := v.hold
	if h == nil {
		return // begun elsewhere, or given up
	}
	v.pointer = e.Position
	by := e.Position.Subtract(h.at)
	if !h.moved {
		if math.Hypot(float64(by.X), float64(by.Y)) < shake {
			return
		}
		h.moved = true
		h.begin(e.Position, v) // without a jump
		by = fyne.Position{}
	}
	dx, dy := float64(by.X)/v.sight.scale, float64(by.Y)/v.sight.scale
	if h.mark < 0 {
		v.sight.look(h.from.X-dx, h.from.Y-dy)
	} else {
		v.move(h.mark, spot{h.from.X + dx, h.from.Y + dy})
	}
	v.show()
}

// DragEnd implements [fyne.Draggable].
func (v *PhotoView) DragEnd() {
	if v.hold != nil && !v.focused {
		takeKeyboard(v) // the toolkit takes it away where a button is released elsewhere
	}
	v.letGo()
	v.show()
}

// letGo ends the movement of what the mouse has hold of.
func (v *PhotoView) letGo() {
	h := v.hold
	v.hold = nil
	if h != nil && h.mark >= 0 && h.moved {
		v.moveEnd(h.mark)
	}
}

// giveUp lets go of what the mouse has hold of and puts a point back to where it
// was.
func (v *PhotoView) giveUp() {
	if h := v.hold; h.mark >= 0 && h.moved {
		v.move(h.mark, h.was)
	}
	v.letGo()
}

// Scrolled implements [fyne.Scrollable]: the wheel enlarges about the pointer, by
// a fifth a notch.
func (v *PhotoView) Scrolled(e *fyne.ScrollEvent) {
	const notch = 25 // what the toolkit makes of one
	if v.picture == nil || e.Scrolled.DY == 0 {
		return
	}
	v.pointer = e.Position
	v.zoomAt(math.Pow(1.2, float64(e.Scrolled.DY)/notch), float64(e.Position.X), float64(e.Position.Y))
}

// MouseIn implements [desktop.Hoverable].
func (v *PhotoView) MouseIn(e *desktop.MouseEvent) { v.MouseMoved(e) }

// MouseMoved implements [desktop.Hoverable].
func (v *PhotoView) MouseMoved(e *desktop.MouseEvent) {
	v.pointer, v.hover = e.Position, true
	if v.hold != nil {
		return
	}
	aimed := v.aim != nil
	v.tuning, v.aim = false, nil
	if aimed {
		v.show()
	} else {
		v.showLoupe()
	}
}

// MouseOut implements [desktop.Hoverable].
func (v *PhotoView) MouseOut() {
	v.hover = false
	v.showLoupe()
}

// Cursor implements [desktop.Cursorable].
func (v *PhotoView) Cursor() desktop.Cursor {
	switch {
	case v.picture == nil || v.space || v.hold != nil && v.hold.pan:
		return desktop.DefaultCursor
	case v.hold != nil && v.hold.mark >= 0, v.hold == nil && v.reach(float64(v.pointer.X), float64(v.pointer.Y)) >= 0:
		return desktop.PointerCursor
	case v.PlaceKind != "":
		return desktop.CrosshairCursor
	}
	return desktop.DefaultCursor
}
