package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/figure"
)

// FigureView shows any figure that needs nothing on top of it, made anew for the
// room it has.
type FigureView struct {
	widget.BaseWidget

	min   fyne.Size
	draw  func(figure.Box) figure.Drawing
	desc  string
	plane *plane
	live  bool // there is a renderer
}

// NewFigureView returns a view that shows nothing yet and asks for at least so
// much room.
func NewFigureView(min fyne.Size) *FigureView {
	v := &FigureView{min: min, plane: newPlane()}
	v.ExtendBaseWidget(v)
	return v
}

// SetFigure puts another figure into the view: draw makes it for the room there
// is. desc says what it shows, for those who cannot see it.
func (v *FigureView) SetFigure(desc string, draw func(figure.Box) figure.Drawing) {
	v.desc, v.draw, v.plane.stale = desc, draw, true
	v.build()
}

// MinSize implements [fyne.Widget].
func (v *FigureView) MinSize() fyne.Size {
	v.ExtendBaseWidget(v)
	return v.min
}

// AccessibilityLabel says what the view shows.
func (v *FigureView) AccessibilityLabel() string { return v.desc }

// CreateRenderer implements [fyne.Widget].
func (v *FigureView) CreateRenderer() fyne.WidgetRenderer {
	v.ExtendBaseWidget(v)
	v.live = true
	return &figureRenderer{v}
}

func (v *FigureView) build() {
	size := v.Size()
	if !v.live || !v.plane.due(size) {
		return
	}
	d := figure.Drawing{W: 1, H: 1}
	if v.draw != nil {
		d = v.draw(box(size, v.Theme()))
	}
	v.plane.show(d, styleOf(v.Theme()))
}

type figureRenderer struct{ v *FigureView }

func (r *figureRenderer) Layout(size fyne.Size) {
	r.v.plane.raster.Resize(size)
	r.v.build()
}

func (r *figureRenderer) MinSize() fyne.Size { return r.v.MinSize() }

func (r *figureRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.v.plane.raster}
}

// Refresh is for a change of the theme.
func (r *figureRenderer) Refresh() {
	r.v.plane.stale = true
	r.v.build()
}

func (r *figureRenderer) Destroy() { r.v.plane.drop() }
