package figure

import (
	"fmt"
	"math"

	"pinphase.org/pinphase/timing"
)

// DialInput is what the dial figure shows: the face of a degree wheel, its numbers
// growing clockwise from 0 at the top, with two readings and the middle between
// them. Angles are what the wheel says, 0 to 360.
type DialInput struct {
	First, Second timing.Deg
	Middle        *timing.Deg // nil: not shown
	Mark          *timing.Deg // a further reading; nil: there is none
	Falls         bool        // the numbers at the pointer fall as the engine turns forwards

	Heading, Title, Desc string
	Caption              []string
	Words                DialWords
}

// DialWords are the labels, ready for the reader; an empty one is left out.
type DialWords struct {
	First, Second, Middle, Mark string // beside their places
	Forwards                    string // at the arrow
}

// Dial draws the face.
func Dial(in DialInput, box Box) Drawing {
	f := dialFigure{in: in, d: Drawing{W: box.W, H: box.H, Title: in.Title, Desc: in.Desc}}
	if f.d.Title == "" {
		f.d.Title = in.Heading
	}
	if !(box.W > 0 && box.H > 0) || !isNumber(in.First+in.Second) {
		return f.d
	}
	f.size, f.small = box.typeSize(40, 26)
	f.place(box)
	if f.r < 3*f.small {
		return f.d
	}
	f.face()
	f.between()
	f.reading(in.First, Measured, false, in.Words.First)
	f.reading(in.Second, Measured, false, in.Words.Second)
	if in.Mark != nil {
		f.reading(*in.Mark, Ghost, true, in.Words.Mark)
	}
	if in.Middle != nil {
		f.middle(*in.Middle)
	}
	f.forwards()
	return f.d
}

// Face is where the face lies in a box: its middle and its radius. r is 0 where there is
// no room for one.
func (in DialInput) Face(box Box) (x, y, r float64) {
	f := dialFigure{in: in, d: Drawing{W: box.W, H: box.H}}
	if !(box.W > 0 && box.H > 0) {
		return 0, 0, 0
	}
	f.size, f.small = box.typeSize(40, 26)
	f.place(box)
	return f.x, f.y, max(f.r, 0)
}

type dialFigure struct {
	in          DialInput
	d           Drawing
	size, small float64
	x, y, r     float64 // of the face
	taken       []Rect  // by labels
	box         Rect
}

// place puts the heading at the top, the captions at the bottom and the face
// between them, with room for labels on all sides.
func (f *dialFigure) place(box Box) {
	margin := 0.9 * f.size
	f.box = Rect{margin / 2, margin / 2, box.W - margin, box.H - margin}
	top, bottom := f.box.Y, f.box.Bottom()
	if f.in.Heading != "" && box.H > 14*f.size {
		top += 1.2 * f.size
		f.d.add(Text{X: f.box.X, Y: top, S: cut(f.in.Heading, f.size, true, f.box.W), Size: f.size, Bold: true, Role: Ink})
		top += 0.5 * f.size
	}
	var lines []string
	for _, c := range f.in.Caption {
		lines = append(lines, wrap(c, f.small, false, f.box.W)...)
	}
	if high := float64(len(lines)) * lineHeight * f.small; high < 0.3*box.H {
		for i, line := range lines {
			f.d.add(Text{X: f.box.X, Y: bottom - high + lineHeight*f.small*(float64(i)+0.8), S: line, Size: f.small, Role: Faint})
		}
		bottom -= high
	}
	labels := 0.0
	w := f.in.Words
	for _, s := range []string{w.First, w.Second, w.Middle, w.Mark} {
		labels = max(labels, width(f.size, true, s))
	}
	f.r = min((f.box.W-2*labels)/2-1.4*f.size, (bottom-top)/2-2.4*f.size)
	f.x, f.y = box.W/2, (top+bottom)/2
}

