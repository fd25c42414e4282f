package sheet

import (
	"pinphase.org/pinphase/timing/figure"
)

// The page's measures, in points.
const (
	side     = 48.0 // left and right of the text
	above    = 58.0 // from the paper's top to the text
	below    = 54.0 // from the text to the paper's foot
	headAt   = 36.0 // baseline of the page's head, from the top
	footAt   = 34.0 // baseline of the page's foot, from the bottom
	gap      = 7.0  // between blocks
	indent   = 11.0 // of a list's items
	inset    = 9.0  // inside the lead's frame
	blankGap = 21.0 // from line to line to be written on by hand
)

// face is a way to set text.
type face struct {
	size, lead float64 // lead: from baseline to baseline
	bold       bool
}

var (
	bodyFace  = face{9.5, 13, false}
	leadFace  = face{12.5, 17, true}
	smallFace = face{8.5, 11.5, false}
	cellFace  = face{8.8, 11.6, false}
	boldFace  = face{8.8, 11.6, true}
	edgeFace  = face{8, 10, false} // head and foot of the page
	headFaces = [...]face{1: {19, 24, true}, 2: {12.5, 17, true}, 3: {10, 14, true}}
)

// Pages sets the document on a paper.
func (d Document) Pages(p Paper) []figure.Drawing {
	s := &setter{paper: p, doc: d}
	s.turn()
	for i, b := range d.Blocks {
		var next Block
		if i+1 < len(d.Blocks) {
			next = d.Blocks[i+1]
		}
		s.set(b, next)
	}
	e := edgeWords{line(d.Kind), line(d.Title), line(d.Made)}
	for i := range s.pages {
		s.edges(i, e)
	}
	return s.pages
}

// setter puts blocks onto pages, from the top down.
type setter struct {
	paper Paper
	doc   Document
	pages []figure.Drawing
	y     float64 // where the next block begins
}

func (s *setter) width() float64  { return s.paper.W - 2*side }
func (s *setter) bottom() float64 { return s.paper.H - below }

// turn begins the next page.
func (s *setter) turn() {
	s.pages = append(s.pages, figure.Drawing{W: s.paper.W, H: s.paper.H, Title: s.doc.Title, Desc: s.doc.Kind})
	s.y = above
}

// need begins the next page unless so much room is left on this one; on an empty
// page it never does.
func (s *setter) need(h float64) {
	if s.y > above && s.y+h > s.bottom() {
		s.turn()
	}
}

func (s *setter) draw(shapes ...figure.Shape) {
	p := &s.pages[len(s.pages)-1]
	p.Shapes = append(p.Shapes, shapes...)
}

// text puts one line with its top at y.
func (s *setter) text(x, y float64, f face, words string, h figure.HAnchor) {
	if words != "" {
		s.draw(figure.Text{X: x, Y: y + 0.78*f.lead, S: words, Size: f.size, Bold: f.bold, H: h, Role: figure.Ink})
	}
}

// rule draws a level line across the text.
func (s *setter) rule(y float64, w figure.Weight) {
	s.draw(figure.Path{Segs: figure.Line(side, y, side+s.width(), y), Stroke: figure.Ink, Weight: w})
}

func (s *setter) set(b, next Block) {
	switch b := b.(type) {
	case Heading:
		s.heading(b, next)
	case Paragraph:
		s.paragraph(b)
	case List:
		s.list(b)
	case Pairs:
		s.pairs(b)
	case Table:
		s.table(b)
	case Figure:
		s.figure(b)
	case Blanks:
		s.blanks(b)
	case NewPage:
		if s.y > above {
			s.turn()
		}
	case Group:
		s.group(b)
	case Letterhead:
		s.letterhead(b)
	}
}

// start is how much of a block must stand below its heading.
func (s *setter) start(b Block) float64 {
	switch b := b.(type) {
	case Figure:
		return s.figureHeight(b)
	case Table:
		return s.tableStart(b)
	case Heading:
		return headFaces[b.Level].lead + 2*bodyFace.lead
	case Paragraph:
		if b.Style == Lead {
			return s.leadHeight(b)
		}
	}
	return 3 * bodyFace.lead
}

func (s *setter) heading(h Heading, next Block) {
	f := headFaces[h.Level]
	lines := wrapped(h.Text, f.size, f.bold, s.width())
	if h.Level > 1 && s.y > above {
		s.y += [...]float64{2: 7, 3: 2}[h.Level]
	}
	space := 3.0
	if h.Level == 2 {
		space = 6 // for the rule
	}
	s.need(min(float64(len(lines))*f.lead+space+s.start(next), s.bottom()-above))
	s.lines(lines, side, f)
	if h.Level == 2 {
		s.rule(s.y+1, figure.Fine)
	}
	s.y += space
}

// lines puts lines below each other, on as many pages as they take, and never a
// single one of several alone.
func (s *setter) lines(list []string, x float64, f face) {
	for i, words := range list {
		h := f.lead
		if left := len(list) - i; i == 0 && left > 1 || left == 2 && i > 1 {
			h *= 2
		}
		s.need(h)
		s.text(x, s.y, f, words, figure.Left)
		s.y += f.lead
	}
}

func (s *setter) paragraph(p Paragraph) {
	f := bodyFace
	switch p.Style {
	case Lead:
		s.lead(p)
		return
	case Small:
		f = smallFace
	}
	s.lines(wrapped(p.Text, f.size, f.bold, s.width()), side, f)
	s.y += gap
}

