package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"
)

// CreateRenderer implements [fyne.Widget].
func (v *PhotoView) CreateRenderer() fyne.WidgetRenderer {
	v.ExtendBaseWidget(v)
	v.newRing()
	v.hint = widget.NewLabel("")
	v.hint.Alignment = fyne.TextAlignCenter
	v.hint.Wrapping = fyne.TextWrapWord
	r := &photoRenderer{v}
	r.Refresh()
	return r
}

// show paints the view anew after a change of what it shows; the picture itself
// is painted again only if it moved.
func (v *PhotoView) show() {
	v.layers.stale = true
	canvas.Refresh(v.layers.raster)
	v.showLoupe()
}

type photoRenderer struct{ v *PhotoView }

// Layout implements [fyne.WidgetRenderer].
func (r *photoRenderer) Layout(size fyne.Size) {
	v := r.v
	v.layers.raster.Resize(size)
	v.ring.Resize(size)
	v.hint.Resize(fyne.NewSize(max(0, size.Width-4*emptyInset), v.hint.MinSize().Height))
	v.hint.Move(fyne.NewPos(2*emptyInset, (size.Height-v.hint.MinSize().Height)/2))
	if v.picture != nil {
		v.sight.resize(float64(size.Width), float64(size.Height))
	}
	v.layers.stale = true
	v.showLoupe()
}

// MinSize implements [fyne.WidgetRenderer].
func (r *photoRenderer) MinSize() fyne.Size { return r.v.MinSize() }

// Objects implements [fyne.WidgetRenderer].
func (r *photoRenderer) Objects() []fyne.CanvasObject {
	v := r.v
	return []fyne.CanvasObject{v.layers.raster, v.hint, v.loupe.raster, v.ring}
}

// Refresh is for another picture, a change of the exported fields or of the theme.
func (r *photoRenderer) Refresh() {
	v := r.v
	v.dressRing(v.Theme())
	v.hint.Hidden = v.picture != nil
	if v.hint.Text != v.Placeholder {
		v.hint.SetText(v.Placeholder)
	}
	r.Layout(v.Size())
	v.show()
}

// Destroy implements [fyne.WidgetRenderer].
func (r *photoRenderer) Destroy() {}