// face draws the ring with its degrees.
func (f *dialFigure) face() {
	f.d.add(Path{Segs: Circle(f.x, f.y, f.r), Fill: Nose, Stroke: Ink, Weight: Medium, Plain: true}, Path{Segs: Circle(f.x, f.y, 0.04*f.r), Fill: Faint})
	step, every := 5, 30
	if f.r < 7*f.small {
		step, every = 10, 90
	}
	for a := 0; a < 360; a += step {
		inner, role := 0.965, Faint
		switch {
		case a%30 == 0:
			inner, role = 0.91, Ink
		case a%10 == 0:
			inner, role = 0.94, Ink
		}
		x0, y0 := Polar(f.x, f.y, inner*f.r, float64(a))
		x1, y1 := Polar(f.x, f.y, f.r, float64(a))
		f.d.add(Path{Segs: Line(x0, y0, x1, y1), Stroke: role, Weight: Hair})
		if a%every != 0 {
			continue
		}
		x, y := Polar(f.x, f.y, 0.9*f.r-0.85*f.small, float64(a))
		f.d.add(Text{X: x, Y: y, S: fmt.Sprint(a), Size: f.small, H: Centre, V: Middle, Role: Ink})
	}
}

// between draws the way from one reading to the other with the middle in it.
func (f *dialFigure) between() {
	way := float64(timing.Difference(f.in.First, f.in.Second, timing.Turn))
	f.d.add(arrowArc(f.x, f.y, 0.62*f.r, float64(f.in.First), way, min(0.6*f.size, 0.1*f.r), true, Measured, Medium)...)
}

// reading marks a place on the rim and names it outside.
func (f *dialFigure) reading(at timing.Deg, role Role, hollow bool, name string) {
	x, y := Polar(f.x, f.y, 0.55*f.r, float64(at))
	x1, y1 := Polar(f.x, f.y, f.r, float64(at))
	f.d.add(Path{Segs: Line(x, y, x1, y1), Stroke: role, Weight: Medium})
	px, py := Polar(f.x, f.y, f.r+0.45*f.size, float64(at))
	f.d.add(Marker{X: px, Y: py, Size: 0.8 * f.size, Kind: TriangleDown, Hollow: hollow, Turn: float64(at), Role: role})
	f.label(at, name, false)
}

// middle marks where the readings' middle lies.
func (f *dialFigure) middle(at timing.Deg) {
	x, y := Polar(f.x, f.y, f.r, float64(at))
	f.d.add(Path{Segs: Line(f.x, f.y, x, y), Stroke: TDC, Weight: Heavy})
	px, py := Polar(f.x, f.y, f.r+0.55*f.size, float64(at))
	f.d.add(Marker{X: px, Y: py, Size: 0.95 * f.size, Kind: Diamond, Turn: float64(at), Role: TDC})
	f.label(at, f.in.Words.Middle, true)
}

// label writes a name outside the rim, further out or aside where another stands.
func (f *dialFigure) label(at timing.Deg, name string, bold bool) {
	if name == "" {
		return
	}
	for _, out := range []float64{1.5, 2.4, 3.3} {
		for _, aside := range []float64{0, -6, 6, -12, 12} {
			page := float64(at) + aside
			x, y := Polar(f.x, f.y, f.r+out*f.size, page)
			t := Text{X: x, Y: y, S: name, Size: f.size, Bold: bold, V: Middle, H: Centre, Role: Ink}
			switch sin := math.Sin(page * math.Pi / 180); {
			case sin > 0.3:
				t.H = Left
			case sin < -0.3:
				t.H = Right
			}
			b := t.Bounds()
			if b.X < 0 || b.Y < 0 || b.Right() > f.d.W || b.Bottom() > f.d.H || f.meets(b) {
				continue
			}
			f.taken = append(f.taken, b)
			f.d.add(t)
			return
		}
	}
}

func (f *dialFigure) meets(b Rect) bool {
	for _, o := range f.taken {
		if o.Meets(b) {
			return true
		}
	}
	return false
}

// forwards shows which way the pointer goes over the face as the engine turns
// forwards.
func (f *dialFigure) forwards() {
	if f.in.Words.Forwards == "" {
		return
	}
	sweep := 60.0
	if f.in.Falls {
		sweep = -60
	}
	if words := cut(f.in.Words.Forwards, f.small, false, 1.3*f.r); words != "" && f.r > 7*f.small {
		f.d.add(arrowArc(f.x, f.y, 0.4*f.r, -sweep/2, sweep, 0.5*f.size, false, Faint, Medium)...)
		w := width(f.small, false, words) + 0.6*f.small
		at := f.y - 0.4*f.r + 2.3*f.small
		f.d.add(Path{Segs: Rectangle(Rect{f.x - w/2, at - 0.75*f.small, w, 1.5 * f.small}), Fill: Nose, Plain: true},
			Text{X: f.x, Y: at, S: words, Size: f.small, H: Centre, V: Middle, Role: Faint})
	}
}
