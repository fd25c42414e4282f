package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

// host is what every view of a figure is built on: the plane the figure is painted
// on and the renderer. The figure is made anew when what it shows, its room or the
// theme has changed; what lies on top of it moves without that. It is embedded.
type host struct {
	widget.BaseWidget
	plane *plane
	view  hosted
	least fyne.Size
	grows bool // asks for more height where text is large
	own   bool // looks the same in every theme
	live  bool // there is a renderer

	pointed func(text string, at fyne.Position, size fyne.Size) // see SetPointed; nil: nobody
	under   string                                              // the text under the pointer
}

// hosted is a view as its host knows it.
type hosted interface {
	fyne.Widget
	// draw makes the figure for the room there is; ok is false where there is
	// nothing to show yet.
	draw(room figure.Box) (d figure.Drawing, ok bool)
	// style is how the figure looks in a theme.
	style(th fyne.Theme) figure.Style
	// over is what lies on top of the figure, from below upwards.
	over() []fyne.CanvasObject
	// dress gives that its colours, and place its place.
	dress(th fyne.Theme)
	place()
}

// begin makes the host of a view, whose least size is given.
func (h *host) begin(view hosted, least fyne.Size) {
	h.plane, h.view, h.least = newPlane(), view, least
	h.ExtendBaseWidget(view)
}

func (h *host) style(th fyne.Theme) figure.Style { return styleOf(th) }
func (h *host) over() []fyne.CanvasObject        { return nil }
func (h *host) dress(fyne.Theme)                 {}
func (h *host) place()                           {}

// MinSize implements [fyne.Widget].
func (h *host) MinSize() fyne.Size {
	h.ExtendBaseWidget(h.view)
	if h.grows {
		return fyne.NewSize(h.least.Width, h.least.Height*largeText(h.Theme()))
	}
	return h.least
}

// changed makes the figure anew after what it shows has changed.
func (h *host) changed() {
	h.plane.stale = true
	h.update()
}

func (h *host) update() {
	h.build()
	if h.live {
		h.view.place()
	}
}

// build makes the figure for the view's present size, if that or what it shows has
// changed.
func (h *host) build() {
	if size := h.Size(); h.live && h.plane.due(size) {
		d, ok := h.view.draw(box(size, h.Theme()))
		if ok {
			h.plane.show(d, h.view.style(h.Theme()))
		} else {
			h.plane.stale = true
		}
	}
}

// CreateRenderer implements [fyne.Widget].
func (h *host) CreateRenderer() fyne.WidgetRenderer {
	h.ExtendBaseWidget(h.view)
	h.live = true
	r := &hostRenderer{h}
	r.Refresh()
	return r
}

type hostRenderer struct{ h *host }

func (r *hostRenderer) Layout(size fyne.Size) {
	r.h.plane.raster.Resize(size)
	r.h.build()
	r.h.view.place()
}

func (r *hostRenderer) MinSize() fyne.Size { return r.h.view.MinSize() }

func (r *hostRenderer) Objects() []fyne.CanvasObject {
	return append([]fyne.CanvasObject{r.h.plane.raster}, r.h.view.over()...)
}

// Refresh is for a change of the theme.
func (r *hostRenderer) Refresh() {
	r.h.view.dress(r.h.Theme())
	r.h.plane.stale = r.h.plane.stale || !r.h.own
	r.h.update()
}

func (r *hostRenderer) Destroy() { r.h.plane.drop() }

// stage is the host of a figure that gets the keyboard: the arrow keys and the mouse
// wheel move the crank, and a ring shows where the keys go. It is embedded.
type stage struct {
	host
	stepper // with OnKey
}

func (s *stage) begin(view hosted, least fyne.Size, step func(timing.Deg)) {
	s.step = step
	s.newRing()
	s.host.begin(view, least)
}

func (s *stage) over() []fyne.CanvasObject { return []fyne.CanvasObject{s.ring} }
func (s *stage) dress(th fyne.Theme)       { s.dressRing(th) }
func (s *stage) place()                    { s.ring.Resize(s.Size()) }

// MouseUp implements [desktop.Mouseable].
func (s *stage) MouseUp(*desktop.MouseEvent) {}

// DragEnd implements [fyne.Draggable].
func (s *stage) DragEnd() {}

// cursor is an upright line over a figure, with a tag at one of its ends.
type cursor struct {
	line *canvas.Line
	tag  tag
}

func newCursor() cursor {
	c := cursor{canvas.NewLine(nil), newTag()}
	c.line.StrokeWidth = 2
	return c
}

func (c cursor) objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{c.line, c.tag.box, c.tag.text}
}

func (c cursor) dress(st figure.Style) {
	c.line.StrokeColor = st.Color(figure.Cursor)
	c.tag.colour(st.Color(figure.Cursor), st.Color(figure.Surface))
}

func (c cursor) hide() {
	c.line.Hidden = true
	c.tag.hide(true)
	c.refresh()
}

// put sets the cursor at x points of the figure, over the height of its plot, with
// the tag above the plot or below it. Without words there is no tag.
func (c cursor) put(x float64, plot figure.Rect, words string, above bool, th fyne.Theme, room fyne.Size) {
	top, bottom := unit(plot.Y), unit(plot.Bottom())
	c.line.Hidden = false
	c.line.Position1, c.line.Position2 = fyne.NewPos(unit(x), top), fyne.NewPos(unit(x), bottom)
	c.tag.hide(words == "")
	size, at := c.tag.write(words, th.Size(theme.SizeNameCaptionText)), bottom
	if above {
		at = top - size.Height
	}
	c.tag.put(unit(x), at, room)
	c.refresh()
}

func (c cursor) refresh() {
	canvas.Refresh(c.line)
	c.tag.refresh()
}
