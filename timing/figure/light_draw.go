package figure

import (
	"fmt"
	"math"

	"pinphase.org/pinphase/timing"
)

func (f *lightFigure) head() {
	y := f.margin
	room := f.box.W - 2*f.margin
	if f.heading {
		f.d.add(Text{X: f.margin, Y: y + 0.55*f.size, S: cut(f.in.Heading, f.size*1.25, true, room), Size: f.size * 1.25, Bold: true, V: Middle, Role: Ink})
		y += 1.9 * f.size
	}
	for i, s := range f.finding {
		f.d.add(Text{X: f.margin, Y: y + (float64(i)+0.5)*f.size*lineHeight, S: s, Size: f.size, V: Middle, Role: Ink})
	}
}

// shade lays the window under the curves and the rows of the injections.
func (f *lightFigure) shade() {
	r, ok := f.band(f.in.Window)
	if !ok {
		return
	}
	r.Y, r.H = f.l.Plot.Y, f.l.Rows.Y+f.row*float64(len(f.in.Bars))-f.l.Plot.Y
	f.d.add(Path{Segs: Rectangle(r), Fill: Window})
	for _, x := range []float64{r.X, r.Right()} {
		f.d.add(Path{Segs: Line(x, r.Y, x, r.Bottom()), Stroke: Ink})
	}
	f.d.Hits = append(f.d.Hits, Hit{r, "window", f.in.Words.Window})
}

// band is where a span of angles lies across the plot, cut to it.
func (f *lightFigure) band(s *timing.Span) (Rect, bool) {
	if s == nil || !(s.To >= s.From) {
		return Rect{}, false
	}
	from, to := max(s.From, f.in.From), min(s.To, f.in.To)
	if !(to >= from) {
		return Rect{}, false
	}
	x := f.l.X(from)
	return Rect{X: x, W: f.l.X(to) - x}, true
}

// axes draws the three scales and the line at TDC.
func (f *lightFigure) axes() {
	plot, gap := f.l.Plot, 0.45*f.small
	bottom := f.l.Rows.Bottom()
	every := 1 // of the temperature's ticks, as the height allows
	for f.c.step/(f.c.hi-f.c.lo)*plot.H*float64(every) < 1.25*f.small {
		every++
	}
	for i, v := range f.c.ticks {
		y := plot.Bottom() - f.c.part(v)*plot.H
		f.d.add(Path{Segs: Line(plot.X, y, plot.Right(), y), Stroke: Grid})
		if i%every == 0 {
			f.d.add(Text{X: plot.X - gap, Y: y, S: f.number(f.c, v), Size: f.small, H: Right, V: Middle, Role: Ink})
		}
	}
	every = 1
	for f.bar.step/(f.bar.hi-f.bar.lo)*plot.H*float64(every) < 1.25*f.small {
		every++
	}
	for i, v := range f.bar.ticks {
		y := plot.Bottom() - f.bar.part(v)*plot.H
		f.d.add(Path{Segs: Line(plot.Right(), y, plot.Right()+0.25*f.small, y), Stroke: Pressure})
		if i%every == 0 {
			f.d.add(Text{X: plot.Right() + gap, Y: y, S: f.number(f.bar, v), Size: f.small, V: Middle, Role: Pressure})
		}
	}
	unit := plot.Y - 1.1*f.small
	f.d.add(Text{X: plot.X - gap, Y: unit, S: f.in.Words.CelsiusUnit, Size: f.small, H: Right, V: Middle, Role: Ink},
		Text{X: plot.Right() + gap, Y: unit, S: f.in.Words.BarUnit, Size: f.small, V: Middle, Role: Pressure})

	step := f.angleStep()
	for a := math.Ceil(float64(f.in.From)/step) * step; a <= float64(f.in.To)+1e-9; a += step {
		x := f.l.X(timing.Deg(a))
		role, weight, s := Grid, Fine, plain(a, 0)+"°"
		if a == 0 {
			role, weight = TDC, Medium
			if f.in.Words.TDC != "" {
				s = f.in.Words.TDC
			}
		}
		f.d.add(Path{Segs: Line(x, plot.Y, x, bottom), Stroke: role, Weight: weight},
			Path{Segs: Line(x, bottom, x, bottom+0.4*f.small), Stroke: Ink})
		// A label stays between the page's edges; half of it may overhang the plot.
		half := width(f.small, false, s) / 2
		f.d.add(Text{X: min(max(x, f.margin+half), f.box.W-f.margin-half), Y: bottom + 0.5*f.small, S: s, Size: f.small, H: Centre, V: Top, Role: Ink})
	}
	f.d.add(Path{Segs: Line(plot.X, bottom, plot.Right(), bottom), Stroke: Ink},
		Path{Segs: Line(plot.X, plot.Bottom(), plot.Right(), plot.Bottom()), Stroke: Faint})
	if f.axisTitle {
		f.d.add(Text{X: plot.X + plot.W/2, Y: bottom + 0.5*f.small + f.line, Size: f.small, H: Centre, V: Top, Role: Faint,
			S: cut(f.in.Words.Angle, f.small, false, 2*min(plot.X+plot.W/2-f.margin, f.box.W-f.margin-plot.X-plot.W/2))})
	}
}

// angleStep is from label to label of the angle.
func (f *lightFigure) angleStep() float64 {
	for _, s := range []float64{5, 10, 15, 20, 30, 45, 60, 90} {
		if f.l.X(timing.Deg(s))-f.l.X(0) >= 1.7*max(width(f.small, false, "−180°"), width(f.small, false, f.in.Words.TDC)) {
			return s
		}
	}
	return 180
}

