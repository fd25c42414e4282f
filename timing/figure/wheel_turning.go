package figure

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
)

// throw draws the crank web and pin of cylinder 1, which lie behind the wheel,
// and where it points on the protractor.
func (f *wheelFigure) throw() {
	page, k := f.onPart(0), f.l.Ring
	const web = 0.17 // half its width
	lx, ly := f.at(web, page-90)
	px, py := f.at(pinR, page)
	f.turning.add(
		Path{Fill: Throw, Stroke: Faint, Segs: []Seg{
			{Op: MoveTo, X: lx, Y: ly},
			{Op: ArcTo, X: px, Y: py, R: 0.14 * k, Start: page - 90, Sweep: 180},
			{Op: ArcTo, X: f.l.X, Y: f.l.Y, R: web * k, Start: page + 90, Sweep: 180},
			{Op: CloseTo}}},
		Path{Fill: Surface, Stroke: Faint, Segs: Circle(px, py, 0.085*k)})
	if f.in.Words.Throw != "" {
		f.turning.Hits = append(f.turning.Hits, Hit{Rect{px - web*k, py - web*k, 2 * web * k, 2 * web * k}, "throw", f.in.Words.Throw})
	}
}

// pointer shows on the protractor where the throw points; it lies over the
// wheel.
func (f *wheelFigure) pointer() {
	page := f.onPart(0)
	x0, y0 := f.at(noseR, page)
	x1, y1 := f.at(0.9, page)
	x, y := f.at(0.925, page)
	f.turning.add(Path{Segs: Line(x0, y0, x1, y1), Stroke: Faint, Weight: Hair},
		Marker{X: x, Y: y, Size: max(0.05*f.l.Ring, 5), Kind: TriangleUp, Hollow: true, Turn: page, Role: Faint})
}

// wheel draws rim, teeth and gaps, and where tooth 1 of a correct engine would
// be.
func (f *wheelFigure) wheel() {
	in := f.in
	pitch := 360 / float64(in.Positions)
	gone := make([]bool, in.Positions+1)
	for _, m := range in.Missing {
		if m >= 1 && m <= in.Positions {
			gone[m] = true
		}
	}
	// One outline: from tooth to tooth against the direction of rotation, as
	// they are numbered.
	back := -math.Copysign(1, f.turn(1))
	var outline []Seg
	for k := 1; k <= in.Positions; k++ {
		centre := f.onPart(in.ToothOnPart(k))
		r := rootR
		if !gone[k] {
			r = tipR
		}
		arc := func(r, from float64) {
			outline = append(outline, Seg{Op: ArcTo, X: f.l.X, Y: f.l.Y, R: r * f.l.Ring, Start: from, Sweep: back * pitch / 2})
		}
		arc(r, centre-back*pitch/4)
		arc(rootR, centre+back*pitch/4)
	}
	x, y := f.at(outline[0].R/f.l.Ring, outline[0].Start)
	outline = slices.Insert(outline, 0, Seg{Op: MoveTo, X: x, Y: y})
	outline = append(outline, Seg{Op: CloseTo})
	// The rim's inside runs the other way round, so that it is a hole.
	inside := []Seg{{Op: MoveTo}, {Op: ArcTo, X: f.l.X, Y: f.l.Y, R: rimR * f.l.Ring, Sweep: -back * 360}, {Op: CloseTo}}
	inside[0].X, inside[0].Y = f.at(rimR, 0)
	f.turning.add(Path{Segs: append(outline, inside...), Fill: Steel, Stroke: Ink, Weight: Hair})

	for k := 1; k <= in.Positions; k++ {
		if gone[k] {
			from := f.onPart(in.ToothOnPart(k)) - pitch*0.75
			f.turning.add(Path{Segs: f.sector(rootR-0.015, rootR, from, 1.5*pitch), Fill: Gap, Stroke: Faint, Weight: Hair})
		}
	}
	if gone[1] {
		return
	}
	first := in.ToothOnPart(1)
	if in.Error != 0 {
		page := f.onPart(first - in.Error)
		ghost := Path{Segs: f.sector(rootR-0.02, tipR+0.02, page-pitch/4, pitch/2), Stroke: Ghost, Weight: Medium}
		if pitch/2*math.Pi/180*tipR*f.l.Ring < 6 { // too narrow for dashes round it
			x0, y0 := f.at(rootR-0.03, page)
			x1, y1 := f.at(tipR+0.05, page)
			ghost.Segs = Line(x0, y0, x1, y1)
		}
		f.turning.add(ghost)
	}
	page := f.onPart(first)
	f.turning.add(Path{Segs: f.sector(rootR, tipR, page-pitch/4, pitch/2), Fill: Tooth, Stroke: Ink})
	if f.l.Ring > 6*f.small {
		r := (rootR + rimR) / 2
		if (rootR-rimR)*f.l.Ring < 1.1*f.small { // not on the rim: inside it
			r = rimR - 0.6*f.small/f.l.Ring
		}
		x, y := f.at(r, page)
		f.turning.add(Text{X: x, Y: y, S: "1", Size: f.small, Bold: true, H: Centre, V: Middle, Role: Ink})
	}
	x, y = f.at((tipR+rootR)/2, page)
	f.hit(x, y, 0.06*f.l.Ring, "tooth 1", in.Words.Tooth1)
}

