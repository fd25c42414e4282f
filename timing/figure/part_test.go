package figure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// partBox is a box from a tile of the window to a whole screen.
func partBox(t *rapid.T) Box {
	return Box{W: rapid.Float64Range(260, 1400).Draw(t, "w"), H: rapid.Float64Range(200, 800).Draw(t, "h"),
		Type: rapid.SampledFrom([]float64{0, 1, 1.5}).Draw(t, "type")}
}

func anyPart(t *rapid.T) PartInput {
	angle := func(name string) timing.Deg {
		if rapid.Bool().Draw(t, name+" near") { // where labels crowd
			return timing.Deg(rapid.SampledFrom([]float64{0, 0, 0.1, 5, -5, 14, 90, -90, 179, -179, 180}).Draw(t, name))
		}
		return timing.Deg(rapid.Float64Range(-180, 180).Draw(t, name))
	}
	in := twoParts(angle("drawing"), angle("measured"), angle("old"))
	in.Overlay = rapid.Bool().Draw(t, "overlay")
	in.Feature = rapid.SampledFrom([]PartFeature{DowelFromKeyway, KeywayFromThrow}).Draw(t, "feature")
	in.View.From = rapid.SampledFrom([]timing.End{timing.Nose, timing.Flywheel}).Draw(t, "from")
	in.View.Rotation = rapid.SampledFrom([]timing.Sense{timing.Clockwise, timing.Anticlockwise}).Draw(t, "rotation")
	if rapid.Bool().Draw(t, "one part") {
		in.Parts = in.Parts[:1]
	}
	u := timing.Deg(rapid.SampledFrom([]float64{0, 0.01, 0.5, 8, 100, 300}).Draw(t, "u"))
	for i := range in.Parts {
		p := &in.Parts[i]
		p.Interval = &[2]timing.Deg{*p.Measured - u, *p.Measured + u}
		if rapid.Bool().Draw(t, "keyway known") {
			p.KeywayAt = deg(angle("keyway"))
		}
		switch rapid.IntRange(0, 5).Draw(t, "left out") {
		case 0:
			p.Drawing = nil
		case 1:
			p.Measured = nil
		}
	}
	return in
}

// No text leaves the box, runs into another or is cut, and no shape leaves the
// box.
func TestPartTextsFit(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := partBox(t)
		d, _ := Part(anyPart(t), box)
		checkTexts(t, d, box)
		for _, s := range d.Shapes {
			if b := s.Bounds(); b.X < -0.5 || b.Y < -0.5 || b.Right() > box.W+0.5 || b.Bottom() > box.H+0.5 {
				t.Errorf("%v leaves the box of %g by %g", s, box.W, box.H)
			}
			if txt, ok := s.(Text); ok && strings.Contains(txt.S, "…") {
				t.Errorf("%v is cut off", txt)
			}
		}
	})
}

// In a box of usual size every angle has its label, word and value.
func TestPartLabelsAreThere(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := anyPart(t)
		in.Parts = in.Parts[:1]
		d, _ := Part(in, Box{W: rapid.Float64Range(420, 1400).Draw(t, "w"), H: rapid.Float64Range(340, 800).Draw(t, "h")})
		have := map[string]bool{}
		for _, s := range d.Shapes {
			if txt, ok := s.(Text); ok {
				have[txt.S] = true
			}
		}
		p := in.Parts[0]
		want := []string{}
		if p.Measured != nil {
			want = append(want, p.MeasuredTag.Word, p.MeasuredTag.Value)
		}
		if p.Drawing != nil {
			want = append(want, p.DrawingTag.Word, p.DrawingTag.Value)
		}
		if p.Drawing != nil && p.Measured != nil {
			want = append(want, p.ErrorTag.Value)
		}
		for _, w := range want {
			if !have[w] {
				t.Errorf("there is no %q", w)
			}
		}
	})
}

