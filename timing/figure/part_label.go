package figure

import (
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
)

// String is the tag in one line.
func (t Tag) String() string {
	if t.Word != "" && t.Value != "" {
		return t.Word + " " + t.Value
	}
	return t.Word + t.Value
}

// partLabel is a label beside a circle of the part figure.
type partLabel struct {
	lines   []string
	page    float64 // angle of the ray it belongs to
	strong  bool    // the last line is bold
	rank    int     // labels of a high rank are left out first
	atArc   bool    // belongs to the arc, not to a ray's end
	right   bool
	y       float64 // of its middle
	x       float64 // of its edge towards the circle
	w, high float64
}

// labels are the labels of a circle, at the detail there is room for.
func (f *partFigure) labels(face PartFace, parts []MeasuredPart) []partLabel {
	if f.detail == noLabels {
		return nil
	}
	var list []partLabel
	add := func(at timing.Deg, t Tag, strong bool, rank int) {
		if f.detail == valuesOnly {
			t.Word = ""
		}
		var lines []string
		for _, s := range []string{t.Word, t.Value} {
			if s != "" {
				lines = append(lines, s)
			}
		}
		if len(lines) > 0 {
			list = append(list, partLabel{lines: lines, page: face.page(at), strong: strong && t.Value != "", rank: rank})
		}
	}
	drawn := false
	for i, p := range parts {
		if p.Measured != nil {
			add(*p.Measured, p.MeasuredTag, true, i)
		}
		if p.Drawing != nil && !drawn {
			drawn = true
			add(*p.Drawing, p.DrawingTag, false, 2)
			if m := p.mirrored(); m != nil {
				add(*m, p.MirroredTag, false, 4)
			}
		}
	}
	datum := f.in.Keyway
	if f.in.Feature == KeywayFromThrow {
		datum = f.in.Throw
	} else if len(parts) > 0 && parts[0].KeywayAt != nil {
		add(-*parts[0].KeywayAt, Tag{Word: f.in.Throw}, false, 6)
	}
	add(0, Tag{Word: datum}, false, 5)
	return list
}

// labelSize is the room a label takes.
func (f *partFigure) labelSize(l partLabel) (w, h float64) {
	for i, s := range l.lines {
		w = max(w, width(f.small, l.strong && i == len(l.lines)-1, s))
	}
	return w, (1.2*float64(len(l.lines)-1) + capHeight) * f.small
}

// labelled places and draws the labels. The arc's value stands on the arc where
// that is long enough and clear of the others, else among them.
func (p *partFace) labelled(cell Rect) {
	if p.detail == noLabels {
		return
	}
	labels := p.labels(p.PartFace, p.parts)
	placed := p.placeLabels(labels, cell)
	if text, bounds, ok := p.onArc(); ok {
		clear := bounds.X >= cell.X && bounds.Right() <= cell.Right() && bounds.Y >= cell.Y && bounds.Bottom() <= cell.Bottom()
		for _, l := range placed {
			clear = clear && !l.bounds().Grown(0.2*p.small).Meets(bounds)
		}
		if clear {
			p.d.add(Path{Segs: Rectangle(bounds), Fill: Surface, Stroke: Measured, Weight: Hair}, text)
			p.drawLabels(placed)
			return
		}
	}
	if l, ok := p.arcLabel(); ok {
		placed = p.placeLabels(append(labels, l), cell)
	}
	p.drawLabels(placed)
}

// arcTag is the label of the arc.
func (p *partFace) arcTag() Tag {
	if len(p.parts) > 1 && p.parts[1].Measured != nil {
		return p.in.Apart
	}
	return p.parts[0].ErrorTag
}

// onArc is the value on the middle of the arc, when the arc has room for it.
func (p *partFace) onArc() (t Text, bounds Rect, ok bool) {
	from, by, ok := p.way()
	value := p.arcTag().Value
	if !ok || value == "" {
		return Text{}, Rect{}, false
	}
	r := partArcR * p.Ring
	page := p.page(from + by/2)
	x, y := Polar(p.X, p.Y, r, page)
	w, h := width(p.small, true, value)+0.6*p.small, 1.4*p.small
	sin, cos := math.Sincos(page * math.Pi / 180)
	along := math.Abs(cos)*w + math.Abs(sin)*h
	if math.Abs(by.Radians())*r < along+2.6*p.head() {
		return Text{}, Rect{}, false
	}
	return Text{X: x, Y: y, S: value, Size: p.small, Bold: true, H: Centre, V: Middle, Role: Ink}, Rect{x - w/2, y - h/2, w, h}, true
}

// arcLabel is the arc's label among the others.
func (p *partFace) arcLabel() (partLabel, bool) {
	from, by, ok := p.way()
	t := p.arcTag()
	if p.detail == noLabels {
		return partLabel{}, false
	}
	if p.detail == valuesOnly {
		t.Word = ""
	}
	if !ok || t.Value == "" {
		return partLabel{}, false
	}
	l := partLabel{page: p.page(from + by/2), strong: true, rank: 3, atArc: true, lines: []string{t.Value}}
	if t.Word != "" {
		l.lines = []string{t.Word, t.Value}
	}
	return l, true
}

