package figure

import "math"

// end draws the crankshaft's end. A key stands in the keyway when keyed.
func (m *methodPicture) end(keyed bool) {
	lean := 0.0
	if m.throw {
		lean = picTilt
		pin, _, page, _ := m.features()
		m.web(pin, page)
	} else {
		m.d.add(Path{Segs: m.circle(point{}, 1), Fill: Nose, Stroke: Ink})
	}
	m.d.add(Path{Segs: m.circle(point{}, picNose), Fill: Steel, Stroke: Ink})
	corner := func(r, across float64) point {
		p, q := polar(r, lean), polar(across, lean+90)
		return point{p.x + q.x, p.y + q.y}
	}
	block := func(from, to float64) []Seg {
		return m.polygon(corner(from, -picKey), corner(to, -picKey), corner(to, picKey), corner(from, picKey))
	}
	rim := math.Sqrt(picNose*picNose - picKey*picKey)
	if keyed {
		m.d.add(Path{Segs: block(picNose-picSlot, picNose+picProud), Fill: Keyway, Stroke: Keyway})
	} else {
		behind := Nose
		if m.throw {
			behind = Throw
		}
		m.d.add(Path{Segs: block(picNose-picSlot, picNose+0.02), Fill: behind})
		slot := block(picNose-picSlot, rim) // left foot, left top, right top, right foot
		open := []Seg{slot[1], slot[0], slot[3], slot[2]}
		open[0].Op, open[1].Op = MoveTo, LineTo
		m.d.add(Path{Segs: open, Stroke: Ink, Weight: Medium})
	}
	if !m.throw {
		_, dowel, _, _ := m.features()
		m.d.add(Path{Segs: m.circle(dowel, picPin), Fill: Surface, Stroke: Ink, Weight: Medium})
	}
	m.d.add(Marker{X: m.x, Y: m.y, Size: max(0.1*m.r, 4), Kind: Cross, Role: Faint})
}

// pinRadius is that of the feature a jaw or a centre line belongs to.
func (m *methodPicture) pinRadius() float64 {
	if m.throw {
		return 0.17
	}
	return picPin
}

// web draws the crank web with the No. 1 pin: two circles and the lines that
// touch both.
func (m *methodPicture) web(pin point, page float64) {
	px, py := m.at(pin)
	const atPin, atAxis = 0.27, 0.62
	touch := math.Acos((atAxis-atPin)/math.Hypot(pin.x, pin.y)) * 180 / math.Pi
	x, y := Polar(m.x, m.y, atAxis*m.r, page+touch)
	m.d.add(
		Path{Fill: Throw, Stroke: Ink, Segs: []Seg{
			{Op: MoveTo, X: x, Y: y},
			{Op: ArcTo, X: m.x, Y: m.y, R: atAxis * m.r, Start: page + touch, Sweep: 360 - 2*touch},
			{Op: ArcTo, X: px, Y: py, R: atPin * m.r, Start: page - touch, Sweep: 2 * touch},
			{Op: CloseTo}}},
		Path{Fill: Surface, Stroke: Ink, Weight: Medium, Segs: m.circle(pin, m.pinRadius())})
}

// ray draws a measured direction from the axis.
func (m *methodPicture) ray(r, page float64) {
	m.d.add(Path{Segs: m.line(point{}, polar(r, page)), Stroke: Measured})
}

// graduate draws a graduated ring from a page angle over a sweep, long marks at
// every third.
func (m *methodPicture) graduate(r0, r1, from, sweep, step float64) {
	x0, y0 := m.at(polar(r0, from))
	m.d.add(Path{Fill: Surface, Stroke: Ink, Segs: []Seg{{Op: MoveTo, X: x0, Y: y0},
		{Op: ArcTo, X: m.x, Y: m.y, R: r0 * m.r, Start: from, Sweep: sweep},
		{Op: ArcTo, X: m.x, Y: m.y, R: r1 * m.r, Start: from + sweep, Sweep: -sweep}, {Op: CloseTo}}})
	var ticks []Seg
	for i := 1; float64(i)*step < sweep-step/2; i++ {
		in := r1 - 0.4*(r1-r0)
		if i%3 == 0 {
			in = r1 - 0.7*(r1-r0)
		}
		a := from + float64(i)*step
		ticks = append(ticks, m.line(polar(in, a), polar(r1, a))...)
	}
	m.d.add(Path{Segs: ticks, Stroke: Ink, Weight: Hair})
}

// protractor: half a ring laid with its base line to the first feature.
func (m *methodPicture) protractor() {
	m.end(false)
	_, _, from, to := m.features()
	m.graduate(1.08, 1.37, from, 180, 10)
	m.d.add(Path{Segs: m.line(point{}, polar(1.08, from+180)), Stroke: Ink, Weight: Hair})
	m.ray(1.37, from)
	m.ray(1.37, to)
	m.arc(0.72, from, to, true)
}

