package figure

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// Part draws the part figure. When the box is small, captions go first,
// then the words of the labels, then the labels.
func Part(in PartInput, box Box) (Drawing, PartLayout) {
	f := partFigure{in: in, box: box, d: Drawing{W: box.W, H: box.H, Title: in.Title, Desc: in.Desc}}
	if f.d.Title == "" {
		f.d.Title = in.Heading
	}
	f.size, f.small = box.typeSize(44, 30)
	f.gather()
	f.measure()
	f.words()
	for i, g := range f.groups {
		f.face(i, g)
	}
	return f.d, f.l
}

// partFigure is a part figure on the way.
type partFigure struct {
	in          PartInput
	box         Box
	d           Drawing
	l           PartLayout
	size, small float64
	margin      float64
	groups      [][]MeasuredPart // the parts of each circle
	cells       []Rect           // the room of each circle, below its name
	showHeading bool
	showNames   bool
	detail      labelDetail
	captions    []string
	captionsAt  Rect
}

// labelDetail is how much the labels say.
type labelDetail int

const (
	fullLabels labelDetail = iota
	valuesOnly
	noLabels
)

// gather puts the parts into circles.
func (f *partFigure) gather() {
	parts := f.in.Parts[:min(len(f.in.Parts), 2)]
	for _, p := range parts {
		p = p.sound()
		if f.in.Overlay && len(f.groups) == 1 {
			if f.in.Feature == DowelFromKeyway && !sameAngle(p.KeywayAt, f.groups[0][0].KeywayAt) {
				f.groups[0][0].KeywayAt, p.KeywayAt = nil, nil // laid on the keyway, they have no throw in common
			}
			f.groups[0] = append(f.groups[0], p)
			continue
		}
		f.groups = append(f.groups, []MeasuredPart{p})
	}
	f.showNames = len(f.groups) > 1
}

func sameAngle(a, b *timing.Deg) bool {
	return a == nil && b == nil || a != nil && b != nil && math.Abs(float64(timing.Difference(*a, *b, timing.Turn))) < 0.005
}

// Radii of the part figure, over that to which the rays reach. Where the throw is
// shown the nose is smaller, so that the crankpin stands clear of it.
const (
	partScaleR = 0.86 // the scale of degrees, and how far intervals reach
	partArcR   = 0.93 // from drawing to measured
	partNoseR  = 0.74
	partDowelR = 0.46
	partHoleR  = 0.07
	partSlotR  = 0.14 // depth of the keyway
	partKeyR   = 0.06 // half its width

	besideThrow = 0.68 // of these, where the throw is shown
	partPinR    = 0.66
)

// labelStand is from the rays' ends to the labels, over the type size.
const labelStand = 0.55

// measure shares the box between circles and words.
func (f *partFigure) measure() {
	in, size, small := f.in, f.size, f.small
	f.margin = 0.9 * size
	line := small * lineHeight
	inner := Rect{f.margin, f.margin, max(f.box.W-2*f.margin, 1), max(f.box.H-2*f.margin, 1)}
	f.showHeading = in.Heading != "" && f.box.H > 12*size
	if f.showHeading {
		inner.Y, inner.H = inner.Y+1.9*size, inner.H-1.9*size
	}
	n := max(len(f.groups), 1)
	layOut := func(detail labelDetail, captions []string) float64 {
		f.detail, f.captions = detail, nil
		area := inner
		across := n == 2 && inner.W > inner.H // side by side, else one above the other
		beside := inner.W > 1.75*inner.H*float64(n)
		room := inner.W
		if beside {
			room = 0.27 * inner.W
		}
		for _, c := range captions {
			f.captions = append(f.captions, wrap(c, small, false, room)...)
		}
		if high := line * float64(len(f.captions)); high > 0 {
			if beside {
				area.W -= room + 2*size
				f.captionsAt = Rect{area.Right() + 2*size, inner.Y + max(0, (inner.H-high)/2), room, high}
				if high > inner.H {
					return 0
				}
				if spare := area.W - 2*(f.ring(area)+f.besides()); n == 1 && spare > 0 { // keep circle and words together
					area.X, area.W = area.X+0.5*spare, area.W-spare
				}
			} else {
				area.H -= high + 0.6*size
				f.captionsAt = Rect{inner.X, area.Bottom() + 0.6*size, room, high}
			}
		}
		f.cells = nil
		for i := range n {
			c := area
			if across {
				c.W = (area.W - size) / 2
				c.X += float64(i) * (c.W + size)
			} else if n == 2 {
				c.H = (area.H - 0.6*size) / 2
				c.Y += float64(i) * (c.H + 0.6*size)
			}
			if f.showNames {
				c.Y, c.H = c.Y+1.6*size, c.H-1.6*size
			}
			f.cells = append(f.cells, c)
		}
		return f.ring(f.cells[0])
	}
	least := 4.6 * small
	for _, try := range []struct {
		detail   labelDetail
		captions []string
	}{{fullLabels, in.Caption}, {fullLabels, nil}, {valuesOnly, in.Caption}, {valuesOnly, nil}, {noLabels, in.Caption}} {
		if layOut(try.detail, try.captions) >= least {
			return
		}
	}
	layOut(noLabels, nil)
}

