package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

// TraceView shows traces over an axis that can be zoomed and moved along, with a
// cursor. What lies in the window shown is asked for whenever that changes, in as
// many columns as the view is wide; the cursor and its tag lie on top.
type TraceView struct {
	stage // with OnKey

	// Window gives what is to be shown of the axis, in n columns.
	Window func(from, to float64, n int) figure.SignalsInput
	// OnCursor is told where the user wants the cursor, on the axis.
	OnCursor func(at float64)
	// OnStep is told of an arrow key: by how many degrees the crank is to be moved.
	OnStep func(degrees float64)
	// OnWindow is told that another part of the axis is shown.
	OnWindow func()

	lo, hi   float64 // the whole axis
	least    float64 // of it that a window shows
	from, to float64 // the window

	at      float64 // the cursor
	on      bool    // there is one
	label   string
	hint    string // what is under the pointer
	pointer fyne.Position
	drag    traceDrag

	layout figure.SignalsLayout
	desc   string
	cursor cursor
	note   tag // at the pointer
}

// NewTraceView returns a view that shows nothing yet, with room for some rows.
func NewTraceView() *TraceView {
	v := &TraceView{cursor: newCursor(), note: newTag()}
	v.grows = true
	v.begin(v, fyne.NewSize(300, 180), func(by timing.Deg) {
		if v.OnStep != nil {
			v.OnStep(float64(by))
		}
	})
	return v
}

// SetAxis gives the view another axis and shows all of it. least is how little of it
// a window may show.
func (v *TraceView) SetAxis(lo, hi, least float64) {
	v.lo, v.hi, v.least = lo, hi, least
	v.show(lo, hi)
}

// Reload shows the same window anew, after what it shows has changed.
func (v *TraceView) Reload() { v.changed() }

// Shows is the part of the axis that is shown.
func (v *TraceView) Shows() (from, to float64) { return v.from, v.to }

// Whole tells whether all of the axis is shown.
func (v *TraceView) Whole() bool { return v.from <= v.lo && v.to >= v.hi }

// Fit shows all of the axis.
func (v *TraceView) Fit() { v.show(v.lo, v.hi) }

// Zoom shows the window k times as large, about the cursor where that is in it, else
// about its middle.
func (v *TraceView) Zoom(k float64) {
	about := (v.from + v.to) / 2
	if v.on && v.at > v.from && v.at < v.to {
		about = v.at
	}
	v.zoomAbout(about, k)
}

// Pan moves the window on by a share of itself.
func (v *TraceView) Pan(share float64) {
	by := share * (v.to - v.from)
	v.show(v.from+by, v.to+by)
}

// ShowRange shows a part of the axis, cut to what there is.
func (v *TraceView) ShowRange(from, to float64) { v.show(from, to) }

func (v *TraceView) show(from, to float64) {
	from, to = withinAxis(from, to, v.lo, v.hi, v.least)
	if from == v.from && to == v.to && !v.plane.stale {
		return
	}
	v.from, v.to = from, to
	v.say("")
	v.changed()
	if v.OnWindow != nil {
		v.OnWindow()
	}
}

// withinAxis cuts a window to an axis, keeping its width where that is possible.
func withinAxis(from, to, lo, hi, least float64) (float64, float64) {
	width := min(max(to-from, min(least, hi-lo)), hi-lo)
	if width != to-from { // about its middle
		middle := (from + to) / 2
		from, to = middle-width/2, middle+width/2
	}
	switch {
	case from < lo:
		from, to = lo, lo+width
	case to > hi:
		from, to = hi-width, hi
	}
	return from, to
}

func (v *TraceView) zoomAbout(about, k float64) {
	width := (v.to - v.from) * k
	share := (about - v.from) / (v.to - v.from)
	least := min(v.least, v.hi-v.lo)
	width = min(max(width, least), v.hi-v.lo)
	v.show(about-share*width, about+(1-share)*width)
}

// MoveCursor puts the cursor at a place of the axis, with the words of its tag, and
// moves the window on when that lies outside.
func (v *TraceView) MoveCursor(at float64, label string) {
	v.at, v.label, v.on = at, label, true
	if v.to > v.from && (at < v.from || at > v.to) && at >= v.lo && at <= v.hi {
		width := v.to - v.from
		switch {
		case at > v.to && at < v.to+width:
			v.show(at-0.9*width, at+0.1*width)
		case at < v.from && at > v.from-width:
			v.show(at-0.1*width, at+0.9*width)
		default:
			v.show(at-width/2, at+width/2)
		}
	}
	v.place()
}

// HideCursor takes the cursor away.
func (v *TraceView) HideCursor() {
	v.on = false
	v.place()
}

// CursorAt is where the cursor is on the axis; ok is false without one.
func (v *TraceView) CursorAt() (at float64, ok bool) { return v.at, v.on }

// AccessibilityLabel says what the view shows.
func (v *TraceView) AccessibilityLabel() string { return v.desc }

func (v *TraceView) draw(room figure.Box) (d figure.Drawing, ok bool) {
	if v.Window == nil || !(v.to > v.from) {
		return figure.Drawing{}, false
	}
	in := v.Window(v.from, v.to, max(int(v.Size().Width), 40))
	in.Cursor = nil
	v.desc = in.Desc
	d, v.layout = figure.Signals(in, room)
	return d, true
}

func (v *TraceView) over() []fyne.CanvasObject {
	return append(v.cursor.objects(), v.note.box, v.note.text, v.ring)
}

func (v *TraceView) dress(th fyne.Theme) {
	st := styleOf(th)
	v.stage.dress(th)
	v.cursor.dress(st)
	v.note.colour(st.Color(figure.Ink), st.Color(figure.Surface))
}

// place puts cursor, tag and note where they belong.
func (v *TraceView) place() {
	v.stage.place()
	if !v.on || v.layout.Plot.W <= 0 || v.at < v.from || v.at > v.to {
		v.cursor.hide()
	} else { // the tag over the axis, whose numbers it hides, not over a trace
		v.cursor.put(v.layout.X(v.at), v.layout.Plot, v.label, false, v.Theme(), v.Size())
	}
	v.note.hide(v.hint == "")
	if v.hint != "" {
		v.note.write(v.hint, v.Theme().Size(theme.SizeNameCaptionText))
		v.note.put(v.pointer.X, v.pointer.Y-2*v.Theme().Size(theme.SizeNameText), v.Size())
	}
	v.note.refresh()
}

// say shows what is under the pointer.
func (v *TraceView) say(hint string) {
	if hint != v.hint {
		v.hint = hint
		v.place()
	}
}
