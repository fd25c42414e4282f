package chart

import (
	"image"
	"math"

	"golang.org/x/image/draw"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/phrase"
)

// mostPixels is how long the longer side of a photograph on paper is at most: 250
// pixels to the inch over the width of a page.
const mostPixels = 1700

// PhotoFigure returns a photograph with its marks, the fitted rim, the rays and
// the angle drawn in, cut to what was marked, no larger than the box. Marks are in
// pixels of a picture of w by h px; img may have another size. It is nil where
// the marks lie nowhere in the picture.
func PhotoFigure(img image.Image, w, h int, marks photo.Marks, r photo.Result, box figure.Box, say Say) *figure.Drawing {
	cut := marked(marks, r).Intersect(image.Rect(0, 0, w, h))
	if cut.Dx() < 8 || cut.Dy() < 8 {
		return nil
	}
	scale := min(box.W/float64(cut.Dx()), box.H/float64(cut.Dy())) // points to the marks' pixel
	in := PhotoMarks(r, say)
	in.W, in.H, in.Scale = float64(cut.Dx())*scale, float64(cut.Dy())*scale, scale
	in.X, in.Y = -float64(cut.Min.X)*scale, -float64(cut.Min.Y)*scale
	in.Points = photoPoints(marks)
	in.Type = 0.8
	in.Title, in.Desc = say.text(wordPhoto), say.text(wordPhotoDesc)
	d := figure.PhotoMarks(in)
	b := img.Bounds()
	kx, ky := float64(b.Dx())/float64(w), float64(b.Dy())/float64(h)
	from := image.Rect(int(float64(cut.Min.X)*kx), int(float64(cut.Min.Y)*ky), int(float64(cut.Max.X)*kx), int(float64(cut.Max.Y)*ky)).Add(b.Min)
	shrunk := min(1, float64(mostPixels)/float64(max(from.Dx(), from.Dy(), 1)))
	to := image.NewRGBA(image.Rect(0, 0, max(1, int(float64(from.Dx())*shrunk)), max(1, int(float64(from.Dy())*shrunk))))
	draw.BiLinear.Scale(to, to.Rect, img, from, draw.Src, nil)
	d.Shapes = append([]figure.Shape{figure.Picture{Rect: figure.Rect{W: in.W, H: in.H}, Image: to, Name: "photograph"}}, d.Shapes...)
	d.Shapes = append(d.Shapes, figure.Path{Segs: figure.Rectangle(figure.Rect{W: in.W, H: in.H}), Stroke: figure.Ink})
	return &d
}

// The words of the photograph.
const (
	wordPhoto     phrase.Text = "Photograph"
	wordPhotoDesc phrase.Text = "The photograph of the shaft's end with the points that were marked, the fitted rim and the angle."
)

// marked is the part of a picture that has anything marked in it, with some room
// round it.
func marked(m photo.Marks, r photo.Result) image.Rectangle {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	add := func(x, y, round float64) {
		if !math.IsNaN(x+y) && !math.IsInf(x+y, 0) {
			x0, x1 = min(x0, x-round), max(x1, x+round)
			y0, y1 = min(y0, y-round), max(y1, y+round)
		}
	}
	for _, list := range [][]photo.Point{m.Rim, m.Keyway, m.Dowel, m.Throw, m.Bolts, m.Centre} {
		for _, p := range list {
			add(p.X, p.Y, 0)
		}
	}
	if e := r.Rim; e.Minor > 0 {
		add(e.Centre.X, e.Centre.Y, e.Major)
	}
	room := 0.12 * max(x1-x0, y1-y0)
	whole := func(v float64) int { return int(max(-1e6, min(1e6, v))) }
	return image.Rect(whole(x0-room), whole(y0-room), whole(x1+room), whole(y1+room))
}

// photoPoints are the marks as points to draw.
func photoPoints(m photo.Marks) []figure.PhotoPoint {
	var list []figure.PhotoPoint
	for _, k := range []struct {
		kind   figure.PhotoKind
		points []photo.Point
	}{{figure.RimPoint, m.Rim}, {figure.KeywayPoint, m.Keyway}, {figure.DowelPoint, m.Dowel}, {figure.BoltPoint, m.Bolts},
		{figure.ThrowPoint, m.Throw}, {figure.CentrePoint, m.Centre}} {
		for _, p := range k.points {
			list = append(list, figure.PhotoPoint{PhotoPlace: figure.PhotoPlace{X: p.X, Y: p.Y}, Kind: k.kind})
		}
	}
	return list
}
