package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// TypedKey implements [fyne.Focusable]. The keys are:
//
//	arrows          nudge the selected point by a pixel of the picture, with Shift
//	                by 10, with Ctrl by 0.1; with none selected, move the cross that
//	                aims, or the picture
//	Enter           aim a new point with a cross, from the selected point or the
//	                middle; then place it
//	N, Page Down    select the next point
//	P, Page Up      select the one before
//	Delete          remove the selected point
//	Escape          give up a drag; put the cross away; select none
//	+ - 0           larger, smaller, the whole picture
//	Space, held     the mouse drags the picture, also where points are
func (v *PhotoView) TypedKey(e *fyne.KeyEvent) {
	if v.picture == nil || !v.typed(e.Name, modifiers()) {
		v.handOn(e)
		return
	}
	v.show()
}

// typed acts on a key; it returns false for one the view has no use for now.
func (v *PhotoView) typed(key fyne.KeyName, mods fyne.KeyModifier) bool {
	if dx, dy, ok := arrowOf(key); ok {
		v.arrowed(dx, dy, mods)
		return true
	}
	switch key {
	case fyne.KeyReturn, fyne.KeyEnter:
		return v.entered()
	case fyne.KeyPageDown:
		v.step(+1)
	case fyne.KeyPageUp:
		v.step(-1)
	case fyne.KeyDelete, fyne.KeyBackspace:
		if v.selected < 0 {
			return false
		}
		v.remove()
	case fyne.KeyEscape:
		return v.escaped()
	case fyne.KeySpace, fyne.KeyN, fyne.KeyP, fyne.KeyPlus, fyne.KeyEqual, fyne.KeyMinus, fyne.Key0:
		// These come as characters too, wherever the keyboard has them.
	default:
		return false
	}
	return true
}

// TypedRune implements [fyne.Focusable].
func (v *PhotoView) TypedRune(r rune) {
	if v.picture == nil {
		return
	}
	const by = 1.25
	switch r {
	case '+', '=':
		v.Zoom(by)
	case '-', '−':
		v.Zoom(1 / by)
	case '0':
		v.Fit()
	case 'n', 'N':
		v.step(+1)
		v.show()
	case 'p', 'P':
		v.step(-1)
		v.show()
	}
}

// TypedShortcut implements [fyne.Shortcutable]: the toolkit takes arrows with Ctrl
// for shortcuts. Others go on to the window's.
func (v *PhotoView) TypedShortcut(s fyne.Shortcut) {
	if c, ok := s.(*desktop.CustomShortcut); ok && v.picture != nil {
		if dx, dy, ok := arrowOf(c.KeyName); ok {
			v.arrowed(dx, dy, c.Modifier)
			v.show()
			return
		}
	}
	if c, ok := fyne.CurrentApp().Driver().CanvasForObject(v).(fyne.Shortcutable); ok {
		c.TypedShortcut(s)
	}
}

// arrowOf returns the direction of an arrow key, y down.
func arrowOf(key fyne.KeyName) (dx, dy float64, ok bool) {
	switch key {
	case fyne.KeyLeft:
		return -1, 0, true
	case fyne.KeyRight:
		return 1, 0, true
	case fyne.KeyUp:
		return 0, -1, true
	case fyne.KeyDown:
		return 0, 1, true
	}
	return 0, 0, false
}

// arrowed nudges the selected point, moves the cross or moves the picture.
func (v *PhotoView) arrowed(dx, dy float64, mods fyne.KeyModifier) {
	if v.hold != nil {
		return // the mouse is busy
	}
	step := 1.0
	switch {
	case mods&fyne.KeyModifierShift != 0:
		step = 10
	case mods&(fyne.KeyModifierControl|fyne.KeyModifierSuper) != 0:
		step = 0.1
	}
	if v.selected >= 0 {
		m := v.marks[v.selected]
		v.tuning = true
		if v.move(v.selected, spot{m.X + dx*step, m.Y + dy*step}) {
			v.nudged = true
		}
		v.keepInView()
		if !v.arrow {
			v.settle()
		}
		return
	}
	const units = 8 // of the view, for a step of 1
	dx, dy = dx*step*units/v.sight.scale, dy*step*units/v.sight.scale
	if v.PlaceKind == "" {
		v.sight.look(v.sight.x+dx, v.sight.y+dy)
		return
	}
	if v.aim == nil {
		v.startAim()
	}
	v.aim.X, v.aim.Y = v.sight.clamp(v.aim.X+dx, v.aim.Y+dy)
	v.keepInView()
}

// startAim puts the cross onto the selected point, which is selected no more, or
// into the middle of the view.
func (v *PhotoView) startAim() {
	aim := spot{v.sight.x, v.sight.y}
	if at, ok := v.attention(); ok {
		aim = at
	}
	v.choose(-1)
	v.aim = &aim
	v.keepInView()
}

func (v *PhotoView) entered() bool {
	switch {
	case v.PlaceKind == "" || v.hold != nil:
		return false
	case v.aim == nil:
		v.startAim()
	default:
		at := *v.aim
		v.aim = nil
		v.place(at)
		v.tuning = true
	}
	return true
}

// step selects the next point, or the one before, round and round.
func (v *PhotoView) step(by int) {
	n := len(v.marks)
	if n == 0 || v.hold != nil {
		return
	}
	next := v.selected + by
	if v.selected < 0 && by < 0 {
		next = n - 1
	}
	v.choose((next + n) % n)
	v.keepInView()
}

// remove asks for the selected point to be removed; then none is selected.
func (v *PhotoView) remove() {
	index := v.selected
	v.letGo()
	v.choose(-1)
	if v.OnRemove != nil {
		v.OnRemove(index)
	}
}

func (v *PhotoView) escaped() bool {
	switch {
	case v.hold != nil:
		v.giveUp()
	case v.aim != nil:
		v.aim = nil
	case v.selected >= 0:
		v.choose(-1)
	default:
		return false
	}
	return true
}

// KeyDown implements [desktop.Keyable].
func (v *PhotoView) KeyDown(e *fyne.KeyEvent) {
	switch _, _, arrow := arrowOf(e.Name); {
	case arrow:
		v.arrow = true
	case e.Name == fyne.KeySpace:
		v.space = true
	}
}

// KeyUp implements [desktop.Keyable]: a point nudged by holding a key down has
// come to rest.
func (v *PhotoView) KeyUp(e *fyne.KeyEvent) {
	switch _, _, arrow := arrowOf(e.Name); {
	case arrow:
		v.arrow = false
		v.settle()
	case e.Name == fyne.KeySpace:
		v.space = false
	}
}

// FocusLost implements [fyne.Focusable].
func (v *PhotoView) FocusLost() {
	v.settle()
	v.space, v.arrow, v.tuning, v.aim = false, false, false, nil
	v.keyboard.FocusLost()
	v.show()
}
