package figure

import (
	"fmt"
	"math"
)

type mapFigure struct {
	in          LightMapInput
	box         Box
	d           Drawing
	l           LightMapLayout
	size, small float64
	margin      float64
	line        float64
	heading     bool
	keys        []legend
}

func (m *mapFigure) measure() {
	m.margin, m.line = 0.9*m.size, m.small*lineHeight
	m.heading = m.in.Heading != ""
	m.keys = m.items().flow(m.small, m.box.W-2*m.margin)
	left := 0.0
	for _, v := range m.in.Y {
		left = max(left, width(m.small, false, m.number(v)))
	}
	height := func() float64 {
		h := m.box.H - 2*m.margin - 0.6*m.small - m.line - m.line
		if m.heading {
			h -= 1.9 * m.size
		}
		if m.in.Words.YTitle != "" {
			h -= 1.2 * m.line
		}
		if len(m.keys) > 0 {
			h -= m.line * (0.5 + float64(len(m.keys)))
		}
		return h
	}
	if height() < 6*m.line {
		m.keys = nil
	}
	if height() < 6*m.line {
		m.heading = false
	}
	y := m.margin
	if m.heading {
		y += 1.9 * m.size
	}
	if m.in.Words.YTitle != "" {
		y += 1.2 * m.line
	}
	m.l.x, m.l.y = m.in.X, m.in.Y
	m.l.Plot = Rect{X: m.margin + left + 0.6*m.small, Y: y, H: max(height(), 1)}
	m.l.Plot.W = max(1, m.box.W-m.l.Plot.X-m.margin)
}

// seen are the values across as the reader counts them.
func (m *mapFigure) seen() []float64 {
	if len(m.in.XSeen) == len(m.in.X) {
		return m.in.XSeen
	}
	return m.in.X
}

// number writes a value of an axis.
func (m *mapFigure) number(v float64) string {
	decimals := 0
	if math.Abs(v-math.Round(v)) > 1e-9 {
		decimals = 1
	}
	return decimal(plain(v, decimals), m.in.Words.Comma)
}

// cell is where one lies.
func (m *mapFigure) cell(row, col int) Rect {
	w, h := m.l.Plot.W/float64(len(m.in.X)), m.l.Plot.H/float64(len(m.in.Y))
	return Rect{m.l.Plot.X + float64(col)*w, m.l.Plot.Bottom() - float64(row+1)*h, w, h}
}

// seam is by how many points, at most, a row of areas laps over the one below
// it, so that a screen shows no gaps between rows.
const seam = 0.6

// areas fills the cells, neighbours of a row that are alike in one go.
func (m *mapFigure) areas() {
	fill := func(c LightOn) Role {
		switch {
		case c.Lit >= c.Of:
			return Window
		case c.Lit > 0:
			return Doubtful
		}
		return None
	}
	for r, row := range m.in.Cells {
		for from := 0; from < len(row); {
			to := from + 1
			for to < len(row) && fill(row[to]) == fill(row[from]) {
				to++
			}
			if role := fill(row[from]); role != None {
				a, b := m.cell(r, from), m.cell(r, to-1)
				over := 0.0
				if r > 0 {
					over = min(seam, a.H/3)
				}
				m.d.add(Path{Segs: Rectangle(Rect{a.X, a.Y, b.Right() - a.X, a.H + over}), Fill: role})
			}
			from = to
		}
	}
	m.d.Hits = append(m.d.Hits, Hit{m.l.Plot, "map", m.in.Title})
}

// limits draws the lines between what the chosen one lights and does not, and
// round what lights too early.
func (m *mapFigure) limits() {
	between := func(on func(LightOn) bool) []Seg {
		var segs []Seg
		for r, row := range m.in.Cells {
			for c := range row {
				a := m.cell(r, c)
				if c > 0 && on(row[c]) != on(row[c-1]) {
					segs = append(segs, Line(a.X, a.Y, a.X, a.Bottom())...)
				}
				if r > 0 && on(row[c]) != on(m.in.Cells[r-1][c]) {
					segs = append(segs, Line(a.X, a.Bottom(), a.Right(), a.Bottom())...)
				}
			}
		}
		return segs
	}
	if segs := between(func(c LightOn) bool { return c.Chosen }); len(segs) > 0 {
		m.d.add(Path{Segs: segs, Stroke: Ink, Weight: Heavy})
	}
	if segs := between(func(c LightOn) bool { return c.KickBack }); len(segs) > 0 {
		m.d.add(Path{Segs: segs, Stroke: Warning, Weight: Medium})
	}
}

