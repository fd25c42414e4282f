package figure

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// anyEngine draws an engine of 1 to 24 cylinders with any order, even or not.
func anyEngine(t *rapid.T) timing.Scheme {
	n := rapid.IntRange(1, timing.MaxCylinders).Draw(t, "cylinders")
	order := make([]int, n)
	for i := range order {
		order[i] = i + 1
	}
	order = rapid.Permutation(order).Draw(t, "order")
	strokes := rapid.SampledFrom([]int{2, 4}).Draw(t, "strokes")
	var intervals []timing.Deg
	if rapid.Bool().Draw(t, "uneven") {
		weights := rapid.SliceOfN(rapid.IntRange(1, 9), n, n).Draw(t, "weights")
		sum := 0
		for _, w := range weights {
			sum += w
		}
		for _, w := range weights {
			intervals = append(intervals, timing.CycleOf(strokes)*timing.Deg(w)/timing.Deg(sum))
		}
	}
	e, err := timing.NewScheme(strokes, order, intervals)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func anyBox(t *rapid.T) Box {
	return Box{W: rapid.Float64Range(200, 2000).Draw(t, "w"), H: rapid.Float64Range(120, 1500).Draw(t, "h"),
		Type: rapid.SampledFrom([]float64{0, 1, 1.5}).Draw(t, "type")}
}

func anyCycle(t *rapid.T) CycleInput {
	in := cycleInput(anyEngine(t), timing.Deg(rapid.Float64Range(-180, 180).Draw(t, "delta")))
	if rapid.Bool().Draw(t, "cursor") {
		in.Cursor, in.CursorLabel = deg(timing.Deg(rapid.Float64Range(-800, 800).Draw(t, "cursor at"))), "123.4°"
	}
	if rapid.Bool().Draw(t, "no readouts") {
		for i := range in.Rows {
			in.Rows[i].Readout = ""
		}
	}
	if rapid.Bool().Draw(t, "long words") {
		in.Heading += ", a heading that is far too long for most of the boxes it will ever have to stand in, and longer"
		in.Rows[0].Label = Word{"Cylinder at the flywheel end", "fly"}
	}
	return in
}

// inked is the part of a level text that holds its capitals and figures.
func inked(t Text) Rect {
	w, _, _ := MeasureText(t.Size, t.Bold, t.S)
	dx, dy := t.offset()
	return Rect{t.X + dx, t.Y + dy - capHeight*t.Size, w, capHeight * t.Size}
}

// checkTexts fails when a text leaves the box, is smaller than allowed or runs
// into another.
func checkTexts(t *rapid.T, d Drawing, box Box) {
	var all []Text
	for _, s := range d.Shapes {
		txt, ok := s.(Text)
		if !ok || txt.S == "" {
			continue
		}
		b := inked(txt)
		if b.X < -0.01 || b.Y < -0.01 || b.Right() > box.W+0.01 || b.Bottom() > box.H+0.01 {
			t.Errorf("%v leaves the box of %g by %g", txt, box.W, box.H)
		}
		if txt.Size < smallest-1e-9 {
			t.Errorf("%v is too small to read", txt)
		}
		for _, o := range all {
			if b.Grown(-0.05).Meets(inked(o)) {
				t.Errorf("%v\nruns into\n%v", txt, o)
			}
		}
		all = append(all, txt)
	}
}

func TestCycleTextsFit(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := anyBox(t)
		d, _ := Cycle(anyCycle(t), box)
		checkTexts(t, d, box)
	})
}

func TestCycleXAndDegAreInverse(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		_, l := Cycle(anyCycle(t), anyBox(t))
		a := timing.Deg(rapid.Float64Range(0, float64(l.Cycle)).Draw(t, "angle"))
		if got := l.Deg(l.X(a)); math.Abs(float64(got-a)) > 1e-9 {
			t.Errorf("Deg(X(%v)) = %v", a, got)
		}
		if l.X(0) != l.Plot.X || math.Abs(l.X(l.Cycle)-l.Plot.Right()) > 1e-9 {
			t.Errorf("the plot runs from %g to %g, the cycle from %g to %g", l.Plot.X, l.Plot.Right(), l.X(0), l.X(l.Cycle))
		}
	})
}