// degreeWheel: a whole ring with a zero of its own, read at both features.
func (m *methodPicture) degreeWheel() {
	m.end(false)
	_, _, from, to := m.features()
	zero := from - 62
	m.graduate(1.1, 1.38, zero, 360, 10)
	x, y := m.at(polar(1.1, zero))
	m.d.add(Path{Segs: m.line(point{}, polar(1.38, zero)), Stroke: Ink},
		Marker{X: x, Y: y, Size: m.head(), Kind: Arrowhead, Turn: zero, Role: Ink})
	m.ray(1.38, from)
	m.ray(1.38, to)
	m.arc(0.66, zero, from, false)
	m.arc(0.9, zero, to, false)
}

// chord: straight across between the centres, and both distances from the axis.
func (m *methodPicture) chord() {
	m.end(false)
	from, to, _, _ := m.features()
	high := 1.2
	if m.throw {
		high = 0.9
	}
	for _, p := range []point{from, to} {
		m.d.add(Path{Segs: m.line(point{}, p), Stroke: Ghost},
			Path{Segs: m.line(p, point{p.x, high + 0.1}), Stroke: Measured, Weight: Hair})
		x, y := m.at(p)
		s := max(0.05*m.r, 2)
		m.d.add(Path{Segs: append(Line(x-s, y, x+s, y), Line(x, y-s, x, y+s)...), Stroke: Measured, Weight: Medium})
	}
	m.dimension(point{from.x, high}, point{to.x, high})
}

// caliper: over the far edges of both features, or between the near ones. The
// beam lies above, the jaws hang from it.
func (m *methodPicture) caliper(outside, keyed bool) {
	m.end(keyed)
	from, to, _, _ := m.features()
	half := picKey
	left, right := from.x+half, to.x-picPin // faces of the jaws, inside
	if m.throw {
		half = picKey / math.Cos(picTilt*math.Pi/180)
		left, right = from.x+m.pinRadius(), to.x-half
	}
	if outside {
		left, right = from.x-(left-from.x), to.x+(to.x-right)
	}
	const beam, top = 1.16, 1.4
	reach := func(p point, key bool) float64 { // how deep a jaw goes
		if key && !keyed {
			return p.y + picSlot/2 // its tip on the edge
		}
		return p.y - 0.06
	}
	// body is the jaw's side away from its face.
	jaw := func(face, body, tip float64) {
		m.d.add(Path{Fill: Band, Stroke: Ink, Weight: Medium, Segs: m.polygon(
			point{face, tip}, point{face, beam}, point{body, beam}, point{body, tip + 0.34}, point{face + 0.3*(body-face), tip})})
	}
	wide := 0.24
	if !outside {
		wide = -0.19
	}
	jaw(left, left-wide, reach(from, !m.throw))
	jaw(right, right+wide, reach(to, m.throw))
	first, last := min(left, left-wide)-0.06, 1.48
	if m.throw {
		last = 1.3
	}
	m.d.add(Path{Fill: Band, Stroke: Ink, Weight: Medium, Segs: m.polygon(
		point{first, top}, point{last, top}, point{last, beam}, point{first, beam})})
	slider := max(right, right+wide)
	var ticks []Seg
	for x := left; x < last-0.04; x += 0.1 {
		ticks = append(ticks, m.line(point{x, top}, point{x, top - 0.1})...)
	}
	m.d.add(Path{Segs: ticks, Stroke: Ink, Weight: Hair},
		Path{Fill: Steel, Stroke: Ink, Weight: Medium, Segs: m.polygon(point{slider - 0.42, top - 0.09}, point{slider + 0.1, top - 0.09},
			point{slider + 0.1, beam - 0.06}, point{slider - 0.42, beam - 0.06})})
	m.dimension(point{left, 0.82}, point{right, 0.82})
}

// tape: a length along the rim, from under the one feature to under the other.
func (m *methodPicture) tape() {
	m.end(false)
	from, to, a, b := m.features()
	const r0, r1 = 1.0, 1.15
	if m.throw { // a rim in front of the web
		m.d.add(Path{Segs: m.circle(point{}, 1), Stroke: Ink})
	}
	for i, p := range []point{from, to} {
		m.d.add(Path{Segs: m.line(p, polar(1.36, []float64{a, b}[i])), Stroke: Measured, Weight: Hair})
	}
	m.graduate(r0, r1, a-24, b-a+48, 4)
	m.arc(1.27, a, b, true)
}

