package figure

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// partFace draws one circle of the part figure.
type partFace struct {
	*partFigure
	PartFace
	parts  []MeasuredPart
	throw  bool    // the crankpin is shown
	scale  float64 // of what is on the nose
	suffix string  // of the hits' names
}

func (p *partFace) draw(cell Rect) {
	p.body()
	p.degrees()
	for i := len(p.parts) - 1; i >= 0; i-- {
		p.interval(i)
	}
	p.datum()
	for i := len(p.parts) - 1; i >= 0; i-- {
		p.rays(i)
	}
	p.d.add(Marker{X: p.X, Y: p.Y, Size: max(0.04*p.Ring, 4), Kind: Cross, Role: Faint})
	for i := len(p.parts) - 1; i >= 0; i-- {
		p.marks(i)
	}
	p.arc()
	p.labelled(cell)
	p.rotation()
}

// body draws the nose and, behind it and at the top, the No. 1 throw.
func (p *partFace) body() {
	k := p.Ring
	if p.throw {
		const atPin, atAxis = 0.15, 0.56
		touch := math.Acos((atAxis-atPin)/partPinR) * 180 / math.Pi
		px, py := Polar(p.X, p.Y, partPinR*k, 0)
		x, y := Polar(p.X, p.Y, atAxis*k, touch)
		p.d.add(
			Path{Fill: Throw, Stroke: Faint, Segs: []Seg{
				{Op: MoveTo, X: x, Y: y},
				{Op: ArcTo, X: p.X, Y: p.Y, R: atAxis * k, Start: touch, Sweep: 360 - 2*touch},
				{Op: ArcTo, X: px, Y: py, R: atPin * k, Start: -touch, Sweep: 2 * touch},
				{Op: CloseTo}}},
			Path{Fill: Surface, Stroke: Faint, Segs: Circle(px, py, 0.09*k)})
		p.hit(px, py, 0.12*k, "throw", p.in.Throw)
	}
	p.d.add(Path{Fill: Nose, Stroke: Ink, Segs: Circle(p.X, p.Y, p.Nose)})
}

// degrees draws the scale, counted from the datum.
func (p *partFace) degrees() {
	k := p.Ring
	p.d.add(Path{Segs: Circle(p.X, p.Y, partScaleR*k), Stroke: Grid})
	step := 10
	if k < 60 {
		step = 30
	}
	for a := 0; a < 360; a += step {
		inner, role := partScaleR-0.025, Grid
		if a%30 == 0 {
			inner, role = partScaleR-0.045, Faint
		}
		page := p.page(timing.Deg(a))
		x0, y0 := Polar(p.X, p.Y, inner*k, page)
		x1, y1 := Polar(p.X, p.Y, partScaleR*k, page)
		p.d.add(Path{Segs: Line(x0, y0, x1, y1), Stroke: role, Weight: Hair})
	}
}

// datum draws what the angle counts from, with its ray: the keyway, or the throw
// behind.
func (p *partFace) datum() {
	page := p.page(0)
	p.ray(page, 0.03*p.Ring, p.Ring, Ink, Hair)
	if p.in.Feature == DowelFromKeyway {
		if p.throw {
			p.ray(0, (partPinR+0.15)*p.Ring, p.Ring, Faint, Hair)
		}
		p.slot(page, Keyway, Keyway, 1)
		x, y := Polar(p.X, p.Y, p.Nose-partSlotR*p.scale*p.Ring/2, page)
		p.hit(x, y, partSlotR*p.scale*p.Ring/2, "keyway", p.in.Keyway)
	}
}

// slot draws a keyway; grown is how much larger than a real one.
func (p *partFace) slot(page float64, fill, stroke Role, grown float64) {
	depth, half := partSlotR*p.scale*p.Ring, math.Asin(partKeyR/partNoseR)*180/math.Pi
	r1 := p.Nose + (grown-1)*depth/2
	r0 := p.Nose - depth - (grown-1)*depth/2
	half *= grown
	p.d.add(Path{Fill: fill, Stroke: stroke, Weight: Medium, Segs: p.sector(r0, r1, page-half, 2*half)})
}

// sector is the outline between two radii and two page angles.
func (p *partFace) sector(r0, r1, from, sweep float64) []Seg {
	x, y := Polar(p.X, p.Y, r0, from)
	return []Seg{{Op: MoveTo, X: x, Y: y},
		{Op: ArcTo, X: p.X, Y: p.Y, R: r0, Start: from, Sweep: sweep},
		{Op: ArcTo, X: p.X, Y: p.Y, R: r1, Start: from + sweep, Sweep: -sweep},
		{Op: CloseTo}}
}

// interval draws the 95 % band of a part as a sector. However narrow, its two
// edges are lines. That of the second part is not filled, so that both are seen
// where they overlap.
func (p *partFace) interval(i int) {
	part := p.parts[i]
	if part.Interval == nil {
		return
	}
	from := p.page(part.Interval[0])
	sweep := PageAngle(p.View, part.Interval[1]-part.Interval[0])
	band := Path{Segs: p.sector(0.06*p.Ring, partScaleR*p.Ring, from, sweep), Fill: Interval, Stroke: Measured, Weight: Hair}
	if i > 0 {
		band.Fill, band.Stroke = None, Compared
	}
	p.d.add(band)
}

// ray draws a direction between two radii.
func (p *partFace) ray(page, from, to float64, role Role, w Weight) {
	x0, y0 := Polar(p.X, p.Y, from, page)
	x1, y1 := Polar(p.X, p.Y, to, page)
	p.d.add(Path{Segs: Line(x0, y0, x1, y1), Stroke: role, Weight: w})
}

