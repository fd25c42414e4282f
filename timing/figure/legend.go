package figure

// legendItem is a sample and its words.
type legendItem struct {
	text string
	draw func(r Rect) []Shape // the sample, inside r
}

// legend collects items; one without words is left out.
type legend []legendItem

func (l *legend) add(text string, draw func(Rect) []Shape) {
	if text != "" {
		*l = append(*l, legendItem{text, draw})
	}
}

// Sample sizes over the type size.
const (
	sampleW  = 1.9
	sampleH  = 0.95
	afterW   = 0.45 // from sample to words
	betweenW = 1.6  // from words to the next sample
)

func (i legendItem) width(size float64) float64 {
	return size*(sampleW+afterW) + width(size, false, i.text)
}

// fold breaks an item whose words are too wide into items for lines of their own,
// of which only the first has the sample.
func (i legendItem) fold(size, most float64) []legendItem {
	var parts []legendItem
	for n, words := range wrap(i.text, size, false, most-size*(sampleW+afterW)) {
		part := legendItem{words, i.draw}
		if n > 0 {
			part.draw = func(Rect) []Shape { return nil }
		}
		parts = append(parts, part)
	}
	return parts
}

// column gives each item of the legend its line, or lines where it is wider than
// most.
func (l legend) column(size, most float64) []legend {
	var lines []legend
	for _, it := range l {
		for _, part := range it.fold(size, most) {
			lines = append(lines, legend{part})
		}
	}
	return lines
}

// flow breaks the legend into lines no wider than most.
func (l legend) flow(size, most float64) []legend {
	var lines []legend
	var line legend
	used := 0.0
	for _, it := range l {
		parts := it.fold(size, most)
		if len(parts) == 0 {
			continue
		}
		w := it.width(size)
		if len(line) > 0 && used+w > most {
			lines = append(lines, line)
			line, used = nil, 0
		}
		if len(parts) > 1 {
			lines = append(lines, legend{it}.column(size, most)...)
			continue
		}
		line = append(line, it)
		used += w + size*betweenW
	}
	if len(line) > 0 {
		lines = append(lines, line)
	}
	return lines
}

// put draws an item with its left end at x, its middle at y.
func (i legendItem) put(d *Drawing, x, y, size float64) {
	d.add(i.draw(Rect{x, y - size*sampleH/2, size * sampleW, size * sampleH})...)
	d.add(Text{X: x + size*(sampleW+afterW), Y: y, S: i.text, Size: size, V: Middle, Role: Ink})
}

// putLine draws a line of the legend from x on, its middle at y.
func (l legend) putLine(d *Drawing, x, y, size float64) {
	for _, it := range l {
		it.put(d, x, y, size)
		x += it.width(size) + size*betweenW
	}
}

// areaSample is a filled box.
func areaSample(fill Role) func(Rect) []Shape {
	return func(r Rect) []Shape {
		return []Shape{Path{Segs: Rectangle(r), Fill: fill, Stroke: Faint, Weight: Hair}}
	}
}

// markSample is a marker in the middle.
func markSample(m Marker) func(Rect) []Shape {
	return func(r Rect) []Shape {
		m := m
		m.X, m.Y = r.X+r.W/2, r.Y+r.H/2
		if m.Size == 0 {
			m.Size = r.H * 0.9
		}
		return []Shape{m}
	}
}