// ring is the radius of the rays in a cell: labels stand on both sides, for the
// angle may have any value.
func (f *partFigure) ring(cell Rect) float64 {
	_, high := f.widest()
	return max(1, min(cell.W/2-f.besides(), cell.H/2-max(high/2, 0.3*f.small)))
}

// besides is the room beside the rays for labels.
func (f *partFigure) besides() float64 {
	w, _ := f.widest()
	return w + labelStand*f.small
}

// widest is the room for any of the labels.
func (f *partFigure) widest() (w, h float64) {
	for _, g := range f.groups {
		labels := f.labels(PartFace{}, g)
		p := partFace{partFigure: f, parts: g}
		if l, ok := p.arcLabel(); ok {
			labels = append(labels, l)
		}
		for _, l := range labels {
			lw, lh := f.labelSize(l)
			w, h = max(w, lw), max(h, lh)
		}
	}
	return w, h
}

// words draws heading, names and captions.
func (f *partFigure) words() {
	if f.showHeading {
		f.d.add(Text{X: f.margin, Y: f.margin + 0.55*f.size, Size: 1.25 * f.size, Bold: true, V: Middle, Role: Ink,
			S: cut(f.in.Heading, 1.25*f.size, true, f.box.W-2*f.margin)})
	}
	if f.showNames {
		for i, g := range f.groups {
			c := f.cells[i]
			if c.H < 3*f.size {
				continue
			}
			f.d.add(Text{X: c.X + c.W/2, Y: c.Y - f.size, S: cut(g[0].Name, f.size, true, c.W), Size: f.size, Bold: true,
				H: Centre, V: Middle, Role: Ink})
		}
	}
	line := f.small * lineHeight
	for i, s := range f.captions {
		f.d.add(Text{X: f.captionsAt.X, Y: f.captionsAt.Y + (float64(i)+0.5)*line, S: s, Size: f.small, V: Middle, Role: Faint})
	}
}

// face draws one circle with its parts.
func (f *partFigure) face(i int, g []MeasuredPart) {
	cell := f.cells[i]
	k := f.ring(cell)
	face := PartFace{X: cell.X + cell.W/2, Y: cell.Y + cell.H/2, Ring: k, Nose: partNoseR * k, Feature: partDowelR * k, View: f.in.View}
	throw := f.in.Feature == KeywayFromThrow || g[0].KeywayAt != nil
	scale := 1.0
	if throw {
		scale = besideThrow
		face.Nose *= scale
		face.Feature *= scale
	}
	if f.in.Feature == KeywayFromThrow {
		face.Feature = face.Nose - partSlotR*scale*k/2
	} else if g[0].KeywayAt != nil {
		face.Datum = *g[0].KeywayAt
	}
	f.l.Faces = append(f.l.Faces, face)
	p := partFace{partFigure: f, PartFace: face, parts: g, throw: throw, scale: scale, suffix: [...]string{"", " 2"}[i]}
	p.draw(cell)
}
