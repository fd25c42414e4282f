package figure

import (
	"fmt"
	"math"

	"pinphase.org/pinphase/timing"
)

// What is drawn here is printed to be measured with: a millimetre is a millimetre
// on the paper.

// MM is a millimetre in points.
const MM = 72 / 25.4

// ScaleMark is a place singled out on a degree wheel or tape.
type ScaleMark struct {
	At    timing.Deg // what the pointer reads there
	Label string
	Short string // for want of room; where there is none for that either, the mark stands alone
}

// DegreeWheelInput is a degree wheel. It is drawn as it is seen on its end of the
// crankshaft, at crank angle 0, with the pointer at the top: the number under
// the pointer grows as the engine turns.
type DegreeWheelInput struct {
	View       timing.View
	DiameterMM float64
	HoleMM     float64 // 0: a cross where to drill
	Marks      []ScaleMark

	Heading, Turns string // in the middle: what it is, and which way it turns
	Title, Desc    string
}

// least is how close two ticks may stand, and the numbers' least size, in points.
const (
	leastTick  = 0.55 * MM
	leastType  = 6.0
	tapeHeight = 15 * MM
)

// tickStep is the finest step of a scale on which a degree is perDegree long.
func tickStep(perDegree float64) float64 {
	for _, step := range []float64{0.5, 1, 2, 5} {
		if step*perDegree >= leastTick {
			return step
		}
	}
	return 10
}

// numberStep is the finest step of numbers of a size with some room between them.
func numberStep(perDegree, size float64) float64 {
	for _, step := range []float64{10, 20, 30, 45, 90} {
		if step*perDegree >= width(size, false, "350")+0.6*size {
			return step
		}
	}
	return 180
}

// tick is how long a tick is, over the longest: those of tens, fives, whole and
// half degrees.
func tick(at float64) float64 {
	switch {
	case math.Mod(at, 10) == 0:
		return 1
	case math.Mod(at, 5) == 0:
		return 0.75
	case math.Mod(at, 1) == 0:
		return 0.5
	}
	return 0.3
}

// DegreeWheel draws the wheel; its middle is the drawing's.
func DegreeWheel(in DegreeWheelInput) Drawing {
	r := in.DiameterMM / 2 * MM
	half := r + 0.5 // of the line
	d := Drawing{W: 2 * half, H: 2 * half, Title: in.Title, Desc: in.Desc}
	d.add(Path{Segs: finely(half, half, r), Stroke: Ink, Weight: Hair})
	long := min(9*MM, 0.13*r)
	size := min(max(0.55*long, leastType), 12)
	perDegree := r * math.Pi / 180
	step := tickStep((r - long) / r * perDegree)
	page := func(at float64) float64 { return PageAngle(in.View, timing.Deg(-at)) }
	for i := 0.0; i*step < 360; i++ {
		a := page(i * step)
		x0, y0 := Polar(half, half, r, a)
		x1, y1 := Polar(half, half, r-long*tick(i*step), a)
		d.add(Path{Segs: Line(x0, y0, x1, y1), Stroke: Ink, Weight: Hair})
	}
	inner := r - long - 0.8*size
	numbers := numberStep(inner*math.Pi/180, size)
	for at := 0.0; at < 360; at += numbers {
		x, y := Polar(half, half, inner, page(at))
		d.add(Text{X: x, Y: y, S: fmt.Sprint(at), Size: size, Bold: true, H: Centre, V: Middle, Turn: page(at), Role: Ink})
	}
	in.marks(&d, half, inner-1.1*size, size, page)
	in.middle(&d, half, size)
	return d
}