func (s *setter) leadHeight(p Paragraph) float64 {
	return float64(len(s.leadLines(p)))*leadFace.lead + 2*inset
}

func (s *setter) leadLines(p Paragraph) []string {
	return wrapped(p.Text, leadFace.size, leadFace.bold, s.width()-2*inset)
}

// lead sets a paragraph in a frame, on one page.
func (s *setter) lead(p Paragraph) {
	h := s.leadHeight(p)
	s.need(h)
	s.draw(figure.Path{Segs: figure.Rectangle(figure.Rect{X: side, Y: s.y, W: s.width(), H: h}), Fill: figure.Band, Stroke: figure.Ink, Weight: figure.Medium})
	y := s.y + inset
	for _, l := range s.leadLines(p) {
		s.text(side+inset, y, leadFace, l, figure.Left)
		y += leadFace.lead
	}
	s.y += h + gap + 3
}

func (s *setter) list(l List) {
	for _, item := range l.Items {
		lines := wrapped(item, bodyFace.size, bodyFace.bold, s.width()-indent)
		s.need(min(float64(len(lines)), 2) * bodyFace.lead)
		s.text(side+1, s.y, bodyFace, "•", figure.Left)
		s.lines(lines, side+indent, bodyFace)
		s.y += 1.5
	}
	s.y += gap - 1.5
}

func (s *setter) captionLines(f Figure) []string {
	if f.Caption == "" {
		return nil
	}
	return wrapped(f.Caption, smallFace.size, smallFace.bold, s.width())
}

// scale is by how much a figure is made smaller to go onto a page with its line.
func (s *setter) scale(f Figure) float64 {
	if f.True {
		return 1
	}
	room := s.bottom() - above - float64(len(s.captionLines(f)))*smallFace.lead - gap
	return min(1, s.width()/f.Drawing.W, room/f.Drawing.H)
}

func (s *setter) figureHeight(f Figure) float64 {
	return f.Drawing.H*s.scale(f) + 3 + float64(len(s.captionLines(f)))*smallFace.lead
}

// figure puts a drawing in the middle, its line below it, both on one page.
func (s *setter) figure(f Figure) {
	s.need(s.figureHeight(f))
	k := s.scale(f)
	d := f.Drawing
	if k < 1 {
		d = d.Scaled(k)
	}
	x := side + (s.width()-d.W)/2
	if f.True && d.W <= s.width() {
		x = side
	}
	s.pages[len(s.pages)-1].Place(d, x, s.y)
	s.y += d.H + 3
	for _, l := range s.captionLines(f) {
		s.text(side, s.y, smallFace, l, figure.Left)
		s.y += smallFace.lead
	}
	s.y += gap
}

// blanks are set two beside each other.
func (s *setter) blanks(b Blanks) {
	const between = 16.0
	w := (s.width() - between) / 2
	if len(b.Names) == 1 {
		w = s.width()
	}
	for i := 0; i < len(b.Names); i += 2 {
		lines := [2][]string{}
		most := 1
		for c := range 2 {
			if i+c < len(b.Names) {
				lines[c] = wrapped(b.Names[i+c], cellFace.size, false, 0.55*w)
				most = max(most, len(lines[c]))
			}
		}
		h := blankGap + float64(most-1)*cellFace.lead
		s.need(h)
		base := s.y + h - 5
		for c, names := range lines {
			if names == nil {
				continue
			}
			x, wide := side+float64(c)*(w+between), 0.0
			for k, n := range names {
				s.text(x, base-0.78*cellFace.lead-float64(len(names)-1-k)*cellFace.lead, cellFace, n, figure.Left)
				wide = max(wide, width(n, cellFace.size, false))
			}
			s.draw(figure.Path{Segs: figure.Line(x+wide+5, base+1, x+w, base+1), Stroke: figure.Ink, Weight: figure.Hair})
		}
		s.y += h
	}
	s.y += gap
}

// edgeWords are what stands at the head and foot of every page.
type edgeWords struct{ kind, title, made string }

// edges draws head and foot of a page.
func (s *setter) edges(i int, e edgeWords) {
	page := &s.pages[i]
	right := side + s.width()
	put := func(x, y float64, words string, h figure.HAnchor) {
		page.Shapes = append(page.Shapes, figure.Text{X: x, Y: y, S: words, Size: edgeFace.size, H: h, Role: figure.Ink})
	}
	across := func(y float64) {
		page.Shapes = append(page.Shapes, figure.Path{Segs: figure.Line(side, y, right, y), Stroke: figure.Ink, Weight: figure.Hair})
	}
	kind := figure.Cut(e.kind, edgeFace.size, false, s.width()/2)
	put(right, headAt, kind, figure.Right)
	if i > 0 { // the first page has the title in large
		put(side, headAt, figure.Cut(e.title, edgeFace.size, false, s.width()-width(kind, edgeFace.size, false)-20), figure.Left)
	}
	across(headAt + 5)
	foot := s.paper.H - footAt
	across(foot - 11)
	number := s.doc.page(i+1, len(s.pages))
	put(right, foot, number, figure.Right)
	put(side, foot, figure.Cut(e.made, edgeFace.size, false, s.width()-width(number, edgeFace.size, false)-20), figure.Left)
}
