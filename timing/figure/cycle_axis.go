package figure

import (
	"fmt"
	"math"

	"pinphase.org/pinphase/timing"
)

// axis draws grid, ticks and degrees.
func (f *cycleFigure) axis() {
	plot, cycle := f.l.Plot, float64(f.l.Cycle)
	step := cycle
	for _, s := range []float64{360, 180, 90, 60, 45, 30} {
		if f.l.X(timing.Deg(s))-f.l.X(0) < 1.75*width(f.small, false, "720°") {
			break
		}
		step = s
	}
	minor := step
	for _, s := range []float64{45, 30, 15, 10, 5} {
		if s < step && math.Mod(step, s) == 0 && s/cycle*plot.W >= 7 {
			minor = s
		}
	}
	bottom := plot.Bottom()
	f.d.add(Path{Segs: Line(plot.X, bottom, plot.Right(), bottom), Stroke: Ink})
	for a := 0.0; a <= cycle; a += minor {
		x := f.l.X(timing.Deg(a))
		if math.Mod(a, step) != 0 {
			f.d.add(Path{Segs: Line(x, bottom, x, bottom+0.22*f.small), Stroke: Faint, Weight: Hair})
			continue
		}
		f.d.add(Path{Segs: Line(x, plot.Y, x, bottom), Stroke: Grid},
			Path{Segs: Line(x, bottom, x, bottom+0.42*f.small), Stroke: Ink},
			Text{X: x, Y: bottom + 0.5*f.small, S: degrees(timing.Deg(a)), Size: f.small, H: Centre, V: Top, Role: Ink})
	}
	if f.axisTitle {
		f.d.add(Text{X: plot.X + plot.W/2, Y: bottom + 0.5*f.small + f.small*lineHeight, Size: f.small, H: Centre, V: Top, Role: Faint,
			S: cut(f.in.AxisTitle, f.small, false, 2*min(plot.X+plot.W/2-f.margin, f.box.W-f.margin-plot.X-plot.W/2))})
	}
	if f.readout && f.in.ReadoutHead != "" {
		f.d.add(Text{X: f.readoutX, Y: plot.Y - 0.42*f.small, S: f.in.ReadoutHead, Size: f.small, V: Bottom, Role: Faint})
	}
}

func degrees(d timing.Deg) string { return fmt.Sprintf("%g°", float64(d)) }

// spanNear is how near the cycle's end an arrow ends there, in degrees: firing intervals
// are sums.
const spanNear = 1e-6

// span draws the arrow over the rows; one that runs past the end of the cycle goes on
// from its beginning.
func (f *cycleFigure) span() {
	if f.in.Span == nil {
		return
	}
	from, by := timing.Wrap(f.in.Span[0], f.l.Cycle), f.in.Span[1]-f.in.Span[0]
	y, head := f.l.Plot.Y-0.12*f.small, 0.8*f.small
	line := func(a, b timing.Deg) {
		f.d.add(Path{Segs: Line(f.l.X(a), y, f.l.X(b), y), Stroke: Cursor, Weight: Broad})
	}
	end := from + by
	if end > f.l.Cycle+spanNear {
		line(from, f.l.Cycle)
		from, end = 0, end-f.l.Cycle
	}
	line(from, end)
	f.d.add(Marker{X: f.l.X(end), Y: y, Size: head, Kind: Arrowhead, Turn: 90, Role: Cursor})
}

// ending is where the cursor is drawn: at the end of the cycle rather than at its
// beginning where the arrow ends there.
func (f *cycleFigure) ending(at timing.Deg) timing.Deg {
	near := func(a, b timing.Deg) bool { return math.Abs(float64(timing.Difference(a, b, f.l.Cycle))) < spanNear }
	if s := f.in.Span; s != nil && near(at, s[1]) && near(s[1], 0) {
		return f.l.Cycle
	}
	return timing.Wrap(at, f.l.Cycle)
}

// cursor draws the cursor, when the input has one.
func (f *cycleFigure) cursor() {
	if f.in.Cursor == nil {
		return
	}
	plot := f.l.Plot
	x := f.l.X(f.ending(*f.in.Cursor))
	f.d.add(Path{Segs: Line(x, plot.Y-0.3*f.small, x, plot.Bottom()), Stroke: Cursor, Weight: Medium})
	if f.in.CursorLabel == "" {
		return
	}
	s := cut(f.in.CursorLabel, f.small, true, f.box.W-2*f.margin)
	half := width(f.small, true, s) / 2
	most := f.box.W - f.margin
	if f.readout && f.in.ReadoutHead != "" {
		most = f.readoutX - 0.5*f.size
	}
	at := max(min(x, most-half), f.margin+half)
	f.d.add(Text{X: at, Y: plot.Y - 0.42*f.small, S: s, Size: f.small, Bold: true, H: Centre, V: Bottom, Role: Cursor})
}