// marks point from inside at the firing dead centres.
func (in DegreeWheelInput) marks(d *Drawing, half, r, size float64, page func(float64) float64) {
	for _, m := range in.Marks {
		a := page(float64(m.At))
		x, y := Polar(half, half, r, a)
		d.add(Marker{X: x, Y: y, Size: 0.9 * size, Kind: Arrowhead, Turn: a, Role: Ink})
		x, y = Polar(half, half, r-1.9*size, a)
		w := width(size, false, m.Label)
		if w < 1.1*(r-1.9*size)*math.Sin(math.Pi/9) { // it stands along the rim where there is room
			d.add(Text{X: x, Y: y, S: m.Label, Size: size, H: Centre, V: Middle, Turn: a, Role: Ink})
			continue
		}
		h, turn := Right, a-90 // else along the radius, ending below the mark, never upside down
		if math.Sin(a*math.Pi/180) < 0 {
			h, turn = Left, a+90
		}
		x, y = Polar(half, half, r-1.2*size, a)
		d.add(Text{X: x, Y: y, S: cut(m.Label, size, false, 0.6*r), Size: size, H: h, V: Middle, Turn: turn, Role: Ink})
	}
}

// middle is the hole with its cross, what the wheel is, and which way it turns.
func (in DegreeWheelInput) middle(d *Drawing, half, size float64) {
	r := in.DiameterMM / 2 * MM
	hole := in.HoleMM / 2 * MM
	arm := max(hole+1.5*MM, 4*MM)
	d.add(Path{Segs: Line(half-arm, half, half+arm, half), Stroke: Ink, Weight: Hair}, Path{Segs: Line(half, half-arm, half, half+arm), Stroke: Ink, Weight: Hair})
	if hole > 0 {
		d.add(Path{Segs: finely(half, half, hole), Stroke: Ink, Weight: Hair})
	}
	room := 1.1 * (r - 6*size - hole)
	if room < 8*size {
		return // the words stand beside the wheel
	}
	y := half + arm + 1.2*size
	for _, t := range []struct {
		s    string
		bold bool
	}{{in.Heading, true}, {in.Turns, false}} {
		for _, l := range wrap(t.s, size, t.bold, room) {
			if y > half+0.55*r {
				return
			}
			d.add(Text{X: half, Y: y, S: l, Size: size, Bold: t.bold, H: Centre, V: Middle, Role: Ink})
			y += lineHeight * size
		}
	}
}

// finely is a circle in arcs of 15 degrees, which the curves of a PDF follow to a
// ten-millionth of the radius.
func finely(x, y, r float64) []Seg {
	x0, y0 := Polar(x, y, r, 0)
	segs := []Seg{{Op: MoveTo, X: x0, Y: y0}}
	for a := 0.0; a < 360; a += 15 {
		segs = append(segs, Seg{Op: ArcTo, X: x, Y: y, R: r, Start: a, Sweep: 15})
	}
	return append(segs, Seg{Op: CloseTo})
}

// Ruler draws a rule of a length to check a printer with, level or upright, with
// a tick each millimetre and its length in words beside it.
func Ruler(lengthMM, scale float64, upright bool, label string) Drawing {
	const long, size = 6 * MM, 8.0
	l := lengthMM * MM * scale
	d := Drawing{W: l + 2, H: long + 1.6*size + 2, Title: label}
	put := func(x0, y0, x1, y1 float64, w Weight) {
		if upright {
			x0, y0, x1, y1 = y0, x0, y1, x1
		}
		d.add(Path{Segs: Line(x0, y0, x1, y1), Stroke: Ink, Weight: w})
	}
	put(1, 1, 1+l, 1, Fine)
	for i := 0.0; i <= lengthMM; i++ {
		x := 1 + i*MM*scale
		put(x, 1, x, 1+long*tick(i), Hair)
	}
	if upright {
		d.W, d.H = long+1.6*size+2, l+2
		d.add(Text{X: 1 + long + size, Y: 1 + l/2, S: label, Size: size, H: Centre, V: Middle, Turn: 270, Role: Ink})
		return d
	}
	d.add(Text{X: 1 + l/2, Y: 1 + long + size, S: label, Size: size, H: Centre, V: Middle, Role: Ink})
	return d
}
