package figure

import (
	"fmt"

	"pinphase.org/pinphase/timing"
)

// row draws one cylinder.
func (f *cycleFigure) row(i int) {
	r, bar := f.in.Rows[i], f.l.Rows[i]
	if r.Selected {
		f.d.add(Path{Segs: Rectangle(Rect{f.margin / 2, bar.Row.Y, f.box.W - f.margin, bar.Row.H}), Fill: Band})
	}
	mid := bar.Band.Y + bar.Band.H/2
	if i%f.labelEvery == 0 {
		s := r.Label.Full
		if f.shortRows {
			s = r.Label.Short
		}
		room := f.l.Plot.X - 0.9*f.size - f.margin
		f.d.add(Text{X: f.l.Plot.X - 0.9*f.size, Y: mid, S: cut(s, f.size, r.Selected, room+0.01),
			Size: f.labelSize(bar), Bold: r.Selected, H: Right, V: Middle, Role: Ink})
	}
	if f.in.Blank {
		f.d.add(Path{Segs: Rectangle(bar.Band), Stroke: Ink, Weight: Fine})
		return
	}
	marks := f.markRects(r, bar)
	for _, s := range f.in.Engine.StrokeSpans() {
		f.stroke(s.Stroke, f.pieces(s.Span, r.Cylinder), bar, marks)
	}
	if r.Intake != nil && f.valve > 0 {
		f.valveBar(*r.Intake, r.Cylinder, bar.Band.Y-f.valveGap-f.valve, IntakeValve)
	}
	if r.Exhaust != nil && f.valve > 0 {
		f.valveBar(*r.Exhaust, r.Cylinder, bar.Band.Bottom()+f.valveGap, ExhaustValve)
	}
	f.firing(bar)
	f.d.Hits = append(f.d.Hits, Hit{bar.Row, fmt.Sprintf("cylinder %d", r.Cylinder), r.Label.Full})
	f.injection(r, bar)
	if f.readout && r.Readout != "" && i%f.labelEvery == 0 {
		role := Ink
		if r.Warn {
			role = Warning
		}
		f.d.add(Text{X: f.readoutX, Y: mid, S: r.Readout, Size: f.labelSize(bar), Bold: r.Warn, V: Middle, Role: role})
	}
}

// labelSize is the size of a row's label, smaller in narrow rows.
func (f *cycleFigure) labelSize(bar CycleBar) float64 {
	return min(f.size, max(smallest*f.k, bar.Row.H*0.8))
}

// pieces returns where a span of a cylinder's own angle lies in the plot: one
// stretch, or two when it runs over the end of the cycle.
func (f *cycleFigure) pieces(s timing.Span, cylinder int) []timing.Span {
	const sliver = 1e-6 // what rounding leaves of an empty piece
	from := timing.Wrap(s.From+f.in.Engine.FiresAt(cylinder), f.l.Cycle)
	to := from + min(s.To-s.From, f.l.Cycle)
	if to <= f.l.Cycle+sliver {
		return []timing.Span{{From: from, To: min(to, f.l.Cycle)}}
	}
	over := timing.Span{From: 0, To: to - f.l.Cycle}
	if f.l.Cycle-from <= sliver {
		return []timing.Span{over}
	}
	return []timing.Span{{From: from, To: f.l.Cycle}, over}
}

// stroke draws a stroke and names it in its larger piece.
func (f *cycleFigure) stroke(s timing.Stroke, pieces []timing.Span, bar CycleBar, marks []Rect) {
	var widest Rect
	for _, p := range pieces {
		r := Rect{f.l.X(p.From), bar.Band.Y, f.l.X(p.To) - f.l.X(p.From), bar.Band.H}
		f.d.add(Path{Segs: Rectangle(r), Fill: StrokeRole(s), Stroke: Faint, Weight: Hair})
		if r.W > widest.W {
			widest = r
		}
	}
	word := f.in.Strokes[s]
	if f.names == noNames {
		return
	}
	forms := []string{word.Full, word.Short}
	if f.names == shortNames {
		forms = forms[1:]
	}
	for _, text := range forms {
		if text != "" && f.name(text, s, widest, marks) {
			return
		}
	}
}

// name writes a stroke's name into the widest stretch of r that no mark
// covers, and tells whether there was room.
func (f *cycleFigure) name(text string, s timing.Stroke, r Rect, marks []Rect) bool {
	pad := 0.35 * f.small
	w := width(f.small, false, text)
	x0, x1 := r.X, r.Right()
	for _, m := range marks {
		if m.X >= x1 || m.Right() <= x0 {
			continue
		}
		if m.X-x0 > x1-m.Right() { // keep the larger side
			x1 = m.X
		} else {
			x0 = m.Right()
		}
	}
	if x1-x0 < w+2*pad {
		return false
	}
	x := min(max(r.X+r.W/2, x0+pad+w/2), x1-pad-w/2)
	y := r.Y + r.H/2
	h := min(1.3*f.small, r.H-1)
	f.d.add(Path{Segs: Rectangle(Rect{x - w/2 - pad, y - h/2, w + 2*pad, h}), Fill: StrokeRole(s), Plain: true},
		Text{X: x, Y: y, S: text, Size: f.small, H: Centre, V: Middle, Role: Ink})
	return true
}