// coordinates: axes beside the part, and both measures of each point.
func (m *methodPicture) coordinates() {
	m.end(false)
	low, left, right, high := -1.18, -1.32, 1.18, 1.18
	if m.throw {
		low, left, right, high = -0.9, -1.32, 0.93, 0.93
	}
	from, to, _, _ := m.features()
	for _, p := range []point{{}, from, to} {
		m.d.add(Path{Segs: append(m.line(p, point{left, p.y}), m.line(p, point{p.x, low})...), Stroke: Measured, Weight: Hair})
		x, y := m.at(p)
		m.d.add(Marker{X: x, Y: y, Size: max(0.12*m.r, 4), Kind: Dot, Role: Measured})
		for _, q := range []point{{left, p.y}, {p.x, low}} {
			x, y := m.at(q)
			m.d.add(Marker{X: x, Y: y, Size: max(0.09*m.r, 3), Kind: Dot, Role: Measured})
		}
	}
	h := m.head()
	tip := func(a, b point, turn float64) {
		x, y := m.at(b)
		m.d.add(Path{Segs: m.line(a, b), Stroke: Ink, Weight: Medium}, Marker{X: x, Y: y, Size: h, Kind: Arrowhead, Turn: turn, Role: Ink})
	}
	tip(point{left, low - 0.1}, point{left, high}, 0)
	tip(point{left - 0.1, low}, point{right, low}, 90)
	size := max(0.24*m.r, smallest)
	x, y := m.at(point{left, high - 0.1})
	m.d.add(Text{X: x + 0.75*h, Y: y, S: "y", Size: size, Bold: true, V: Middle, Role: Ink})
	x, y = m.at(point{right - 0.08, low})
	m.d.add(Text{X: x, Y: y - 0.75*h, S: "x", Size: size, Bold: true, H: Centre, V: Baseline, Role: Ink})
}

// photograph: a print of the part, looked at a little from the side, with the
// points that are marked, and the camera.
func (m *methodPicture) photograph() {
	x, y := m.at(point{-1.5, 1.16})
	frame := Rect{x, y, 3 * m.r, 2.32 * m.r}
	m.d.add(Path{Segs: Rectangle(frame), Fill: Surface, Stroke: Ink, Weight: Medium},
		Path{Segs: Rectangle(frame.Grown(-0.08 * m.r)), Fill: Band, Stroke: Faint, Weight: Hair})

	flat := *m
	flat.d = Drawing{}
	flat.x, flat.r = m.x-0.08*m.r, 0.98*m.r
	flat.end(false)
	const squeeze, lean = 0.8, 0.1 // as one who stands to the side sees it
	tilt := func(p point) point {
		return point{flat.x + squeeze*(p.x-flat.x), p.y + lean*(p.x-flat.x)*squeeze}
	}
	for _, s := range flat.d.Shapes {
		if p, ok := s.(Path); ok {
			var segs []Seg
			for _, r := range flatten(p.Segs) {
				for i, q := range r.pts {
					q = tilt(q)
					segs = append(segs, Seg{Op: LineTo, X: q.x, Y: q.y})
					if i == 0 {
						segs[len(segs)-1].Op = MoveTo
					}
				}
				if r.closed {
					segs = append(segs, Seg{Op: CloseTo})
				}
			}
			p.Segs = segs
			m.d.add(p)
		}
	}
	mark := func(p point, k MarkerKind, size float64) {
		x, y := flat.at(p)
		q := tilt(point{x, y})
		m.d.add(Marker{X: q.x, Y: q.y, Size: size, Kind: k, Role: Measured})
	}
	size := max(0.14*m.r, 5)
	lead := 0.0
	if m.throw {
		lead = picTilt
	}
	for i := range 6 {
		mark(polar(picNose, lead+60+48*float64(i)), Dot, 0.8*size)
	}
	half := math.Asin(picKey/picNose) * 180 / math.Pi
	mark(polar(picNose, lead-half-2), Square, 0.85*size)
	mark(polar(picNose, lead+half+2), Square, 0.85*size)
	from, to, _, _ := m.features()
	if m.throw {
		mark(from, Cross, size)
	} else {
		mark(to, Diamond, 1.2*size)
	}

	// The camera, over the print's corner.
	box := func(x0, y0, x1, y1 float64) []Seg {
		return m.polygon(point{x0, y1}, point{x1, y1}, point{x1, y0}, point{x0, y0})
	}
	m.d.add(Path{Segs: box(0.86, -1.2, 1.58, -0.7), Fill: Ink, Stroke: Surface, Weight: Medium},
		Path{Segs: box(0.99, -0.72, 1.19, -0.63), Fill: Ink},
		Path{Segs: m.circle(point{1.22, -0.95}, 0.17), Fill: Surface},
		Path{Segs: m.circle(point{1.22, -0.95}, 0.1), Fill: Ink})
}
