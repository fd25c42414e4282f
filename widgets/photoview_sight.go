package widgets

import "math"

// Transform takes places of a picture, in its pixels with y down, to places of
// another plane: x is multiplied by Scale and moved by DX, y likewise by DY.
type Transform struct{ Scale, DX, DY float64 }

// Apply returns where a place of the picture comes to lie.
func (t Transform) Apply(x, y float64) (float64, float64) {
	return x*t.Scale + t.DX, y*t.Scale + t.DY
}

// Invert returns which place of the picture has come to lie there.
func (t Transform) Invert(x, y float64) (float64, float64) {
	return (x - t.DX) / t.Scale, (y - t.DY) / t.Scale
}

// times returns the transform followed by a multiplication by k.
func (t Transform) times(k float64) Transform { return Transform{t.Scale * k, t.DX * k, t.DY * k} }

// sight is what part of a picture a view shows, and how large. Lengths of the
// view are in Fyne's units.
//
// Whatever is asked of it, the picture covers the rectangle that it fills when
// it is fitted to the view, so it cannot be lost; and enlarging about a point of
// the picture leaves that point where it is.
type sight struct {
	picW, picH float64 // pixels
	w, h       float64 // the view
	scale      float64 // units per pixel
	x, y       float64 // the pixel in the view's middle
}

// Limits of a sight.
const (
	fitMargin   = 8.0  // units left round a fitted picture
	mostEnlarge = 16.0 // units per pixel
)

// fitScale returns the scale at which the picture just fits the view.
func (s *sight) fitScale() float64 {
	return max(min((s.w-2*fitMargin)/s.picW, (s.h-2*fitMargin)/s.picH), 1e-3)
}

// fitted tells whether the picture is shown as small as it can be.
func (s *sight) fitted() bool { return s.scale <= s.fitScale() }

// fit shows the whole picture.
func (s *sight) fit() {
	s.scale = s.fitScale()
	s.limit()
}

// resize gives the view another size. A fitted picture stays fitted; otherwise
// size and middle stay.
func (s *sight) resize(w, h float64) {
	fitted := s.scale == 0 || s.fitted()
	s.w, s.h = w, h
	if fitted {
		s.fit()
	}
	s.limit()
}

// zoom enlarges by k about a place of the view.
func (s *sight) zoom(k, x, y float64) {
	px, py := s.transform().Invert(x, y)
	s.scale = s.clampScale(s.scale * k)
	s.x, s.y = px-(x-s.w/2)/s.scale, py-(y-s.h/2)/s.scale
	s.limit()
}

// look puts a pixel into the view's middle.
func (s *sight) look(x, y float64) {
	s.x, s.y = x, y
	s.limit()
}

// reveal moves the view by as little as brings a pixel margin units inside.
func (s *sight) reveal(x, y, margin float64) {
	halfW, halfH := max(0, s.w/2-margin)/s.scale, max(0, s.h/2-margin)/s.scale
	s.look(max(x-halfW, min(s.x, x+halfW)), max(y-halfH, min(s.y, y+halfH)))
}

// transform takes pixels to units of the view.
func (s *sight) transform() Transform {
	return Transform{s.scale, s.w/2 - s.x*s.scale, s.h/2 - s.y*s.scale}
}

// clamp returns the place of the picture nearest to x, y, in tenths of a pixel:
// finer than anyone can point.
func (s *sight) clamp(x, y float64) (float64, float64) {
	tidy := func(v, most float64) float64 { return max(0, min(math.Round(v*10)/10, most)) }
	return tidy(x, s.picW), tidy(y, s.picH)
}

func (s *sight) clampScale(scale float64) float64 {
	fit := s.fitScale()
	return max(fit, min(scale, max(mostEnlarge, 4*fit)))
}

// limit keeps the promise made at the type. The middle may stray from the
// picture's by half the picture, less the part that is seen when fitted.
func (s *sight) limit() {
	s.scale = s.clampScale(s.scale)
	stray := (1 - s.fitScale()/s.scale) / 2
	s.x = s.picW/2 + max(-stray*s.picW, min(s.x-s.picW/2, stray*s.picW))
	s.y = s.picH/2 + max(-stray*s.picH, min(s.y-s.picH/2, stray*s.picH))
}