// drawingOf is the part whose drawing is shown: the first that has one.
func (p *partFace) drawingOf() *MeasuredPart {
	for i := range p.parts {
		if p.parts[i].Drawing != nil {
			return &p.parts[i]
		}
	}
	return nil
}

// role is that of what was measured on a part.
func (p *partFace) role(i int) Role {
	if i > 0 {
		return Compared
	}
	return Measured
}

// rays draws the directions of drawing, mirrored drawing and measured feature.
func (p *partFace) rays(i int) {
	part := p.parts[i]
	if p.drawingOf() == &p.parts[i] {
		if m := part.mirrored(); m != nil {
			p.ray(p.page(*m), p.Feature, p.Ring, Faint, Hair)
		}
		p.ray(p.page(*part.Drawing), 0.03*p.Ring, p.Ring, Ghost, Fine)
	}
	if part.Measured != nil {
		p.ray(p.page(*part.Measured), 0.03*p.Ring, p.Ring, p.role(i), Fine)
	}
}

// marks draws the feature as measured and, a little larger, so that they are seen
// round it where they fall together, as the drawing has it and mirrored.
func (p *partFace) marks(i int) {
	part := p.parts[i]
	var mirrored *timing.Deg
	var drawing *timing.Deg
	if p.drawingOf() == &p.parts[i] {
		mirrored, drawing = part.mirrored(), part.Drawing
	}
	hole := partHoleR * p.scale * p.Ring
	name := "dowel"
	if p.in.Feature == KeywayFromThrow {
		name = "keyway"
	}
	which := p.suffix
	if i > 0 {
		which = " 2"
	}
	mark := func(at *timing.Deg, kind string, t Tag, draw func(x, y, page float64)) {
		if at == nil {
			return
		}
		page := p.page(*at)
		x, y := Polar(p.X, p.Y, p.Feature, page)
		draw(x, y, page)
		p.hit(x, y, max(1.3*hole, 4), name+" "+kind+which, t.String())
	}
	onKeyway := p.in.Feature == KeywayFromThrow
	mark(part.Measured, "measured", part.MeasuredTag, func(x, y, page float64) {
		switch {
		case onKeyway && i > 0:
			p.slot(page, Surface, Compared, 0.9)
		case onKeyway:
			p.slot(page, Measured, Ink, 1)
		case i > 0:
			p.d.add(Path{Fill: Surface, Stroke: Compared, Weight: Heavy, Segs: Circle(x, y, 0.85*hole)})
		default:
			p.d.add(Path{Fill: Measured, Stroke: Ink, Segs: Circle(x, y, hole)})
		}
	})
	mark(mirrored, "mirrored", part.MirroredTag, func(x, y, page float64) {
		if onKeyway {
			p.slot(page, None, Faint, 1.35)
			return
		}
		p.d.add(Path{Stroke: Faint, Weight: Medium, Segs: Circle(x, y, 1.35*hole)})
	})
	mark(drawing, "drawing", part.DrawingTag, func(x, y, page float64) {
		if onKeyway {
			p.slot(page, None, Ghost, 1.35)
			return
		}
		p.d.add(Path{Stroke: Ghost, Weight: Medium, Segs: Circle(x, y, 1.35*hole)})
	})
}

// hit makes a square round a point touchable, when it has words.
func (p *partFace) hit(x, y, half float64, name, label string) {
	if label != "" {
		p.d.Hits = append(p.d.Hits, Hit{Rect{x - half, y - half, 2 * half, 2 * half}, name, label})
	}
}

// way returns where the arc begins and how far it goes: from the drawing to the
// measured feature, or from the second part's to the first's.
func (p *partFace) way() (from, by timing.Deg, ok bool) {
	a := p.parts[0]
	switch {
	case len(p.parts) > 1 && a.Measured != nil && p.parts[1].Measured != nil:
		from = *p.parts[1].Measured
	case a.Drawing != nil && a.Measured != nil:
		from = *a.Drawing
	default:
		return 0, 0, false
	}
	return from, timing.Difference(from, *a.Measured, timing.Turn), true
}

// arc draws the way from where the feature belongs to where it is.
func (p *partFace) arc() {
	from, by, ok := p.way()
	if !ok {
		return
	}
	r := partArcR * p.Ring
	sweep := PageAngle(p.View, by)
	if math.Abs(sweep)*math.Pi/180*r < 1.5 {
		return
	}
	p.d.add(arrowArc(p.X, p.Y, r, p.page(from), sweep, p.head(), false, Measured, Medium)...)
}

// head is the size of an arrowhead.
func (p *partFace) head() float64 { return min(max(0.06*p.Ring, 6), 13) }

// rotation draws the arrow of rotation at the first of some places that is clear
// of what else lies on the arc's radius.
func (p *partFace) rotation() {
	const half, clear = 13, 14
	busy := []float64{p.page(0)}
	for i, part := range p.parts {
		for _, a := range []*timing.Deg{part.Drawing, part.Measured, p.parts[i].mirrored()} {
			if a != nil {
				busy = append(busy, p.page(*a))
			}
		}
	}
	if from, by, ok := p.way(); ok {
		for t := timing.Deg(0); t <= 1; t += 1.0 / 32 {
			busy = append(busy, p.page(from+t*by))
		}
	}
	for _, at := range []float64{180, 150, -150, 120, -120, 90, -90, 60, -60} {
		free := 180.0
		for _, b := range busy {
			free = min(free, math.Abs(float64(timing.WrapSigned(timing.Deg(at-b), timing.Turn))))
		}
		if free >= half+clear {
			sign := math.Copysign(1, PageAngle(p.View, 1))
			p.d.add(arrowArc(p.X, p.Y, partArcR*p.Ring, at-sign*half, sign*2*half, 0.85*p.head(), false, Ink, Fine)...)
			return
		}
	}
}
