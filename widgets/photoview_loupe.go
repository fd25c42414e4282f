package widgets

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"pinphase.org/pinphase/timing/figure"
)

// loupe is a round window that shows the place that is being pointed at several
// times as large as the view does, beside the pointer so that neither it nor a
// finger covers the place.
type loupe struct {
	raster  *canvas.Raster
	view    *PhotoView
	sampler sampler
	over    figure.Raster
	img     *image.RGBA

	at     spot // what it shows in its middle
	corner int  // of loupeCorners: where it stands
}

// What a loupe is like, in units.
const (
	loupeSize    = 176.0 // across
	loupeGap     = 26.0  // from its rim to the place it shows
	loupeEnlarge = 4.0   // times what the view shows
	loupeLeast   = 2.0   // units per pixel of the picture, if that is more
)

func newLoupe(v *PhotoView) *loupe {
	l := &loupe{view: v}
	l.raster = canvas.NewRaster(l.paint)
	l.raster.ScaleMode = canvas.ImageScaleFastest
	l.raster.Hidden = true
	return l
}

// lookAt returns the place that the user is busy with; ok is false while there is
// none that wants a loupe.
func (v *PhotoView) lookAt() (at spot, ok bool) {
	switch {
	case v.picture == nil:
		return spot{}, false
	case v.hold != nil && v.hold.mark >= 0:
		return v.marks[v.hold.mark].place(), true
	case v.hold != nil && (v.hold.moved || v.hold.pan):
		return spot{}, false
	case v.aim != nil:
		return *v.aim, true
	case v.tuning && v.selected >= 0:
		return v.marks[v.selected].place(), true
	case v.hover && v.PlaceKind != "" && v.reach(float64(v.pointer.X), float64(v.pointer.Y)) < 0:
		if x, y, on := v.onPicture(v.pointer); on {
			return spot{x, y}, true
		}
	}
	return spot{}, false
}

// showLoupe puts the loupe where it belongs, or away.
func (v *PhotoView) showLoupe() {
	l := v.loupe
	at, ok := v.lookAt()
	if !ok {
		if !l.raster.Hidden {
			l.raster.Hidden = true
			canvas.Refresh(l.raster)
		}
		return
	}
	l.at, l.raster.Hidden = at, false
	size := min(loupeSize, v.sight.w, v.sight.h)
	x, y := v.sight.transform().Apply(at.X, at.Y)
	left, top, corner := standLoupe(x, y, size, v.sight.w, v.sight.h, l.corner)
	l.corner = corner
	l.raster.Resize(fyne.NewSize(float32(size), float32(size)))
	l.raster.Move(fyne.NewPos(float32(math.Round(left)), float32(math.Round(top)))) // onto the pixels
	canvas.Refresh(l.raster)
}

// loupeCorners are the directions in which a loupe may stand from its place, the
// best first: a hand usually comes from below on the right.
var loupeCorners = [4]struct{ x, y float64 }{{-1, -1}, {1, -1}, {-1, 1}, {1, 1}}

// standLoupe returns where in a view of w by h units a loupe for the place x, y
// stands, and in which corner from it: in the one it stood in, if there is room,
// else in the first that has room. Where none has, it is the one where moving it
// into the view brings it least near to the place.
func standLoupe(x, y, size, w, h float64, was int) (left, top float64, corner int) {
	away := (size/2 + loupeGap) * math.Sqrt2 / 2
	best := math.Inf(-1)
	for i := range len(loupeCorners) + 1 {
		c := was
		if i > 0 {
			c = i - 1
		}
		l, t := x+loupeCorners[c].x*away-size/2, y+loupeCorners[c].y*away-size/2
		inL, inT := max(0, min(l, w-size)), max(0, min(t, h-size))
		gap := math.Hypot(inL+size/2-x, inT+size/2-y)
		if l == inL && t == inT {
			return l, t, c
		}
		if gap > best+1e-9 {
			best, left, top, corner = gap, inL, inT, c
		}
	}
	return left, top, corner
}

// paint draws the loupe, w by h pixels.
func (l *loupe) paint(w, h int) image.Image {
	v, size := l.view, image.Pt(max(w, 1), max(h, 1))
	if l.img == nil || l.img.Rect.Size() != size {
		l.img = image.NewRGBA(image.Rectangle{Max: size})
	}
	if v.picture == nil {
		return l.img
	}
	units := float64(l.raster.Size().Width)
	scale := max(loupeEnlarge*v.sight.scale, loupeLeast)
	place := Transform{scale, units/2 - l.at.X*scale, units/2 - l.at.Y*scale}
	perUnit := float64(size.X) / max(1, units)
	st := overPicture(v.Theme())
	l.sampler.paint(l.img, v.picture, place.times(perUnit), st.Color(figure.Band))

	across := units / unitsPerPoint
	toPoints := place.times(1 / unitsPerPoint)
	d := figure.Drawing{W: across, H: across, Shapes: v.owners(toPoints, figure.Rect{W: across, H: across})}
	for _, m := range v.marks {
		if x, y := toPoints.Apply(m.X, m.Y); m.place() != l.at && math.Hypot(x-across/2, y-across/2) < across/2+markRadius {
			d.Shapes = append(d.Shapes, v.markShapes(m, toPoints, false)...)
		}
	}
	d.Shapes = append(d.Shapes, crosshair(across/2, across/2, 5, across/2)...)
	const rim = 1.2 // points from the edge to the middle of the rim
	d.Shapes = append(d.Shapes, haloed(figure.Circle(across/2, across/2, across/2-rim), figure.Ink, figure.Fine)...)
	l.over.Clear = true
	layOver(l.img, l.over.Render(d, st, size.X, size.Y, perUnit*unitsPerPoint))
	cutRound(l.img)
	return l.img
}

// cutRound leaves of a picture the circle that fits into it.
func cutRound(img *image.RGBA) {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	r := float64(min(w, h)) / 2
	for y := range h {
		line := img.Pix[y*img.Stride:][:4*w]
		for x := range w {
			part := r + 0.5 - math.Hypot(float64(x)+0.5-float64(w)/2, float64(y)+0.5-float64(h)/2)
			if part >= 1 {
				continue
			}
			part = max(0, part)
			for c := range 4 {
				line[4*x+c] = uint8(float64(line[4*x+c])*part + 0.5)
			}
		}
	}
}
