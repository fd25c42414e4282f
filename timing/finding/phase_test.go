package finding

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

func phase(t testing.TB, j job.Job, at timing.Deg) Phase {
	t.Helper()
	p, err := PhaseAt(j, at)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Heywood, Internal Combustion Engine Fundamentals, 1988, sec. 2.2: the piston's
// drop from the slider-crank equation, for rod/throw = 4 on a stroke of 100 mm
// (the figures of x/stroke), and for a throw of 55 and a rod of 180 mm.
func TestPistonHeights(t *testing.T) {
	engine := "[engine]\nstrokes = 4\nfiring_order = [1]\nbore_mm = 90\n"
	for _, c := range []struct {
		linkage string
		at      timing.Deg
		want    float64
	}{
		{"stroke_mm = 100\nrod_mm = 200", 0, 0},
		{"stroke_mm = 100\nrod_mm = 200", 15, 2.12281843117},
		{"stroke_mm = 100\nrod_mm = 200", 30, 8.26738148093},
		{"stroke_mm = 100\nrod_mm = 200", 60, 29.7437581023},
		{"stroke_mm = 100\nrod_mm = 200", -90, 56.3508326896},
		{"stroke_mm = 100\nrod_mm = 200", 120, 79.7437581023},
		{"stroke_mm = 100\nrod_mm = 200", 150 - 720, 94.8699218594},
		{"stroke_mm = 100\nrod_mm = 200", 180, 100},
		{"stroke_mm = 100\nrod_mm = 200", 360, 0},
		{"stroke_mm = 110\nrod_mm = 180", 5, 0.273131463556},
		{"stroke_mm = 110\nrod_mm = 180", -10, 1.08912691865},
		{"stroke_mm = 110\nrod_mm = 180", 45, 20.3607273265},
		// An offset pin, a published examination item (throw 30, rod 50, offset 10,
		// answer 62.05): the stroke, at the piston's real bottom dead centre.
		{"stroke_mm = 60\nrod_mm = 50\npin_offset_mm = 10", 202.8192442, 62.05203126},
		{"stroke_mm = 60\nrod_mm = 50\npin_offset_mm = 10", 0, 0},
	} {
		p := phase(t, sample.Read(t, engine+c.linkage), c.at).Cylinders[0]
		if p.PistonMM == nil || !near(*p.PistonMM, c.want, 1e-8) {
			t.Errorf("%s at %g: piston at %v, want %.12g", strings.ReplaceAll(c.linkage, "\n", ", "), float64(c.at), p.PistonMM, c.want)
		}
	}
}

// Firing orders and companions (360 degrees apart in the cycle) from general
// published lists; the in-line eight's order is from memory. Firing angles follow
// from even firing.
func TestFiringAndCompanions(t *testing.T) {
	for _, c := range []struct{ order, companions, firesAt string }{
		{"1, 3, 4, 2", "4 3 2 1", "0 540 180 360"},
		{"1, 5, 3, 6, 2, 4", "6 5 4 3 2 1", "0 480 240 600 120 360"},
		{"1, 2, 4, 5, 3", "- - - - -", "0 144 576 288 432"},
		{"1, 6, 2, 5, 8, 3, 7, 4", "8 7 6 5 4 3 2 1", "0 180 450 630 270 90 540 360"},
		{"1, 8, 4, 3, 6, 5, 7, 2", "6 3 2 7 8 1 4 5", ""},
		{"1, 10, 9, 4, 3, 6, 5, 8, 7, 2", "6 3 2 7 10 1 4 9 8 5", ""},
		{"1, 7, 5, 11, 3, 9, 6, 12, 2, 8, 4, 10", "6 5 4 3 2 1 12 11 10 9 8 7", ""},
	} {
		p := phase(t, sample.Read(t, "[engine]\nstrokes = 4\nfiring_order = ["+c.order+"]"), 0)
		var companions, firesAt []string
		for i, cylinder := range p.Cylinders {
			if cylinder.Cylinder != i+1 {
				t.Errorf("%s: cylinder %d stands at place %d", c.order, cylinder.Cylinder, i+1)
			}
			word := "-"
			if len(cylinder.Companion) > 0 {
				word = strings.Trim(fmt.Sprint(cylinder.Companion), "[]")
			}
			companions = append(companions, word)
			firesAt = append(firesAt, fmt.Sprint(cylinder.FiresAtDeg))
		}
		if got := strings.Join(companions, " "); got != c.companions {
			t.Errorf("%s: companions %s, want %s", c.order, got, c.companions)
		}
		if got := strings.Join(firesAt, " "); c.firesAt != "" && got != c.firesAt {
			t.Errorf("%s: fires at %s, want %s", c.order, got, c.firesAt)
		}
	}
}

// A 90-degree V6 with common pins fires at 90-150 (geometry of crank and banks);
// none of its dead centres coincide 360 apart.
func TestUnevenEngineHasNoCompanions(t *testing.T) {
	p := phase(t, sample.Read(t, "[engine]\nstrokes = 4\nfiring_order = [1, 6, 5, 4, 3, 2]\nfiring_intervals_deg = [90, 150, 90, 150, 90, 150]"), 0)
	for _, c := range p.Cylinders {
		if c.Companion == nil || len(c.Companion) != 0 {
			t.Errorf("cylinder %d: companions %v, want an empty list", c.Cylinder, c.Companion)
		}
	}
	// The sixteen of two banks 60 apart has them: each bank is an in-line eight.
	v16 := phase(t, sample.File(t, "v16-uneven"), 0)
	for c, want := range map[int][]int{1: {8}, 9: {16}, 14: {11}, 4: {5}} {
		if got := v16.Cylinders[c-1].Companion; !slices.Equal(got, want) {
			t.Errorf("cylinder %d of the sixteen: companions %v, want %v", c, got, want)
		}
	}
}

// What is not in the job is null in the answer, each by itself.
func TestPhaseOfAThinJob(t *testing.T) {
	engine := "[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n"
	for _, c := range []struct {
		name, more              string
		piston, intake, exhaust bool
	}{
		{"engine only", "", false, false, false},
		{"no bore", "stroke_mm = 100\nrod_mm = 200\n", false, false, false},
		{"no rod", "stroke_mm = 100\nbore_mm = 90\n", false, false, false},
		{"no stroke", "rod_mm = 200\nbore_mm = 90\n", false, false, false},
		{"linkage", "stroke_mm = 100\nrod_mm = 200\nbore_mm = 90\n", true, false, false},
		{"half an intake", "valves.intake_opens_btdc_deg = 10\n", false, false, false},
		{"intake", "valves.intake_opens_btdc_deg = 10\nvalves.intake_closes_abdc_deg = 40\n", false, true, false},
		{"exhaust", "valves.exhaust_opens_bbdc_deg = 45\nvalves.exhaust_closes_atdc_deg = 10\n", false, false, true},
	} {
		p := phase(t, sample.Read(t, engine+c.more), 100)
		cylinder := p.Cylinders[0]
		if (cylinder.PistonMM != nil) != c.piston || (cylinder.IntakeOpen != nil) != c.intake || (cylinder.ExhaustOpen != nil) != c.exhaust {
			t.Errorf("%s: %+v", c.name, cylinder)
		}
		if p.Wheel != nil {
			t.Errorf("%s: a crank wheel from nowhere", c.name)
		}
	}
}

// Valve events by hand: intake open from 348 to 578, exhaust from 136 to 370 after
// firing TDC; both open from 348 to 370. Half-open.
func TestValvesOpen(t *testing.T) {
	j := sample.Read(t, "[engine]\nstrokes = 4\nfiring_order = [1]\n[engine.valves]\nintake_opens_btdc_deg = 12\nintake_closes_abdc_deg = 38\n"+
		"exhaust_opens_bbdc_deg = 44\nexhaust_closes_atdc_deg = 10\n")
	for _, c := range []struct {
		at              timing.Deg
		intake, exhaust bool
	}{
		{0, false, false}, {135.9, false, false}, {136, false, true}, {347.9, false, true}, {348, true, true},
		{369.9, true, true}, {370, true, false}, {577.9, true, false}, {578, false, false}, {-143, true, false},
	} {
		p := phase(t, j, c.at).Cylinders[0]
		if *p.IntakeOpen != c.intake || *p.ExhaustOpen != c.exhaust {
			t.Errorf("at %g: intake %v, exhaust %v", float64(c.at), *p.IntakeOpen, *p.ExhaustOpen)
		}
	}
}

// A crank angle is any number of cycles away, and comes back in [0, cycle).
func TestPhaseWraps(t *testing.T) {
	four, two := sample.Read(t, "[engine]\nstrokes = 4\nfiring_order = [1, 2]"), sample.Read(t, "[engine]\nstrokes = 2\nfiring_order = [1, 2]")
	for _, c := range []struct {
		j       job.Job
		at      timing.Deg
		want    float64
		strokes string
	}{
		{j: four, at: -90, want: 630, strokes: "compression exhaust"},
		{j: four, at: 430, want: 430, strokes: "intake power"},
		{j: four, at: 720, want: 0, strokes: "power intake"},
		{j: four, at: 1000, want: 280, strokes: "exhaust compression"},
		{j: four, at: -1e-12, want: 0, strokes: "power intake"},
		{j: four, at: 179.25, want: 179.25, strokes: "power intake"},
		{j: two, at: 360, want: 0, strokes: "power compression"},
		{j: two, at: -90, want: 270, strokes: "compression power"},
		{j: two, at: 720000, want: 0, strokes: "power compression"},
	} {
		p := phase(t, c.j, c.at)
		got := p.Cylinders[0].Stroke + " " + p.Cylinders[1].Stroke
		if p.CrankDeg != c.want || got != c.strokes {
			t.Errorf("at %g of %g: crank at %g, %s; want %g, %s", float64(c.at), p.CycleDeg, p.CrankDeg, got, c.want, c.strokes)
		}
	}
}

// A firing interval far too small to see must not round up to a whole cycle.
func TestAnglesStayInTheCycle(t *testing.T) {
	p := phase(t, sample.Read(t, "[engine]\nstrokes = 4\nfiring_order = [2, 1]\nfiring_intervals_deg = [1e-11, 720]"), 0)
	if got := p.Cylinders[1].FiresAtDeg; got != 0 {
		t.Errorf("cylinder 2 fires at %g, want 0 of [0, 720)", got)
	}
}

// A 36-tooth wheel that is 30 degrees behind shows a tooth three positions
// earlier: teeth are 10 degrees apart (360/36), and on a correct engine
// tooth 10 passes at 0 when tooth 1 passes at 90 BTDC.
func TestToothAtTheSensor(t *testing.T) {
	p := phase(t, sample.File(t, "two-stroke"), 0)
	if p.Wheel.Right != (Tooth{Position: 10}) || *p.Wheel.Actual != (Tooth{Position: 7}) {
		t.Errorf("at TDC: %+v as drawn, %+v as measured; want tooth 10 and tooth 7", p.Wheel.Right, *p.Wheel.Actual)
	}
	if p := phase(t, sample.File(t, "two-stroke"), 260); !p.Wheel.Right.Missing || p.Wheel.Right.Position != 36 {
		t.Errorf("at 260 on a wheel as drawn: %+v, want the gap at 36", p.Wheel.Right)
	}
	// Without a drawing the error is not known, and no tooth is claimed.
	j := sample.File(t, "two-stroke")
	j.Dowel.Drawing = nil
	if p := phase(t, j, 0); p.Wheel.Actual != nil {
		t.Errorf("without a drawing: %+v as measured, want nothing", *p.Wheel.Actual)
	}
}

// At 430 degrees, what does cylinder 2 of a six-cylinder engine do, and which
// piston stands level with its own?
func ExamplePhaseAt() {
	d, _ := job.Read("six.toml", []byte("[engine]\nstrokes = 4\nfiring_order = [1, 5, 3, 6, 2, 4]\n"))
	p, _ := PhaseAt(d.Job(), 430)
	c := p.Cylinders[1]
	fmt.Printf("cylinder %d: %g after its firing TDC, %s stroke, level with cylinder %d\n", c.Cylinder, c.AngleDeg, c.Stroke, c.Companion[0])
	// Output: cylinder 2: 670 after its firing TDC, compression stroke, level with cylinder 5
}
