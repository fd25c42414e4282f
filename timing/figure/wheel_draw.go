package figure

import "pinphase.org/pinphase/timing"

// Radii of the wheel figure, over that of the protractor.
const (
	tipR    = 0.80
	rootR   = 0.735
	rimR    = 0.65 // inside of the wheel's rim
	noseR   = 0.35
	dowelR  = 0.205
	pinR    = 0.495 // of the crankpin's middle
	sensorR = 0.94  // outer end of the sensor
)

// Wheel draws the end of the crankshaft with its sensor wheel: what turns, then
// what stands still. When the box is small, captions go first, then the legend,
// then the degrees of the protractor.
func Wheel(in WheelInput, box Box) (Drawing, WheelLayout) {
	turning, d, l := WheelLayers(in, box)
	d.Shapes = append(turning.Shapes, d.Shapes...)
	d.Hits = append(turning.Hits, d.Hits...)
	return d, l
}

// WheelLayers draws the same in two: what turns with Theta, to lie below, and
// what stands still for every Theta, to lie above without a surface
// ([Raster.Clear]).
func WheelLayers(in WheelInput, box Box) (turning, fixed Drawing, l WheelLayout) {
	f := wheelFigure{in: in, box: box, fixed: Drawing{W: box.W, H: box.H, Title: in.Title, Desc: in.Desc}}
	if f.fixed.Title == "" {
		f.fixed.Title = in.Heading
	}
	f.turning = f.fixed
	f.size, f.small = box.typeSize(48, 30)
	f.measure()
	f.throw()
	if in.Positions > 0 {
		f.wheel()
	}
	f.nose()
	f.protractor()
	f.injection()
	f.words()
	return f.turning, f.fixed, f.l
}

// wheelFigure is a wheel figure on the way.
type wheelFigure struct {
	in             WheelInput
	box            Box
	turning, fixed Drawing
	l              WheelLayout
	size, small    float64
	margin         float64
	showHeading    bool
	area           Rect     // of the circle and its labels
	keys           []legend // lines of the legend
	keysAt         Rect
	captions       []string // lines below the legend
	degrees        bool     // the protractor is labelled
}

// measure shares the box between circle and words: beside each other in a wide
// box, one above the other in a tall one.
func (f *wheelFigure) measure() {
	in, size, small := f.in, f.size, f.small
	f.margin = 0.9 * size
	line := small * lineHeight
	inner := Rect{f.margin, f.margin, f.box.W - 2*f.margin, f.box.H - 2*f.margin}
	f.showHeading = in.Heading != "" && f.box.H > 12*size
	if f.showHeading {
		inner.Y, inner.H = inner.Y+1.9*size, inner.H-1.9*size
	}
	items := f.items()
	layOut := func(items legend, captions []string) float64 {
		f.keys, f.captions, f.keysAt = nil, nil, Rect{}
		beside := inner.W > 1.2*inner.H
		room := inner.W
		if beside {
			widest := 0.0
			for _, it := range items {
				widest = max(widest, it.width(small))
			}
			room = min(max(widest, 0.3*inner.W), 0.46*inner.W)
		}
		for _, c := range captions {
			f.captions = append(f.captions, wrap(c, small, false, room)...)
		}
		if beside { // one item a line
			f.keys = items.column(small, room)
		} else {
			f.keys = items.flow(small, room)
		}
		high := line * (1.15*float64(len(f.keys)) + float64(len(f.captions)))
		if len(f.keys) > 0 && len(f.captions) > 0 {
			high += 0.6 * line
		}
		f.area = inner
		switch {
		case high == 0:
		case beside:
			between := 2 * size
			f.area.W -= room + between
			if spare := f.area.W - 2*(f.ring()+f.side()); spare > 0 { // keep circle and words together
				f.area.X += 0.5 * spare
				f.area.W -= spare
			}
			f.keysAt = Rect{f.area.Right() + between, inner.Y + max(0, (inner.H-high)/2), room, high}
			if high > inner.H {
				return 0
			}
		default:
			f.area.H -= high + 0.8*size
			f.keysAt = Rect{inner.X, f.area.Bottom() + 0.8*size, inner.W, high}
		}
		return f.ring()
	}
	least := 7 * size
	if layOut(items, in.Caption) < least && layOut(items, nil) < least {
		layOut(nil, nil)
	}
	r := f.ring()
	f.degrees = r > 5*small
	f.l = WheelLayout{X: f.area.X + f.area.W/2, Y: f.area.Y + f.area.H/2 + 0.3*size, Ring: r,
		Nose: noseR * r, Dowel: dowelR * r, View: in.View, Theta: in.Theta, Sensor: in.sensorAt()}
	if in.Positions > 0 {
		f.l.Tip = tipR * r
	}
}

// ring is the protractor's radius in the area: around it is room for degrees
// and, at the top, the dead centre's mark.
func (f *wheelFigure) ring() float64 {
	return max(1, min(f.area.W/2-f.side(), f.area.H/2-(labelGap+1.15)*f.small))
}

// side is the room beside the protractor for its labels.
func (f *wheelFigure) side() float64 {
	w := max(width(f.small, false, "150°"), width(f.small, false, f.in.Words.BTDC), width(f.small, false, f.in.Words.ATDC))
	if f.in.Positions > 0 {
		w = max(w, min(width(f.small, true, f.in.Words.Sensor), 6*f.small)-f.small)
	}
	return w + (labelGap+0.1)*f.small
}