// curves draws temperature and pressure inside the plot.
func (f *lightFigure) curves() {
	var c, bar []Seg
	plot := f.l.Plot
	for _, g := range f.in.Gas {
		if g.At < f.in.From || g.At > f.in.To || math.IsNaN(g.C+g.Bar) {
			continue
		}
		x, op := f.l.X(g.At), LineTo
		if len(c) == 0 {
			op = MoveTo
		}
		c = append(c, Seg{Op: op, X: x, Y: plot.Bottom() - f.c.part(g.C)*plot.H})
		bar = append(bar, Seg{Op: op, X: x, Y: plot.Bottom() - f.bar.part(g.Bar)*plot.H})
	}
	f.d.add(Path{Segs: bar, Stroke: Pressure, Weight: Medium}, Path{Segs: c, Stroke: Ink, Weight: Heavy})
}

// rows draws the injections and, below, the spreads.
func (f *lightFigure) rows() {
	y := f.l.Rows.Y
	for i, b := range f.in.Bars {
		f.label(b.Label, y+f.row/2)
		f.injection(b, y+f.row/2)
		f.d.Hits = append(f.d.Hits, Hit{Rect{f.l.Rows.X, y, f.l.Rows.W, f.row}, fmt.Sprintf("injection %d", i+1), b.Label + ", " + b.Says})
		y += f.row
	}
	for i, s := range f.in.Spreads[:f.spreads] {
		mid := y + f.line/2
		f.label(s.Label, mid)
		if r, ok := f.band(s.Window); ok {
			r.Y, r.H = mid-0.22*f.line, 0.44*f.line
			f.d.add(Path{Segs: Rectangle(r), Fill: Window, Stroke: Ink})
		} else if s.None != "" {
			f.d.add(Text{X: f.l.Rows.X + 0.5*f.small, Y: mid, S: cut(s.None, f.small, false, f.l.Rows.W-f.small), Size: f.small, V: Middle, Role: Faint})
		}
		f.d.Hits = append(f.d.Hits, Hit{Rect{f.l.Rows.X, y, f.l.Rows.W, f.line}, fmt.Sprintf("spread %d", i+1), s.Label})
		y += f.line
	}
}

func (f *lightFigure) label(s string, y float64) {
	if !f.labels {
		return
	}
	room := f.l.Plot.X - 0.6*f.small - f.margin
	f.d.add(Text{X: f.l.Plot.X - 0.6*f.small, Y: y, S: cut(s, f.small, false, room+0.01), Size: f.small, H: Right, V: Middle, Role: Ink})
}

// injection draws one: its start, a line as long as it waits, and where it
// lights. One that does not light waits to the end of the plot and ends in a
// cross. What it says stands where there is room.
func (f *lightFigure) injection(b LightBar, y float64) {
	if math.IsNaN(float64(b.Start)) {
		return
	}
	clamp := func(d timing.Deg) float64 { return f.l.X(min(max(d, f.in.From), f.in.To)) }
	mark := 0.85 * f.small
	x0, x1 := clamp(b.Start), f.l.Plot.Right()-mark/2
	if b.Lights != nil {
		x1 = clamp(*b.Lights)
		f.d.add(Path{Segs: Line(x0, y, x1, y), Stroke: b.Role, Weight: Heavy},
			Marker{X: x1, Y: y, Size: mark, Kind: Diamond, Role: b.Role})
	} else if b.Start < f.in.To {
		f.d.add(Path{Segs: Line(x0, y, x1, y), Stroke: b.Role, Weight: Fine},
			Marker{X: x1, Y: y, Size: 0.8 * mark, Kind: Cross, Role: b.Role})
	}
	f.d.add(Marker{X: x0, Y: y, Size: mark, Kind: Dot, Hollow: true, Role: b.Role})

	role := Ink
	if b.Warn {
		role = Warning
	}
	pad := mark
	w := width(f.small, b.Warn, b.Says)
	lo, hi := min(x0, x1), max(x0, x1)
	right, left, within := f.l.Plot.Right()-hi-pad, lo-f.l.Plot.X-pad, hi-lo-2*pad
	t := Text{Y: y, S: b.Says, Size: f.small, Bold: b.Warn, V: Middle, Role: role}
	switch {
	case b.Says == "":
		return
	case b.Lights != nil && w <= right:
		t.X = hi + pad
	case w <= left:
		t.X, t.H = lo-pad, Right
	case w <= within:
		t.X, t.H = (lo+hi)/2, Centre
	default:
		return
	}
	// The words stand on clear ground, whatever is shaded or ruled below.
	back := t.Bounds()
	f.d.add(Path{Segs: Rectangle(Rect{back.X - 0.2*pad, y - 0.5*f.line, back.W + 0.4*pad, f.line}), Fill: Surface}, t)
}

func (f *lightFigure) cursor() {
	if c := f.in.Cursor; c != nil && *c >= f.in.From && *c <= f.in.To {
		x := f.l.X(*c)
		f.d.add(Path{Segs: Line(x, f.l.Plot.Y, x, f.l.Rows.Bottom()), Stroke: Cursor, Weight: Medium})
	}
}

// foot draws the legend.
func (f *lightFigure) foot() {
	y := f.l.Rows.Bottom() + 0.5*f.small + f.line + 0.5*f.line
	if f.axisTitle {
		y += f.line
	}
	for i, l := range f.keys {
		l.putLine(&f.d, f.margin, y+(float64(i)+0.5)*f.line, f.small)
	}
}
