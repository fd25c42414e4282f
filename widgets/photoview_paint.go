package widgets

import (
	"encoding/binary"
	"image"
	"image/color"
	"image/draw"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"pinphase.org/pinphase/timing/figure"
)

// photoLayers are the two layers of a photo view, joined into one raster: the
// picture, painted when it moved, and what lies over it, painted whenever
// anything changed.
type photoLayers struct {
	raster  *canvas.Raster
	sampler sampler
	over    figure.Raster

	base     *image.RGBA
	baseIs   photoBase // what base shows
	joined   *image.RGBA
	stale    bool // joined must be painted anew
	pictures int  // how often base was painted, for tests
	joins    int  // and joined
}

// photoBase is all that the picture's layer depends on.
type photoBase struct {
	picture *Pyramid
	place   Transform // into pixels of the layer
	size    image.Point
	beside  color.RGBA
}

// emptyInset is the distance, in units, of the frame of an empty view from its
// edge.
const emptyInset = 16

// paint returns the picture with all that lies over it, w by h pixels.
func (v *PhotoView) paint(w, h int) image.Image {
	l, size := &v.layers, image.Pt(max(w, 1), max(h, 1))
	st := overPicture(v.Theme())
	perUnit := float64(size.X) / max(1, float64(v.Size().Width))
	place := v.sight.transform().times(perUnit)

	is := photoBase{v.picture, place, size, st.Color(figure.Band)}
	if l.base == nil || l.baseIs != is {
		if l.base == nil || l.base.Rect.Size() != size {
			l.base, l.joined = image.NewRGBA(image.Rectangle{Max: size}), image.NewRGBA(image.Rectangle{Max: size})
		}
		if v.picture != nil {
			l.sampler.paint(l.base, v.picture, place, is.beside)
		} else {
			draw.Draw(l.base, l.base.Rect, image.NewUniform(is.beside), image.Point{}, draw.Src)
		}
		l.baseIs, l.stale = is, true
		l.pictures++
	}
	if l.stale {
		d := figure.Drawing{
			W: float64(v.Size().Width) / unitsPerPoint, H: float64(v.Size().Height) / unitsPerPoint,
			Shapes: v.overShapes(),
		}
		copy(l.joined.Pix, l.base.Pix)
		l.over.Clear = true
		layOver(l.joined, l.over.Render(d, st, size.X, size.Y, perUnit*unitsPerPoint))
		l.stale = false
		l.joins++
	}
	return l.joined
}

// overPicture returns the style of what lies over a picture: with broader lines
// than on plain ground, for a photograph is restless.
func overPicture(th fyne.Theme) figure.Style { return styleOf(th).WithLines(1.4) }

// overShapes returns all that lies over the picture, in points.
func (v *PhotoView) overShapes() []figure.Shape {
	w, h := float64(v.Size().Width)/unitsPerPoint, float64(v.Size().Height)/unitsPerPoint
	if v.picture == nil {
		const inset = emptyInset / unitsPerPoint
		frame := figure.Rect{X: inset, Y: inset, W: w - 2*inset, H: h - 2*inset}
		return []figure.Shape{figure.Path{Segs: figure.Rectangle(frame), Stroke: figure.Ghost}}
	}
	t := v.View()
	list := v.owners(t, figure.Rect{W: w, H: h})
	for i, m := range v.marks {
		list = append(list, v.markShapes(m, t, i == v.selected)...)
	}
	if v.aim != nil {
		x, y := t.Apply(v.aim.X, v.aim.Y)
		list = append(list, crosshair(x, y, 4, 14)...)
	}
	return list
}

// owners returns what the owner draws, as far as it is seen in the window.
func (v *PhotoView) owners(t Transform, window figure.Rect) []figure.Shape {
	if v.Overlay == nil {
		return nil
	}
	const widest = 4 // points, half the width of the widest line and some more
	return seen(v.Overlay(t).Shapes, window.Grown(widest))
}

// layOver lays src over dst, which is opaque; both are of one size. Most of src is
// empty, and that is passed over quickly.
func layOver(dst, src *image.RGBA) {
	d, s := dst.Pix, src.Pix[:len(dst.Pix)]
	for i := 0; i+4 <= len(s); i += 4 {
		if i+8 <= len(s) && binary.LittleEndian.Uint64(s[i:]) == 0 {
			i += 4
			continue
		}
		switch a := uint32(s[i+3]); a {
		case 0:
		case 255:
			copy(d[i:i+4], s[i:i+4])
		default:
			for c := i; c < i+4; c++ {
				d[c] = s[c] + uint8((uint32(d[c])*(255-a)+127)/255)
			}
		}
	}
}