// Every row is filled with strokes from 0 to the cycle without gap or overlap,
// and each point has the stroke the engine is in.
func TestStrokesCoverEachRowOnce(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := anyCycle(t)
		d, l := Cycle(in, anyBox(t))
		for i, bar := range l.Rows {
			type span struct {
				Rect
				role Role
			}
			var spans []span
			for _, s := range d.Shapes {
				p, ok := s.(Path)
				if ok && p.Fill >= StrokePower && p.Fill <= StrokeCompression && !p.Plain && p.Bounds().Y == bar.Band.Y {
					spans = append(spans, span{p.Bounds(), p.Fill})
				}
			}
			slices.SortFunc(spans, func(a, b span) int { return int(math.Copysign(1, a.X-b.X)) })
			x := l.Plot.X
			for _, s := range spans {
				if math.Abs(s.X-x) > 1e-6 {
					t.Fatalf("row %d: a stroke begins at %g where the last ended at %g", i, s.X, x)
				}
				x = s.Right()
				mid := l.Deg(s.X + s.W/2)
				if want := StrokeRole(in.Engine.StrokeAt(in.Engine.Angle(bar.Cylinder, mid))); s.role != want {
					t.Fatalf("row %d at %v: drawn %v, the engine is in %v", i, mid, s.role, want)
				}
			}
			if math.Abs(x-l.Plot.Right()) > 1e-6 {
				t.Fatalf("row %d: the strokes end at %g, the plot at %g", i, x, l.Plot.Right())
			}
		}
	})
}

// The marks stand where the arithmetic puts them, also over the end of the cycle.
func TestInjectionMarks(t *testing.T) {
	t.Parallel()
	d, l := Cycle(cycleInput(engine(4, []int{1, 5, 3, 6, 2, 4}), -25), Box{W: 900, H: 420})
	at := map[string]float64{}
	for _, h := range d.Hits {
		at[h.Name] = float64(l.Deg(h.X + h.W/2))
	}
	// By hand: cylinder 1 fires at 0, 5 at 120, 6 at 360; 9 BTDC commanded, 25 late.
	for name, want := range map[string]float64{"commanded 1": 711, "actual 1": 16, "commanded 5": 111, "actual 5": 136, "commanded 6": 351, "actual 6": 376} {
		if got, ok := at[name]; !ok || math.Abs(got-want) > 1e-6 {
			t.Errorf("%s is at %g, want %g", name, got, want)
		}
	}
}

func TestHits(t *testing.T) {
	t.Parallel()
	d, l := Cycle(cycleInput(engine(4, []int{1, 3, 4, 2}), -25), Box{W: 900, H: 420})
	for i, want := range []string{"cylinder 1", "cylinder 2", "cylinder 3", "cylinder 4"} {
		r := l.Rows[i].Row
		if h, ok := d.At(l.X(90), r.Y+1); !ok || h.Name != want {
			t.Errorf("the top of row %d at 90° is %q, want %q", i, h.Name, want)
		}
		if n, ok := l.RowAt(r.Y); !ok || n != i {
			t.Errorf("RowAt(%g) = %d, %v", r.Y, n, ok)
		}
	}
	if _, ok := l.RowAt(l.Plot.Bottom()); ok {
		t.Error("below the last row there is a row")
	}
	if _, ok := d.At(1, 1); ok {
		t.Error("the corner of the figure is a hit")
	}
}

// At the size of a small window every one of 24 cylinders still has its label.
func TestManyCylindersKeepTheirLabels(t *testing.T) {
	t.Parallel()
	var order []int
	for i := range 24 {
		order = append(order, i*7%24+1)
	}
	d, _ := Cycle(cycleInput(engine(4, order), -25), Box{W: 1000, H: 720})
	have := map[string]bool{}
	for _, s := range d.Shapes {
		if txt, ok := s.(Text); ok {
			have[txt.S] = true
		}
	}
	for c := 1; c <= 24; c++ {
		if !have[fmt.Sprintf("Cyl %d", c)] {
			t.Errorf("cylinder %d has no label", c)
		}
	}
}
