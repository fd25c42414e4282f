package figure

import (
	"fmt"
	"math"
	"slices"

	"pinphase.org/pinphase/timing"
)

// TapeInput is a timing tape to be laid round a damper or flywheel, its lower edge
// towards the end it is seen from. With a fixed pointer the number grows as the
// engine turns.
//
// Who looks down on the rim from above, with that end of the crankshaft at the
// foot of what they see, sees the rim move to the right where the engine turns
// clockwise; so the number that comes next stands further left.
type TapeInput struct {
	View       timing.View
	DiameterMM float64
	Marks      []ScaleMark
	Edge       string // along the lower edge: towards which end it goes
	Join       string // on the tab behind a strip's end
	Title      string
}

// length is the tape's, in points: once round the rim.
func (in TapeInput) length() float64 { return math.Pi * in.DiameterMM * MM }

// tab is how far a strip goes on behind its end, to be pasted under the next.
const tab = 12 * MM

// Strips cuts the tape into pieces that go onto paper so wide, all covering the same
// whole number of degrees but perhaps the last, from the left of the tape to its
// right. Where a piece ends is rounded to what a PDF can say, a hundredth of a
// point, along the whole tape and not piece by piece, so that nothing adds up.
func (in TapeInput) Strips(most float64) []Drawing {
	perDegree := in.length() / 360
	each := math.Floor((most - tab - 2) / perDegree)
	n := 1.0
	if each < 360 {
		each = max(1, each)
		n = math.Ceil(360 / each)
		each = math.Ceil(360 / n) // none much shorter than the others
	}
	var list []Drawing
	for i := range int(n) {
		from, to := float64(i)*min(each, 360), min(float64(i+1)*each, 360)
		if from < to {
			list = append(list, in.strip(from, to, fmt.Sprintf("%d / %d", i+1, int(n))))
		}
	}
	return list
}

// reads is what the pointer reads at a place of the tape, in degrees from its
// left end; 0 and 360 are the same place.
func (in TapeInput) reads(along float64) float64 {
	if PageAngle(in.View, 1) > 0 { // the rim moves to the right
		return 360 - along
	}
	return along
}

// strip draws a piece of the tape, given in degrees from its left end.
func (in TapeInput) strip(from, to float64, number string) Drawing {
	perDegree := in.length() / 360
	origin := math.Round(from*perDegree*100) / 100
	x := func(along float64) float64 { return 1 + along*perDegree - origin }
	end := x(to)
	d := Drawing{W: end + tab + 1, H: tapeHeight + 2, Title: in.Title}
	foot := 1 + tapeHeight
	d.add(Path{Segs: Line(1, foot, end, foot), Stroke: Ink, Weight: Fine},
		Path{Segs: Line(1, 1, end, 1), Stroke: Ink, Weight: Hair},
		Path{Segs: Line(1, 1, 1, foot), Stroke: Ink, Weight: Hair},
		Path{Segs: Line(end, 1, end, foot), Stroke: Ghost, Weight: Hair},
		Path{Segs: []Seg{{Op: MoveTo, X: end, Y: 1}, {Op: LineTo, X: end + tab, Y: 1}, {Op: LineTo, X: end + tab, Y: foot}, {Op: LineTo, X: end, Y: foot}}, Stroke: Ghost, Weight: Hair})
	in.scale(&d, from, to, x, foot)
	const small = 6.0
	for i, l := range append(wrap(in.Join, small, false, tab-2), number) {
		d.add(Text{X: end + tab/2, Y: 8 + float64(i)*lineHeight*small, S: l, Size: small, H: Centre, V: Middle, Role: Ink})
	}
	in.edge(&d, end, 1+0.85*small, small)
	return d
}

// edge writes along the upper side, where nothing else is, towards which end the
// lower one goes.
func (in TapeInput) edge(d *Drawing, end, y, size float64) {
	w := width(size, false, in.Edge)
	for x := 4.0; x+w < end-2; x += 4 {
		t := Text{X: x, Y: y, S: in.Edge, Size: size, V: Middle, Role: Ink}
		free := true
		for _, s := range d.Shapes {
			if _, line := s.(Path); !line && t.Bounds().Grown(2).Meets(s.Bounds()) {
				free = false
			}
		}
		if free {
			d.add(t)
			return
		}
	}
}

// scale draws the ticks from the lower edge up, the numbers above them, and the
// marks.
func (in TapeInput) scale(d *Drawing, from, to float64, x func(float64) float64, foot float64) {
	const long = 5 * MM
	perDegree := in.length() / 360
	step := tickStep(perDegree)
	size := min(max(0.16*10*perDegree, leastType), 9)
	numbers := numberStep(perDegree, size)
	for along := math.Ceil(from/step) * step; along <= to; along += step {
		at := math.Mod(in.reads(along), 360)
		d.add(Path{Segs: Line(x(along), foot, x(along), foot-long*tick(at)), Stroke: Ink, Weight: Hair})
		if math.Mod(at, numbers) != 0 {
			continue
		}
		t := Text{X: x(along), Y: foot - long - 0.75*size, S: fmt.Sprint(at), Size: size, Bold: true, H: Centre, V: Middle, Role: Ink}
		switch along { // whole on either side of a cut
		case from:
			t.X, t.H = t.X+1, Left
		case to:
			t.X, t.H = t.X-1, Right
		}
		d.add(t)
	}
	in.fires(d, from, to, x, foot-long-1.55*size, size)
}

// fires draws the marks above the numbers, their labels where there is room.
func (in TapeInput) fires(d *Drawing, from, to float64, x func(float64) float64, y, size float64) {
	taken := []Rect{}
	for _, m := range in.Marks {
		for _, along := range []float64{in.reads(float64(m.At)), in.reads(float64(m.At)) - 360, in.reads(float64(m.At)) + 360} {
			if along < from || along > to {
				continue
			}
			d.add(Marker{X: x(along), Y: y - 0.4*size, Size: 0.75 * size, Kind: TriangleDown, Role: Ink})
			for _, label := range []string{m.Label, m.Short} {
				w := width(size, false, label)
				t := Text{X: min(max(x(along), 1+w/2), x(to)-w/2), Y: y - 1.3*size, S: label, Size: size, H: Centre, V: Middle, Role: Ink}
				box := t.Bounds().Grown(0.15 * size)
				if w < x(to) && in.clear(x, m.At, w) && !slices.ContainsFunc(taken, box.Meets) {
					d.add(t)
					taken = append(taken, box)
					break
				}
			}
		}
	}
}

// clear tells whether a label so wide stays on its own side of the half way to the
// marks beside it.
func (in TapeInput) clear(x func(float64) float64, at timing.Deg, w float64) bool {
	for _, m := range in.Marks {
		if apart := math.Abs(float64(timing.Difference(at, m.At, timing.Turn))); m.At != at && apart*(x(1)-x(0)) < w+1 {
			return false
		}
	}
	return true
}
