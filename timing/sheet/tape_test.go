package sheet

import (
	"math"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

// The strips of a tape are together pi times the diameter long, to a hundredth of
// a millimetre, and go onto the paper.
func TestTapeIsTrueToScale(t *testing.T) {
	for _, p := range Papers {
		for _, c := range []struct {
			diameter float64
			strips   int
		}{{180, 4}, {20, 1}, {50.8, 1}, {412.3, 8}, {1999.9, 40}} {
			in := Scale{DiameterMM: c.diameter}
			if c.diameter == 412.3 {
				in.RulerMM = 150.6
			}
			factor := in.factor()
			pages := pagesOf(t, pdfOf(t, Tape, in, p))
			rulersAreTrue(t, pages[0], factor)
			sum, n := 0.0, 0
			for i, page := range pages {
				seen := map[float64]float64{} // the lower edge of each strip, by height
				for _, l := range page.lines {
					if l[1] != l[3] || math.Abs(l[0]-(side+1)*25.4/72) > 0.01 || l[2]-l[0] < 1 {
						continue
					}
					seen[l[1]] = l[2] - l[0]
					if l[2]*72/25.4 > p.W-side {
						t.Errorf("%g mm on %s: a strip reaches beside the text", c.diameter, p.Name)
					}
				}
				for y, long := range seen {
					if _, lower := seen[lowerEdge(seen, y)]; lower && math.Abs(long-150*factor) > 0.02 {
						sum += long
						n++
					}
				}
				_ = i
			}
			want := math.Pi * c.diameter * factor
			if math.Abs(sum-want) > hundredth {
				t.Errorf("%g mm on %s: %d strips are %.4f mm long, want %.4f", c.diameter, p.Name, n, sum, want)
			}
			if p == A4 && n != c.strips {
				t.Errorf("%g mm: %d strips, want %d", c.diameter, n, c.strips)
			}
		}
	}
}

// lowerEdge is where the lower edge of a strip lies whose upper one is at a
// height: a strip is 15 mm high. NaN where there is none, so that each strip
// counts once.
func lowerEdge(seen map[float64]float64, y float64) float64 {
	for other := range seen {
		if math.Abs(y-other-15) < 0.01 {
			return other
		}
	}
	return math.NaN()
}

// On the rim, worked out in space: a point of the tape is where the rim has come
// to, and the number under a fixed pointer grows with the crank.
func TestTapeReadsWithTheEngine(t *testing.T) {
	for _, v := range []timing.View{{From: timing.Nose, Rotation: timing.Clockwise}, {From: timing.Nose, Rotation: timing.Anticlockwise},
		{From: timing.Flywheel, Rotation: timing.Clockwise}, {From: timing.Flywheel, Rotation: timing.Anticlockwise}} {
		// The shaft lies along y, the nose at −y. Seen from the nose, looking along +y
		// with z up and x to the right, clockwise takes the top to the right: +x.
		movesToX := 1.0
		if v.Rotation == timing.Anticlockwise {
			movesToX = -1
		}
		// Who looks down on the top with their own end at the foot of the view has x to
		// the right from the nose, to the left from the flywheel.
		right := 1.0
		if v.From == timing.Flywheel {
			right = -1
		}
		// A degree later the place that was a degree further back is under the pointer.
		nextLies := -movesToX * right
		in := figure.TapeInput{View: v, DiameterMM: 100}
		at := map[string]float64{}
		for _, s := range in.Strips(2000)[0].Shapes {
			if text, ok := s.(figure.Text); ok {
				at[text.S] = text.X
			}
		}
		if got := at["110"] - at["100"]; math.Abs(got) < 10 || got*nextLies < 0 {
			t.Errorf("seen from the %v, turning %v: 110 lies %g to the right of 100, want the other way", v.From, v.Rotation, got)
		}
	}
}