// The band spans its interval and nothing else, on the side the view says.
func TestPartBandSpansTheInterval(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := anyPart(t)
		d, l := Part(in, partBox(t))
		for i, part := range in.Parts {
			if part.Measured == nil || part.Interval == nil {
				continue
			}
			face := l.Faces[min(i, len(l.Faces)-1)]
			lo, hi := part.Interval[0], min(part.Interval[1], part.Interval[0]+360)
			found := false
			for _, s := range d.Shapes {
				p, ok := s.(Path)
				role := p.Fill
				if in.Overlay && i > 0 {
					role = p.Stroke
				}
				if !ok || len(p.Segs) != 4 || p.Segs[1].X != face.X || p.Segs[1].Y != face.Y ||
					role != Interval && (role != Compared || p.Fill != None) || p.Segs[3].Op != CloseTo {
					continue
				}
				inner, outer := p.Segs[1], p.Segs[2]
				start, end := timing.Deg(PageAngle(in.View, timing.Deg(inner.Start)))-face.Datum, timing.Deg(PageAngle(in.View, timing.Deg(inner.Start+inner.Sweep)))-face.Datum
				if near(start, lo) && math.Abs(float64(end-start-(hi-lo))) < 1e-9 && outer.Start == inner.Start+inner.Sweep && outer.Sweep == -inner.Sweep {
					found = true
				}
			}
			if !found {
				t.Errorf("part %d: no band from %v to %v", i, lo, hi)
			}
		}
	})
}

// What is drawn is looked at, not only what the layout says: from either end and
// for either rotation.
func TestPartSidesOnThePage(t *testing.T) {
	t.Parallel()
	rows := []struct {
		name  string
		view  timing.View
		right float64 // sign of x of an angle with rotation
	}{
		{"clockwise, nose", timing.View{}, 1},
		{"clockwise, flywheel", timing.View{From: timing.Flywheel}, -1},
		{"anticlockwise, nose", timing.View{Rotation: timing.Anticlockwise}, -1},
		{"anticlockwise, flywheel", timing.View{From: timing.Flywheel, Rotation: timing.Anticlockwise}, 1},
	}
	for _, r := range rows {
		for _, keyway := range []timing.Deg{0, 45} { // of the keyway from the throw
			in := partInput(12.5, -30, 0.5)
			in.View = r.view
			if keyway != 0 {
				in.Parts[0].KeywayAt = &keyway
			}
			d, l := Part(in, Box{W: 500, H: 500})
			face := l.Faces[0]
			seen := 0
			for _, h := range d.Hits {
				want := map[string]timing.Deg{"dowel drawing": 12.5, "dowel measured": -30, "dowel mirrored": -12.5, "keyway": 0, "throw": -keyway}
				angle, ok := want[h.Name]
				if !ok {
					t.Fatalf("%s: a hit %q", r.name, h.Name)
				}
				seen++
				sin, cos := math.Sincos((angle + keyway).Radians())
				dx, dy := h.X+h.W/2-face.X, h.Y+h.H/2-face.Y
				radius := math.Hypot(dx, dy)
				if math.Abs(dx-r.right*radius*sin) > 1e-6 || math.Abs(dy+radius*cos) > 1e-6 {
					t.Errorf("%s: %s is drawn %.2f right and %.2f down", r.name, h.Name, dx, dy)
				}
			}
			if want := map[bool]int{true: 5, false: 4}[keyway != 0]; seen != want {
				t.Errorf("%s: %d things can be touched, want %d", r.name, seen, want)
			}
		}
	}
}

func TestPartPointAndBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		_, l := Part(anyPart(t), partBox(t))
		for _, f := range l.Faces {
			a := timing.Deg(rapid.Float64Range(-179.9, 180).Draw(t, "angle"))
			x, y := f.Point(f.Feature, a)
			if got := f.Angle(x, y); !near(got, a) {
				t.Errorf("Angle(Point(%v)) = %v", a, got)
			}
		}
	})
}

// A measured dowel on the mirrored place has the hollow ring of the mirrored
// drawing round it; a drawing at 0 or 180 has no mirrored place of its own.
func TestMirroredRing(t *testing.T) {
	t.Parallel()
	count := func(drawing, measured timing.Deg) (rings, around int) {
		d, l := Part(partInput(drawing, measured, 0.3), Box{W: 500, H: 400})
		x, y := l.Faces[0].Point(l.Faces[0].Feature, measured)
		for _, s := range d.Shapes {
			p, ok := s.(Path)
			if ok && p.Fill == None && p.Stroke == Faint && p.Weight == Medium {
				rings++
				if b := p.Bounds(); math.Hypot(b.X+b.W/2-x, b.Y+b.H/2-y) < 0.5 {
					around++
				}
			}
		}
		return rings, around
	}
	for _, r := range []struct {
		drawing, measured timing.Deg
		rings, around     int
	}{{12.5, -12.5, 1, 1}, {12.5, 12.5, 1, 0}, {0, 0, 0, 0}, {180, 180, 0, 0}, {-90, 90, 1, 1}} {
		if rings, around := count(r.drawing, r.measured); rings != r.rings || around != r.around {
			t.Errorf("drawing %v, measured %v: %d rings, %d round the dowel, want %d, %d", r.drawing, r.measured, rings, around, r.rings, r.around)
		}
	}
}

