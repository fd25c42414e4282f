package figure

// items is the whole legend: the strokes, then the marks.
func (f *cycleFigure) items() legend {
	var l legend
	for _, s := range f.in.Engine.StrokeSpans() {
		l.add(f.in.Strokes[s.Stroke].Full, areaSample(StrokeRole(s.Stroke)))
	}
	return append(l, f.marks()...)
}

// marks is the legend when the strokes are named in their spans: of what some
// row shows.
func (f *cycleFigure) marks() legend {
	var has struct{ intake, exhaust, commanded, actual bool }
	for _, r := range f.in.Rows {
		has.intake = has.intake || r.Intake != nil
		has.exhaust = has.exhaust || r.Exhaust != nil
		has.commanded = has.commanded || r.Commanded != nil
		has.actual = has.actual || r.Actual != nil
	}
	bar := func(role Role, y float64) func(Rect) []Shape {
		return func(r Rect) []Shape {
			h := 0.3 * r.H
			return []Shape{Path{Segs: Rectangle(Rect{r.X, r.Y + y*(r.H-h), r.W, h}), Fill: role}}
		}
	}
	var l legend
	if has.intake && f.valve > 0 {
		l.add(f.in.IntakeOpen, bar(IntakeValve, 0.2))
	}
	if has.exhaust && f.valve > 0 {
		l.add(f.in.ExhaustOpen, bar(ExhaustValve, 0.8))
	}
	l.add(f.in.FiringTDC, func(r Rect) []Shape {
		x := r.X + r.W/2
		return []Shape{Path{Segs: Line(x, r.Y, x, r.Bottom()), Stroke: TDC, Weight: Medium},
			Marker{X: x, Y: r.Y + 0.25*r.H, Size: 0.5 * r.H, Kind: TriangleDown, Role: TDC}}
	})
	if has.commanded {
		l.add(f.in.Commanded, markSample(Marker{Kind: Dot, Hollow: true, Role: Commanded}))
	}
	if has.actual {
		l.add(f.in.Actual, markSample(Marker{Kind: Diamond, Role: Actual}))
	}
	return l
}

func (f *cycleFigure) legend() {
	line := f.small * lineHeight
	y := f.l.Plot.Bottom() + 0.5*f.small + line
	if f.axisTitle {
		y += line
	}
	y += 0.5 * line
	for i, l := range f.keys {
		l.putLine(&f.d, f.margin, y+(float64(i)+0.5)*line, f.small)
	}
}

// CycleLegend draws the whole legend of a cycle alone, its items below one another: for
// a figure that leaves it out because its rows need the room.
func CycleLegend(in CycleInput, box Box) Drawing {
	f := cycleFigure{in: in, box: box, valve: 1, d: Drawing{W: box.W, H: box.H}}
	_, small := box.typeSize(66, 24)
	margin := 0.5 * small
	line := small * lineHeight
	lines := f.items().column(small, box.W-2*margin)
	y := max(0, (box.H-line*float64(len(lines)))/2)
	for i, l := range lines {
		l.putLine(&f.d, margin, y+(float64(i)+0.5)*line, small)
	}
	return f.d
}