// placeLabels puts each label beside its ray, those of a side one below the
// other; what does not fit is left out, the highest rank first.
func (p *partFace) placeLabels(labels []partLabel, cell Rect) []partLabel {
	var sides [2][]partLabel
	slices.SortStableFunc(labels, func(a, b partLabel) int { return a.rank - b.rank })
	high := [2]float64{}
	gap := 0.85 * p.small
	for _, l := range labels {
		l.w, l.high = p.labelSize(l)
		_, y := Polar(p.X, p.Y, p.Ring, l.page)
		l.y = y
		side := 0
		switch sin := math.Sin(l.page * math.Pi / 180); {
		case sin > 0.01:
			side = 1
		case sin > -0.01 && len(sides[1]) < len(sides[0]): // at the top or the bottom
			side = 1
		}
		if high[side]+l.high > cell.H {
			continue
		}
		high[side] += l.high + gap
		l.right = side == 1
		sides[side] = append(sides[side], l)
	}
	var placed []partLabel
	for _, s := range sides {
		slices.SortStableFunc(s, func(a, b partLabel) int { return int(math.Copysign(1, a.y-b.y)) })
		spread(s, cell.Y, cell.Bottom(), gap)
		for _, l := range s {
			placed = append(placed, p.beside(l, cell))
		}
	}
	return placed
}

// spread moves labels, sorted from the top, as little as it takes for them to
// stand gap apart inside an upright range.
func spread(s []partLabel, top, bottom, gap float64) {
	// Labels that would run into each other form a block, which stands where its
	// labels would on average; blocks that meet join.
	type block struct {
		labels []int
		y, h   float64 // of its top, in all
	}
	var blocks []block
	for i, l := range s {
		b := block{labels: []int{i}, y: min(max(l.y-l.high/2, top), max(bottom-l.high, top)), h: l.high}
		for len(blocks) > 0 {
			last := blocks[len(blocks)-1]
			if last.y+last.h+gap <= b.y {
				break
			}
			n, m := float64(len(last.labels)), float64(len(b.labels))
			joined := block{labels: append(last.labels, b.labels...), h: last.h + gap + b.h}
			joined.y = (n*(last.y+last.h/2)+m*(b.y+b.h/2))/(n+m) - joined.h/2
			joined.y = min(max(joined.y, top), max(bottom-joined.h, top))
			b, blocks = joined, blocks[:len(blocks)-1]
		}
		blocks = append(blocks, b)
	}
	for _, b := range blocks {
		y := b.y
		for _, i := range b.labels {
			s[i].y = y + s[i].high/2
			y += s[i].high + gap
		}
	}
}

// beside puts a label as near to the circle as its height on the page lets it.
func (p *partFace) beside(l partLabel, cell Rect) partLabel {
	r := p.Ring + labelStand*p.small
	dy := max(0, math.Abs(l.y-p.Y)-l.high/2)
	dx := 0.0
	if dy < r {
		dx = math.Sqrt(r*r - dy*dy)
	}
	rx, _ := Polar(p.X, p.Y, p.Ring, l.page)
	dx = max(dx, labelStand*p.small, math.Abs(rx-p.X)+labelStand*p.small)
	most := 0.0
	if l.right {
		l.x = p.X + dx
		most = cell.Right() - l.x
	} else {
		l.x = p.X - dx
		most = l.x - cell.X
	}
	for i := range l.lines {
		l.lines[i] = cut(l.lines[i], p.small, l.strong && i == len(l.lines)-1, most+0.01)
	}
	return l
}

// bounds is the rectangle of a placed label.
func (l partLabel) bounds() Rect {
	x := l.x
	if !l.right {
		x -= l.w
	}
	return Rect{x, l.y - l.high/2, l.w, l.high}
}

// drawLabels draws labels and the lines that lead to them.
func (p *partFace) drawLabels(labels []partLabel) {
	for _, l := range labels {
		r := p.Ring
		if l.atArc {
			r = partArcR * p.Ring
		}
		x0, y0 := Polar(p.X, p.Y, r, l.page)
		anchor, x1 := Left, l.x-0.25*p.small
		if !l.right {
			anchor, x1 = Right, l.x+0.25*p.small
		}
		if math.Hypot(x1-x0, l.y-y0) > 0.3*p.small {
			p.d.add(Path{Segs: Line(x0, y0, x1, l.y), Stroke: Faint, Weight: Hair})
		}
		for i, s := range l.lines {
			strong := l.strong && i == len(l.lines)-1
			p.d.add(Text{X: l.x, Y: l.y - l.high/2 + (capHeight/2+1.2*float64(i))*p.small, S: s, Size: p.small,
				Bold: strong, H: anchor, V: Middle, Role: Ink})
		}
	}
}