func (m *mapFigure) axes() {
	p := m.l.Plot
	m.d.add(Path{Segs: Rectangle(p), Stroke: Faint})
	for _, i := range labelled(m.in.Y, m.cell(0, 0).H, 1.5*m.small) {
		y := m.cell(i, 0).Y + m.cell(i, 0).H/2
		m.d.add(Path{Segs: Line(p.X-0.25*m.small, y, p.X, y), Stroke: Ink},
			Text{X: p.X - 0.45*m.small, Y: y, S: m.number(m.in.Y[i]), Size: m.small, H: Right, V: Middle, Role: Ink})
	}
	widest := 0.0
	for _, v := range m.seen() {
		widest = max(widest, width(m.small, false, m.number(v)))
	}
	for _, i := range labelled(m.seen(), m.cell(0, 0).W, widest+0.8*m.small) {
		c := m.cell(0, i)
		x := c.X + c.W/2
		half := width(m.small, false, m.number(m.seen()[i])) / 2
		m.d.add(Path{Segs: Line(x, p.Bottom(), x, p.Bottom()+0.25*m.small), Stroke: Ink},
			Text{X: min(max(x, m.margin+half), m.box.W-m.margin-half), Y: p.Bottom() + 0.4*m.small, S: m.number(m.seen()[i]), Size: m.small, H: Centre, V: Top, Role: Ink})
	}
}

// labelled picks which of a list of evenly spaced values get a label when they
// stand so far apart and labels need that much room: round ones when there are
// two such, else every so many.
func labelled(list []float64, apart, room float64) []int {
	every := max(1, int(math.Ceil(room/apart)))
	if len(list) < 2 {
		return []int{0}
	}
	least := math.Abs(list[1]-list[0]) * float64(every)
	step := math.Pow(10, math.Floor(math.Log10(least)))
	for _, k := range []float64{1, 2, 5, 10} {
		if k*step >= least*(1-1e-9) {
			step *= k
			break
		}
	}
	var round, rest []int
	for i, v := range list {
		if n := v / step; math.Abs(n-math.Round(n)) < 1e-6 {
			round = append(round, i)
		}
		if i%every == 0 {
			rest = append(rest, i)
		}
	}
	if len(round) > 1 {
		return round
	}
	return rest
}

func (m *mapFigure) points() {
	for i, pt := range m.in.Points {
		x, y, ok := m.l.place(pt.X, pt.Y)
		if !ok {
			continue
		}
		mark := pt.mark(1.1 * m.small)
		mark.X, mark.Y = x, y
		m.d.add(mark)
		m.d.Hits = append(m.d.Hits, Hit{Rect{x, y, 0, 0}.Grown(m.small), fmt.Sprintf("point %d", i+1), pt.Label})
	}
}

func (p MapPoint) mark(size float64) Marker {
	kind := Diamond
	if p.Hollow {
		kind = Dot
	}
	return Marker{Size: size, Kind: kind, Hollow: p.Hollow, Role: p.Role}
}

func (m *mapFigure) items() legend {
	w := m.in.Words
	var l legend
	l.add(w.All, areaSample(Window))
	l.add(w.Some, areaSample(Doubtful))
	l.add(w.None, areaSample(Surface))
	rule := func(role Role, weight Weight) func(Rect) []Shape {
		return func(r Rect) []Shape {
			return []Shape{Path{Segs: Line(r.X, r.Y+r.H/2, r.Right(), r.Y+r.H/2), Stroke: role, Weight: weight}}
		}
	}
	l.add(w.Limit, rule(Ink, Heavy))
	for _, row := range m.in.Cells {
		for _, c := range row {
			if c.KickBack {
				l.add(w.KickBack, rule(Warning, Medium))
				w.KickBack = ""
			}
		}
	}
	for _, p := range m.in.Points {
		l.add(p.Label, markSample(p.mark(0)))
	}
	return l
}

func (m *mapFigure) words() {
	p := m.l.Plot
	if m.heading {
		m.d.add(Text{X: m.margin, Y: m.margin + 0.55*m.size, S: cut(m.in.Heading, m.size*1.25, true, m.box.W-2*m.margin), Size: m.size * 1.25, Bold: true, V: Middle, Role: Ink})
	}
	if m.in.Words.YTitle != "" {
		m.d.add(Text{X: m.margin, Y: p.Y - 0.75*m.line, S: cut(m.in.Words.YTitle, m.small, false, m.box.W-2*m.margin), Size: m.small, V: Middle, Role: Faint})
	}
	m.d.add(Text{X: p.X + p.W/2, Y: p.Bottom() + 0.4*m.small + m.line, Size: m.small, H: Centre, V: Top, Role: Faint,
		S: cut(m.in.Words.XTitle, m.small, false, 2*min(p.X+p.W/2-m.margin, m.box.W-m.margin-p.X-p.W/2))})
	y := p.Bottom() + 0.4*m.small + 2.5*m.line
	for i, l := range m.keys {
		l.putLine(&m.d, m.margin, y+(float64(i)+0.5)*m.line, m.small)
	}
}
