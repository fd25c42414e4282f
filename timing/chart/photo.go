package chart

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/part/photo"
)

// arcRadius is where the angle's arc is drawn over a photograph, in rim radii.
const arcRadius = 0.55

// PhotoRim returns what to draw over a photograph while no more than its rim is
// fitted.
func PhotoRim(e photo.Ellipse) figure.PhotoMarksInput {
	return figure.PhotoMarksInput{
		Rim:    &figure.PhotoEllipse{X: e.Centre.X, Y: e.Centre.Y, Major: e.Major, Minor: e.Minor, Turned: float64(e.Turned)},
		Centre: &figure.PhotoPlace{X: e.Centre.X, Y: e.Centre.Y},
	}
}

// PhotoMarks returns what to draw over a photograph: the fitted rim, the axis,
// the rays to both features and the angle between them. The points themselves and
// the view are the caller's to add.
func PhotoMarks(r photo.Result, say Say) figure.PhotoMarksInput {
	place := func(p photo.Point) *figure.PhotoPlace { return &figure.PhotoPlace{X: p.X, Y: p.Y} }
	in := figure.PhotoMarksInput{
		Centre: place(r.Centre), From: place(r.KeywayAt), To: place(r.FeatureAt),
		Value: say.angle(timing.Deg(math.Abs(float64(r.Clockwise.Value))), true),
	}
	if r.Rim.Minor > 0 {
		in.Rim = PhotoRim(r.Rim).Rim
	}
	const steps = 24
	for i := 0; i <= steps; i++ {
		p := r.On(r.Clockwise.Value*timing.Deg(i)/steps, arcRadius)
		in.Arc = append(in.Arc, figure.PhotoPlace{X: p.X, Y: p.Y})
	}
	return in
}
