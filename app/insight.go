package app

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/widgets"
)

// watch looks, once a frame, after what the toolkit tells nobody: that the keyboard
// has gone elsewhere, perhaps to something scrolled out of sight, where Tab leads
// too; and that the window has another size.
func (u *ui) watch() {
	var size fyne.Size
	var last fyne.Focusable
	looks := 0 // still to be had at where the keyboard is: what comes with it may take a frame to find its place
	a := fyne.NewAnimation(time.Second, func(float32) {
		if f := u.Window.Canvas().Focused(); f != last {
			last, looks = f, 3
		}
		if looks > 0 {
			looks--
			u.focusInSight()
		}
		if s := u.Window.Canvas().Size(); s != size {
			size = s
			u.fitText()
		}
	})
	a.RepeatCount = fyne.AnimationRepeatForever
	a.Start()
}

// focusInSight scrolls what has the keyboard into sight. What is seen for the
// greater part stays where it is.
func (u *ui) focusInSight() {
	o, ok := u.Window.Canvas().Focused().(fyne.CanvasObject)
	if !ok {
		return
	}
	root := u.Root
	if n := len(u.Dialogs); n > 0 {
		root = u.Dialogs[n-1].Content
	}
	around, _ := scrollsAround(root, o)
	for _, s := range around {
		at := place(o).Subtract(place(s))
		s.ScrollToOffset(fyne.NewPos(
			scrolledTo(at.X, o.Size().Width, s.Offset.X, s.Size().Width),
			scrolledTo(at.Y, o.Size().Height, s.Offset.Y, s.Size().Height)))
	}
}

func place(o fyne.CanvasObject) fyne.Position {
	return fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
}

// scrolledTo is the offset at which something, now at a place within the room, is
// seen as a whole; the present one when its middle is in sight.
func scrolledTo(at, size, offset, room float32) float32 {
	if middle := at + size/2; middle >= 0 && middle <= room {
		return offset
	}
	if at > 0 {
		at += size - room // its end to the end of the room
	}
	return max(0, offset+at)
}

// scrollsAround are the scrolls that an object lies in, the innermost first.
func scrollsAround(from, target fyne.CanvasObject) (list []*container.Scroll, found bool) {
	any := func(objects ...fyne.CanvasObject) bool {
		for _, o := range objects {
			if o != nil && o.Visible() {
				if list, found = scrollsAround(o, target); found {
					return true
				}
			}
		}
		return false
	}
	if from == target {
		return nil, true
	}
	switch o := from.(type) {
	case *fyne.Container:
		any(o.Objects...)
	case *container.Scroll:
		if any(o.Content) {
			list = append(list, o)
		}
	case *kit.Once:
		any(o.Content)
	case *container.Split:
		any(o.Leading, o.Trailing)
	case *container.AppTabs:
		if s := o.Selected(); s != nil {
			any(s.Content)
		}
	case *widgets.Field:
		f, _ := o.Focusable().(fyne.CanvasObject)
		found = f == target
	}
	return list, found
}
