package figure

import (
	"fmt"
	"math"
	"strconv"
)

func (f *signalsFigure) head() {
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

// ticks are the values that get a number, and how they are written.
func (f *signalsFigure) ticks() (at []float64, text func(float64) string) {
	span := f.in.To - f.in.From
	write := func(decimals int) func(float64) string {
		return func(v float64) string {
			if f.in.Axis.Wrap > 0 {
				v = math.Mod(math.Mod(v, f.in.Axis.Wrap)+f.in.Axis.Wrap, f.in.Axis.Wrap)
				if f.in.Axis.Wrap-v < span*1e-6 {
					v = 0
				}
			}
			return plain(v, decimals) + f.in.Axis.Unit
		}
	}
	if !f.in.Axis.Degrees {
		s := newScale(f.in.From, f.in.To, max(2, int(f.l.Plot.W/(5.5*f.small))))
		for _, v := range s.ticks {
			if v >= f.in.From-1e-9*span && v <= f.in.To+1e-9*span {
				at = append(at, v)
			}
		}
		return at, write(s.decimals)
	}
	least := 1.4 * width(f.small, false, "720.25°") / f.l.Plot.W * span
	step, decimals := f.degreeStep(least)
	for k := math.Ceil(f.in.From/step - 1e-9); k*step <= f.in.To+1e-9*span; k++ {
		at = append(at, k*step)
	}
	if wrap := f.in.Axis.Wrap; wrap > 0 && step >= wrap {
		return at, func(v float64) string { return plain(v/wrap, 0) + "×" + plain(wrap, 0) + f.in.Axis.Unit }
	}
	return at, write(decimals)
}

// degreeStep is the smallest step of at least so many degrees that a turn or a
// round number of turns divides into.
func (f *signalsFigure) degreeStep(least float64) (step float64, decimals int) {
	for _, s := range []float64{0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10, 15, 30, 45, 60, 90, 180, 360} {
		if s >= least {
			if s < 0.1 {
				return s, 2
			}
			if s < 1 {
				return s, 1
			}
			return s, 0
		}
	}
	step = max(f.in.Axis.Wrap, 360)
	for k := 0; step < least; k++ {
		step *= [...]float64{2, 2.5, 2}[k%3]
	}
	return step, 0
}

// axis draws grid, ticks and numbers.
func (f *signalsFigure) axis() {
	plot := f.l.Plot
	bottom := plot.Bottom()
	at, text := f.ticks()
	f.d.add(Path{Segs: Line(plot.X, bottom, plot.Right(), bottom), Stroke: Ink})
	for _, v := range at {
		x := f.l.X(v)
		s := text(v)
		// A label stays between the page's edges; half of it may overhang the plot.
		half := width(f.small, false, s) / 2
		f.d.add(Path{Segs: Line(x, plot.Y, x, bottom), Stroke: Grid}, Path{Segs: Line(x, bottom, x, bottom+0.4*f.small), Stroke: Ink},
			Text{X: min(max(x, f.margin+half), f.box.W-f.margin-half), Y: bottom + 0.5*f.small, S: s, Size: f.small, H: Centre, V: Top, Role: Ink})
	}
	if f.axisTitle {
		f.d.add(Text{X: plot.X + plot.W/2, Y: bottom + 0.5*f.small + f.line, Size: f.small, H: Centre, V: Top, Role: Faint,
			S: cut(f.in.Axis.Title, f.small, false, 2*min(plot.X+plot.W/2-f.margin, f.box.W-f.margin-plot.X-plot.W/2))})
	}
}

// groups draws the rows.
func (f *signalsFigure) groups() {
	n := 0
	for i, g := range f.in.Groups {
		if len(g.Rows) == 0 {
			continue
		}
		for k, r := range g.Rows {
			f.ground(r, f.l.Rows[n+k])
		}
		f.lines(g, f.l.Rows[n:n+len(g.Rows)])
		for k, r := range g.Rows {
			at := f.l.Rows[n+k]
			f.trace(r, at)
			f.d.Hits = append(f.d.Hits, Hit{at, fmt.Sprintf("row %d %d", i+1, k+1), r.Label})
			f.teeth(r, at)
		}
		n += len(g.Rows)
	}
}

// lines draws a group's name and its upright lines, through its rows and with
// their labels over them; a label that would run into the one before is left out.
func (f *signalsFigure) lines(g SignalGroup, rows []Rect) {
	const counted, real = 0, 1
	top := rows[0].Y
	free := [2]float64{f.l.Plot.X, f.margin}
	y := [2]float64{top - 0.1*f.line, top - 0.1*f.line}
	for _, l := range g.Lines {
		if !l.Counted && l.Label != "" {
			y[counted] = top - 1.1*f.line
		}
	}
	if f.names && g.Label != "" {
		t := Text{X: f.l.Plot.X, Y: y[counted], S: cut(g.Label, f.small, true, f.l.Plot.W), Size: f.small, Bold: true, V: Bottom, Role: Ink}
		f.d.add(t)
		free[counted] += width(f.small, true, t.S) + f.small
	}
	for _, l := range g.Lines {
		if !(l.At >= f.in.From && l.At <= f.in.To) {
			continue
		}
		x := f.l.X(l.At)
		role, level := TDC, real
		if l.Counted {
			role, level = Ghost, counted
		}
		var segs []Seg
		for _, r := range rows {
			segs = append(segs, Line(x, r.Y, x, r.Bottom())...)
		}
		f.d.add(Path{Segs: segs, Stroke: role, Weight: Medium})
		w := width(f.small, level == real, l.Label)
		left := min(max(x-w/2, f.margin), f.box.W-f.margin-w)
		if !f.names || l.Label == "" || left < free[level] {
			continue
		}
		free[level] = left + w + 0.6*f.small
		f.d.add(Text{X: left, Y: y[level], S: l.Label, Size: f.small, Bold: level == real, V: Bottom, Role: role})
	}
}

// plaque sets a text on clear ground, whatever is ruled below.
func (f *signalsFigure) plaque(t Text) {
	if t.S == "" {
		return
	}
	b := t.Bounds()
	f.d.add(Path{Segs: Rectangle(Rect{b.X - 0.25*f.small, t.Y - 0.5*f.line, b.W + 0.5*f.small, f.line}), Fill: Surface}, t)
}

// ground draws what lies under a row: its gaps and its lower edge.
func (f *signalsFigure) ground(r SignalRow, at Rect) {
	for _, g := range r.Gaps {
		if box, ok := f.span(g, at); ok {
			f.d.add(Path{Segs: Rectangle(box), Fill: Band, Stroke: Grid})
		}
	}
	f.d.add(Path{Segs: Line(at.X, at.Bottom(), at.Right(), at.Bottom()), Stroke: Grid})
}

// trace draws one row: its label, its trace and its arrow.
func (f *signalsFigure) trace(r SignalRow, at Rect) {
	if f.labels {
		room := f.l.Plot.X - 0.7*f.small - f.margin + 0.01
		y := at.Y + at.H/2
		if r.Range != "" && at.H > 2.1*f.line {
			f.d.add(Text{X: f.l.Plot.X - 0.7*f.small, Y: y + 0.5*f.line, S: cut(r.Range, f.small, false, room), Size: f.small, H: Right, V: Middle, Role: Faint})
			y -= 0.5 * f.line
		}
		f.d.add(Text{X: f.l.Plot.X - 0.7*f.small, Y: y, S: cut(r.Label, f.small, false, room), Size: f.small, H: Right, V: Middle, Role: Ink})
	}
	if n := len(r.Lo); n > 0 && n == len(r.Hi) && r.Max > r.Min {
		e := Envelope{X: at.X, W: at.W, Role: Sensor, Weight: Fine, Hi: make([]float64, n), Lo: make([]float64, n)}
		y := func(v float64) float64 { return at.Bottom() - min(max((v-r.Min)/(r.Max-r.Min), 0), 1)*at.H }
		for i := range n {
			e.Hi[i], e.Lo[i] = y(r.Hi[i]), y(r.Lo[i])
		}
		f.d.add(e)
	}
	if f.in.Words.Gap != "" && at.H > 1.6*f.line {
		for _, g := range r.Gaps {
			if box, ok := f.span(g, at); ok && box.W > width(f.small, false, f.in.Words.Gap)+0.6*f.small {
				f.plaque(Text{X: box.X + box.W/2, Y: at.Y + 0.65*f.line, S: f.in.Words.Gap, Size: f.small, H: Centre, V: Middle, Role: Ink})
			}
		}
	}
	f.arrows(r, at)
}

// span is where a part of the axis lies in a row, cut to what is shown.
func (f *signalsFigure) span(s SignalSpan, at Rect) (Rect, bool) {
	from, to := max(s.From, f.in.From), min(s.To, f.in.To)
	if !(to > from) {
		return Rect{}, false
	}
	x := f.l.X(from)
	return Rect{x, at.Y, f.l.X(to) - x, at.H}, true
}

// arrows draws where the edges of a row belong, and the first arrow that fits with
// its words.
func (f *signalsFigure) arrows(r SignalRow, at Rect) {
	drawn := false
	for _, a := range r.Arrows {
		if !(a.From >= f.in.From && a.From <= f.in.To) {
			continue
		}
		x0 := f.l.X(a.From)
		f.d.add(Path{Segs: Line(x0, at.Y, x0, at.Bottom()), Stroke: Ghost})
		if drawn || !(a.To >= f.in.From && a.To <= f.in.To) {
			continue
		}
		x1 := f.l.X(a.To)
		head := 0.8 * f.small
		if math.Abs(x1-x0) < 0.6*head {
			continue
		}
		drawn = true
		y, turn, back := at.Y+0.5*at.H, 90.0, -1.0
		if x1 < x0 {
			turn, back = 270, 1
		}
		f.d.add(Path{Segs: Line(x0, y, x1+back*min(0.8*head, math.Abs(x1-x0)), y), Stroke: Actual, Weight: Heavy},
			Marker{X: x1, Y: y, Size: head, Kind: Arrowhead, Turn: turn, Role: Actual})
		f.arrowWords(a.Label, min(x0, x1), max(x0, x1), y, at)
	}
}

// arrowWords stand right of the arrow, or left of it where there is no room.
func (f *signalsFigure) arrowWords(s string, left, right, y float64, at Rect) {
	w, pad := width(f.small, true, s), 0.6*f.small
	t := Text{X: right + pad, Y: y, S: s, Size: f.small, Bold: true, V: Middle, Role: Actual}
	switch {
	case s == "":
		return
	case t.X+w <= at.Right():
	case left-pad-w >= at.X:
		t.X, t.H = left-pad, Right
	default:
		return
	}
	f.plaque(t)
}

// teeth draws the marks under a row, and as many of their numbers as there is room
// for: each, each fifth, each tenth. Where there is no room under the row, what is
// lost or too many is marked at its foot.
func (f *signalsFigure) teeth(r SignalRow, at Rect) {
	var ticks []Seg
	top := at.Bottom() + 0.1*f.small
	if !f.marks {
		top = at.Bottom() - 0.9*f.small
	}
	nearest, last := math.Inf(1), math.Inf(-1)
	for _, m := range r.Marks {
		if m.State == MarkExpected && m.At >= f.in.From && m.At <= f.in.To {
			nearest, last = min(nearest, f.l.X(m.At)-last), f.l.X(m.At)
		}
	}
	every := 1
	for _, k := range []int{1, 5, 10, 20, 50, 100} {
		if every = k; nearest*float64(k) > 1.15*width(f.small, false, "000") {
			break
		}
	}
	free := at.X - f.small
	for i, m := range r.Marks {
		if !(m.At >= f.in.From && m.At <= f.in.To) {
			continue
		}
		x := f.l.X(m.At)
		if !f.marks && (m.State == MarkExpected || m.State == MarkMissing) {
			continue
		}
		if m.State != MarkExpected {
			s := markOf(m.State)
			s.X, s.Y, s.Size = x, top+0.45*f.small, 0.6*f.small
			if m.State == MarkMissing {
				s.Size = 0.4 * f.small
			}
			f.d.add(s)
			f.d.Hits = append(f.d.Hits, Hit{Rect{x - 0.5*f.small, at.Y, f.small, at.H + f.strip(r)}, fmt.Sprintf("mark %d", i+1), m.Says})
			continue
		}
		ticks = append(ticks, Line(x, top, x, top+0.3*f.small)...)
		number, err := strconv.Atoi(m.Label)
		if err != nil || number != 1 && number%every != 0 {
			continue
		}
		w := width(f.small, false, m.Label)
		if x-w/2 < free || x+w/2 > at.Right()+f.small {
			continue
		}
		free = x + w/2 + 0.35*f.small
		f.d.add(Text{X: x, Y: top + 0.35*f.small, S: m.Label, Size: f.small, H: Centre, V: Top, Role: Ink})
	}
	if len(ticks) > 0 {
		f.d.add(Path{Segs: ticks, Stroke: Ink, Weight: Hair})
	}
}

func (f *signalsFigure) cursor() {
	if c := f.in.Cursor; c != nil && *c >= f.in.From && *c <= f.in.To {
		x := f.l.X(*c)
		f.d.add(Path{Segs: Line(x, f.l.Plot.Y, x, f.l.Plot.Bottom()), Stroke: Cursor, Weight: Medium})
	}
}

// foot draws the legend.
func (f *signalsFigure) foot() {
	y := f.l.Plot.Bottom() + 0.5*f.small + f.line + 0.5*f.line
	if f.axisTitle {
		y += f.line
	}
	for i, l := range f.keys {
		l.putLine(&f.d, f.margin, y+(float64(i)+0.5)*f.line, f.small)
	}
}