func (f *cycleFigure) valveBar(s timing.Span, cylinder int, y float64, role Role) {
	for _, p := range f.pieces(s, cylinder) {
		f.d.add(Path{Segs: Rectangle(Rect{f.l.X(p.From), y, f.l.X(p.To) - f.l.X(p.From), f.valve}), Fill: role})
	}
}

// firing marks the cylinder's firing TDC; one at 0 stands at the end of the
// cycle as well.
func (f *cycleFigure) firing(bar CycleBar) {
	at := f.in.Engine.FiresAt(bar.Cylinder)
	xs := []float64{f.l.X(at)}
	if at == 0 {
		xs = append(xs, f.l.Plot.Right())
	}
	b := bar.Band
	s := f.triangle(b)
	for _, x := range xs {
		f.d.add(Path{Segs: Line(x, b.Y, x, b.Bottom()), Stroke: TDC, Weight: Medium})
		if b.H >= 9 {
			f.d.add(Marker{X: x, Y: b.Y + s/2, Size: s, Kind: TriangleDown, Role: TDC})
		}
	}
}

// triangle is the height of the mark of the firing TDC.
func (f *cycleFigure) triangle(b Rect) float64 { return min(max(0.3*b.H, 3.5), 0.65*f.size) }

// markSize is the height of the diamond; the ring round it is larger.
func (f *cycleFigure) markSize(b Rect) float64 { return min(max(0.42*b.H, 4), 0.85*f.size) }

const ringSize = 1.3 // over the diamond's

// markRects are the places of the injection marks and of the arrow between.
func (f *cycleFigure) markRects(r CycleRow, bar CycleBar) []Rect {
	m := f.markSize(bar.Band) * ringSize
	var rects []Rect
	box := func(a, b timing.Deg) {
		from, to := min(a, b), max(a, b)
		for _, p := range f.pieces(timing.Span{From: from, To: to}, r.Cylinder) {
			rects = append(rects, Rect{f.l.X(p.From) - m/2, bar.Band.Y, f.l.X(p.To) - f.l.X(p.From) + m, bar.Band.H})
		}
	}
	switch {
	case r.Commanded != nil && r.Actual != nil:
		box(-*r.Commanded, -*r.Actual)
	case r.Commanded != nil:
		box(-*r.Commanded, -*r.Commanded)
	case r.Actual != nil:
		box(-*r.Actual, -*r.Actual)
	}
	// The firing TDC and its triangle.
	t := f.triangle(bar.Band)
	return append(rects, Rect{f.l.X(f.in.Engine.FiresAt(r.Cylinder)) - t/2, bar.Band.Y, t, bar.Band.H})
}

// injection marks where injection is asked for (a ring), where it happens (a
// diamond), and which way it has gone.
func (f *cycleFigure) injection(r CycleRow, bar CycleBar) {
	size := f.markSize(bar.Band)
	y := bar.Band.Y + bar.Band.H/2
	if bar.Band.H > 20 {
		y += 0.06 * bar.Band.H // clear of the firing triangle
	}
	fires := f.in.Engine.FiresAt(r.Cylinder)
	place := func(btdc timing.Deg) float64 { return f.l.X(timing.Wrap(fires-btdc, f.l.Cycle)) }
	if r.Commanded != nil && r.Actual != nil {
		f.arrow(float64(*r.Commanded-*r.Actual)/float64(f.l.Cycle)*f.l.Plot.W, place(*r.Commanded), y, size)
	}
	if r.Commanded != nil {
		m := Marker{X: place(*r.Commanded), Y: y, Size: size * ringSize, Kind: Dot, Hollow: true, Role: Commanded}
		f.d.add(m)
		f.d.Hits = append(f.d.Hits, Hit{m.Bounds(), fmt.Sprintf("commanded %d", r.Cylinder), f.in.Commanded})
	}
	if r.Actual != nil {
		m := Marker{X: place(*r.Actual), Y: y, Size: size, Kind: Diamond, Role: Actual}
		f.d.add(m)
		f.d.Hits = append(f.d.Hits, Hit{m.Bounds(), fmt.Sprintf("actual %d", r.Cylinder), f.in.Actual})
	}
}

// arrow draws the way from the ring at x to a diamond dx further on, over the
// end of the cycle when that is the way.
func (f *cycleFigure) arrow(dx, x, y, size float64) {
	sign, long := 1.0, dx
	if dx < 0 {
		sign, long = -1, -dx
	}
	from, to := size*ringSize/2, long-0.55*size
	if to-from < 0.5*size {
		return
	}
	plot := f.l.Plot
	head := min(0.62*size, to-from)
	for _, shift := range [...]float64{-plot.W, 0, plot.W} {
		a, b := x+shift+sign*from, x+shift+sign*to
		neck := b - sign*0.75*head // the head is notched
		lo, hi := max(min(a, neck), plot.X), min(max(a, neck), plot.Right())
		if hi > lo {
			f.d.add(Path{Segs: Line(lo, y, hi, y), Stroke: Actual, Weight: Medium})
		}
		if b >= plot.X && b <= plot.Right() {
			f.d.add(Marker{X: b, Y: y, Size: head, Kind: Arrowhead, Turn: 90 * sign, Role: Actual})
		}
	}
}