// Parts laid over each other on the keyway share one circle, and parts whose
// keyways lie differently from the throw show no throw.
func TestOverlayOnTheKeyway(t *testing.T) {
	t.Parallel()
	in := twoParts(12.5, -12.6, 12.1)
	in.Overlay = true
	in.Parts[0].KeywayAt, in.Parts[1].KeywayAt = deg(60), deg(63)
	d, l := Part(in, Box{W: 600, H: 400})
	if len(l.Faces) != 1 || l.Faces[0].Datum != 0 {
		t.Fatalf("faces %+v, want one with the keyway at the top", l.Faces)
	}
	at := map[string]timing.Deg{}
	for _, h := range d.Hits {
		at[h.Name] = l.Faces[0].Angle(h.X+h.W/2, h.Y+h.H/2)
	}
	if _, throw := at["throw"]; throw || !near(at["dowel measured"], -12.6) || !near(at["dowel measured 2"], 12.1) {
		t.Errorf("drawn at %v", at)
	}
	in.Parts[1].KeywayAt = deg(60)
	if _, l := Part(in, Box{W: 600, H: 400}); l.Faces[0].Datum != 60 {
		t.Errorf("the keyway both have at 60° is drawn at %v", l.Faces[0].Datum)
	}
}

func TestPartWithoutNumbers(t *testing.T) {
	t.Parallel()
	nan, inf := timing.Deg(math.NaN()), timing.Deg(math.Inf(-1))
	in := partInput(12.5, nan, 1)
	in.Parts[0].KeywayAt = &inf
	in.Parts = append(in.Parts, MeasuredPart{Measured: deg(5), Interval: &[2]timing.Deg{nan, inf}}, MeasuredPart{})
	for _, box := range []Box{{W: 300, H: 200}, {}, {W: -5, H: 3}, {W: 40, H: 900}} {
		d, _ := Part(in, box)
		if strings.Contains(d.String(), "NaN") || strings.Contains(d.String(), "Inf") {
			t.Errorf("what is no number has become a shape in %v", box)
		}
		new(Raster).Render(d, Light(), int(box.W), int(box.H), 1)
	}
	if d, _ := Part(PartInput{Heading: "None"}, Box{W: 300, H: 200}); d.Title != "None" {
		t.Errorf("without a part the title is %q", d.Title)
	}
}

// What lies on the band and on the nose is seen there (WCAG 2.2, 1.4.11), and
// the band itself stands off the nose: by its colour or, on paper, its pattern.
func TestPartContrast(t *testing.T) {
	t.Parallel()
	for _, st := range []Style{Light(), Dark(), Paper()} {
		for _, mark := range []Role{Measured, Ghost, Compared, Ink} {
			for _, ground := range []Role{Interval, Nose, Surface} {
				if c := contrast(st.Color(mark), st.Color(ground)); c < 3 {
					t.Errorf("%s: %v on %v has a contrast of %.1f", st.Name, mark, ground, c)
				}
			}
		}
		for eye, m := range eyes {
			if st.Look(Interval).Hatch == nil && difference(m, st.Color(Interval), st.Color(Nose)) < 12 {
				t.Errorf("%s, %s: the band is lost on the nose", st.Name, eye)
			}
			if st.Name != "paper" && difference(m, st.Color(Measured), st.Color(Compared)) < 30 {
				t.Errorf("%s, %s: the two parts are not told apart", st.Name, eye)
			}
		}
	}
}

// Where does a dowel 14 degrees behind the keyway lie for one who looks at the
// nose of a clockwise engine, and which angle is under the pointer?
func ExamplePart() {
	drawing, measured := timing.Deg(14), timing.Deg(-14)
	in := PartInput{Parts: []MeasuredPart{{Drawing: &drawing, Measured: &measured, Interval: &[2]timing.Deg{-14.5, -13.5}}}}
	_, layout := Part(in, Box{W: 400, H: 300})

	face := layout.Faces[0]
	x, _ := face.Point(face.Feature, measured)
	fmt.Println("left of the keyway:", x < face.X)
	x, y := face.Point(face.Feature, drawing)
	fmt.Printf("where the drawing has it: %.0f°\n", float64(face.Angle(x, y)))
	// Output:
	// left of the keyway: true
	// where the drawing has it: 14°
}