// keyway angles from the throw, as drawn and as measured; 0 when unknown.
func (in WheelInput) keyways() (drawing, measured timing.Deg) {
	if in.KeywayDrawing != nil {
		drawing = *in.KeywayDrawing
	}
	measured = drawing
	if in.KeywayMeasured != nil {
		measured = *in.KeywayMeasured
		if in.KeywayDrawing == nil {
			drawing = measured
		}
	}
	return drawing, measured
}

func (f *wheelFigure) keywayMoved() bool {
	drawing, measured := f.in.keyways()
	return drawing != measured
}

// nose draws the end face with keyway and dowels, and the arc from the dowel of
// the drawing to the measured one.
func (f *wheelFigure) nose() {
	in, k := f.in, f.l.Ring
	f.turning.add(Path{Fill: Nose, Stroke: Ink, Segs: Circle(f.l.X, f.l.Y, noseR*k)})
	f.pointer()
	keyDrawing, keyMeasured := in.keyways()
	half := math.Asin(0.036/noseR) * 180 / math.Pi
	if keyDrawing != keyMeasured {
		f.turning.add(Path{Segs: f.sector(noseR-0.07, noseR, f.onPart(keyDrawing)-half, 2*half), Stroke: Ghost})
	}
	page := f.onPart(keyMeasured)
	f.turning.add(Path{Segs: f.sector(noseR-0.07, noseR+0.004, page-half, 2*half), Fill: Keyway, Stroke: Keyway})
	x, y := f.at(noseR-0.03, page)
	f.hit(x, y, 0.04*k, "keyway", in.Words.Keyway)

	f.turning.add(Marker{X: f.l.X, Y: f.l.Y, Size: max(0.03*k, 4), Kind: Cross, Role: Faint})
	var ghost, measured *float64
	if in.DowelDrawing != nil {
		p := f.onPart(keyDrawing + *in.DowelDrawing)
		ghost = &p
	}
	if in.DowelMeasured != nil {
		p := f.onPart(keyMeasured + *in.DowelMeasured)
		measured = &p
	}
	if ghost != nil && measured != nil {
		f.displacement(*ghost, keyMeasured+*in.DowelMeasured-keyDrawing-*in.DowelDrawing)
	}
	const r = 0.042
	if measured != nil {
		x, y := f.at(dowelR, *measured)
		f.turning.add(Path{Fill: Measured, Stroke: Ink, Segs: Circle(x, y, r*k)})
		f.hit(x, y, 0.05*k, "dowel measured", in.Words.DowelMeasured)
	}
	if ghost != nil {
		x, y := f.at(dowelR, *ghost)
		f.turning.add(Path{Stroke: Ghost, Weight: Medium, Segs: Circle(x, y, r*k)})
		f.hit(x, y, 0.05*k, "dowel drawing", in.Words.DowelDrawing)
	}
}

// displacement draws the rays of both dowels and the arc from one to the other.
func (f *wheelFigure) displacement(ghost float64, by timing.Deg) {
	by = timing.WrapSigned(by, timing.Turn)
	sweep := f.turn(by)
	ray := func(page float64, role Role) {
		x0, y0 := f.at(0.03, page)
		x1, y1 := f.at(0.46, page)
		f.turning.add(Path{Segs: Line(x0, y0, x1, y1), Stroke: role})
	}
	ray(ghost, Ghost)
	ray(ghost+sweep, Measured)
	if math.Abs(sweep) < 0.5 {
		return
	}
	const r = 0.41
	head := min(max(0.05*f.l.Ring, 5), math.Abs(sweep)*math.Pi/180*r*f.l.Ring)
	sign := math.Copysign(1, sweep)
	short := sign * head * 0.75 / (r * f.l.Ring) * 180 / math.Pi
	if math.Abs(sweep) > math.Abs(short) {
		f.turning.add(Path{Segs: Arc(f.l.X, f.l.Y, r*f.l.Ring, ghost, sweep-short), Stroke: Measured, Weight: Medium})
	}
	x, y := f.at(r, ghost+sweep)
	f.turning.add(Marker{X: x, Y: y, Size: head, Kind: Arrowhead, Turn: ghost + sweep + sign*90 - short/2, Role: Measured})
	if f.in.Words.Error == "" || f.l.Ring < 8*f.small {
		return
	}
	// Beyond the arrow, where the way points.
	w, h := width(f.small, true, f.in.Words.Error)+0.6*f.small, 1.35*f.small
	sin, cos := math.Sincos((ghost + sweep) * math.Pi / 180)
	away := math.Abs(cos)*w/2 + math.Abs(sin)*h/2 + 0.4*f.small
	x, y = Polar(x, y, away, ghost+sweep+sign*90)
	f.turning.add(Path{Segs: Rectangle(Rect{x - w/2, y - h/2, w, h}), Fill: Surface, Stroke: Measured, Weight: Hair},
		Text{X: x, Y: y, S: f.in.Words.Error, Size: f.small, Bold: true, H: Centre, V: Middle, Role: Ink})
}

// hit makes a square round a point touchable, when it has words.
func (f *wheelFigure) hit(x, y, half float64, name, label string) {
	if label != "" {
		f.turning.Hits = append(f.turning.Hits, Hit{Rect{x - half, y - half, 2 * half, 2 * half}, name, label})
	}
}