// turn is the page angle of an angle from the top in the direction of rotation.
func (f *wheelFigure) turn(fromTop timing.Deg) float64 { return PageAngle(f.in.View, fromTop) }

// onPart is the page angle of an angle from the No. 1 throw.
func (f *wheelFigure) onPart(fromThrow timing.Deg) float64 { return f.turn(f.in.Theta + fromThrow) }

// at is a point at a radius over the ring's and a page angle.
func (f *wheelFigure) at(r, page float64) (x, y float64) {
	return Polar(f.l.X, f.l.Y, r*f.l.Ring, page)
}

// sector is the outline between two radii and two page angles.
func (f *wheelFigure) sector(r0, r1, from, sweep float64) []Seg {
	x, y := f.at(r0, from)
	k := f.l.Ring
	return []Seg{{Op: MoveTo, X: x, Y: y},
		{Op: ArcTo, X: f.l.X, Y: f.l.Y, R: r0 * k, Start: from, Sweep: sweep},
		{Op: ArcTo, X: f.l.X, Y: f.l.Y, R: r1 * k, Start: from + sweep, Sweep: -sweep},
		{Op: CloseTo}}
}

// words draws heading, legend and captions.
func (f *wheelFigure) words() {
	if f.showHeading {
		f.fixed.add(Text{X: f.margin, Y: f.margin + 0.55*f.size, Size: 1.25 * f.size, Bold: true, V: Middle, Role: Ink,
			S: cut(f.in.Heading, 1.25*f.size, true, f.box.W-2*f.margin)})
	}
	line := f.small * lineHeight
	y := f.keysAt.Y
	for _, l := range f.keys {
		l.putLine(&f.fixed, f.keysAt.X, y+0.575*line, f.small)
		y += 1.15 * line
	}
	if len(f.keys) > 0 {
		y += 0.6 * line
	}
	for _, s := range f.captions {
		f.fixed.add(Text{X: f.keysAt.X, Y: y + 0.5*line, S: s, Size: f.small, V: Middle, Role: Faint})
		y += line
	}
}

// items is the legend of what the figure shows.
func (f *wheelFigure) items() legend {
	in, w := f.in, f.in.Words
	var l legend
	if in.Commanded != nil {
		l.add(w.Commanded, markSample(Marker{Kind: Dot, Hollow: true, Role: Commanded}))
	}
	if in.Actual != nil {
		l.add(w.Actual, markSample(Marker{Kind: Diamond, Role: Actual}))
	}
	l.add(w.Rotation, func(r Rect) []Shape {
		y := r.Y + r.H/2
		return []Shape{Path{Segs: Line(r.X, y, r.Right()-r.H/2, y), Stroke: Ink, Weight: Medium},
			Marker{X: r.Right(), Y: y, Size: 0.8 * r.H, Kind: Arrowhead, Turn: 90, Role: Ink}}
	})
	l.add(w.Throw, markSample(Marker{Kind: TriangleUp, Hollow: true, Role: Faint}))
	l.add(w.Keyway, func(r Rect) []Shape {
		s := 0.7 * r.H
		return []Shape{Path{Segs: Rectangle(Rect{r.X + (r.W-s)/2, r.Y + (r.H-s)/2, s, s}), Fill: Keyway}}
	})
	if f.keywayMoved() {
		l.add(w.KeywayDrawing, func(r Rect) []Shape {
			s := 0.7 * r.H
			return []Shape{Path{Segs: Rectangle(Rect{r.X + (r.W-s)/2, r.Y + (r.H-s)/2, s, s}), Stroke: Ghost}}
		})
	}
	if in.DowelDrawing != nil {
		l.add(w.DowelDrawing, func(r Rect) []Shape {
			return []Shape{Path{Segs: Circle(r.X+r.W/2, r.Y+r.H/2, 0.42*r.H), Stroke: Ghost}}
		})
	}
	if in.DowelMeasured != nil {
		l.add(w.DowelMeasured, markSample(Marker{Kind: Dot, Role: Measured}))
	}
	if in.Positions > 0 {
		if f.sensorInLegend() {
			l.add(w.Sensor, func(r Rect) []Shape {
				return []Shape{Path{Fill: Sensor, Stroke: Ink, Weight: Hair, Segs: Polygon(
					r.X+0.2*r.W, r.Y+0.15*r.H, r.X+0.6*r.W, r.Y+0.15*r.H, r.X+0.8*r.W, r.Y+0.5*r.H,
					r.X+0.6*r.W, r.Bottom()-0.15*r.H, r.X+0.2*r.W, r.Bottom()-0.15*r.H)}}
			})
		}
		l.add(w.Tooth1, areaSample(Tooth))
		if in.Error != 0 {
			l.add(w.Tooth1Correct, func(r Rect) []Shape { return []Shape{Path{Segs: Rectangle(r), Stroke: Ghost}} })
		}
		if len(in.Missing) > 0 {
			l.add(w.Gap, func(r Rect) []Shape {
				return []Shape{Path{Segs: Rectangle(Rect{r.X, r.Y + 0.3*r.H, r.W, 0.4 * r.H}), Fill: Gap, Stroke: Faint, Weight: Hair}}
			})
		}
	}
	return l
}
