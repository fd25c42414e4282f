package figure

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/piston"
)

// engineInput is an engine at a crank angle, all cylinders in line.
func engineInput(e timing.Scheme, link piston.SliderCrank, theta timing.Deg, view timing.View) EngineInput {
	in := EngineInput{View: view, BoreMM: 100, ThrowMM: link.ThrowMM, RodMM: link.RodMM, OffsetMM: link.OffsetMM, ClearanceMM: 7,
		Heading: "Engine", Title: "Engine", Desc: "Every cylinder cut open", Strokes: cycleInput(e, 0).Strokes, Intake: "intake open", Exhaust: "exhaust open",
		Spray: "actual injection", Star: "crank throws, seen from the nose", Row: "each cylinder cut open", Caption: []string{"Lift is only drawn."}}
	for c := 1; c <= e.Cylinders(); c++ {
		alpha := e.Angle(c, theta)
		in.Cylinders = append(in.Cylinders, EngineCylinder{Cylinder: c, Throw: alpha + link.TDC(), DropMM: link.DropMM(alpha), Stroke: e.StrokeAt(alpha),
			Intake: 0.5, Spraying: c == 2, Selected: c == 1})
	}
	return in
}

var nose = timing.View{From: timing.Nose, Rotation: timing.Clockwise}

func engineDrawings() map[string]Drawing {
	link := piston.SliderCrank{ThrowMM: 57.5, RodMM: 190}
	draw := func(in EngineInput, b Box) Drawing { d, _ := Engine(in, b); return d }
	two := engineInput(engine(2, []int{1, 3, 2}), link, 40, timing.View{From: timing.Flywheel, Rotation: timing.Clockwise})
	two.TwoStroke = true
	port := 70.0
	two.IntakePortMM = &port
	return map[string]Drawing{
		"engine-6":     draw(engineInput(engine(4, []int{1, 5, 3, 6, 2, 4}), link, 100, nose), Box{W: 842, H: 480}),
		"engine-16":    draw(engineInput(engine(4, order16, intervals16...), link, 30, nose), Box{W: 500, H: 240}),
		"engine-2s":    draw(two, Box{W: 500, H: 400}),
		"engine-small": draw(engineInput(engine(4, []int{1, 5, 3, 6, 2, 4}), link, 100, nose), Box{W: 160, H: 90}),
	}
}

func TestGoldenEngine(t *testing.T) {
	t.Parallel()
	for name, d := range engineDrawings() {
		golden(t, name+".txt", d.String())
	}
	goldenPicture(t, "engine-6.png", engineDrawings()["engine-6"], Light())
}

// Whatever the linkage and the crank's angle, the drawn rod is as long as the rod and
// the drawn throw as the throw: pin and piston stand where a rigid linkage has them.
func TestEngineIsTrueToScale(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		throw := rapid.Float64Range(20, 200).Draw(t, "throw")
		link := piston.SliderCrank{ThrowMM: throw, RodMM: throw * rapid.Float64Range(1.4, 5).Draw(t, "rod"), OffsetMM: throw * rapid.Float64Range(-0.2, 0.2).Draw(t, "offset")}
		n := rapid.IntRange(1, 24).Draw(t, "cylinders")
		e := evenEngine(n)
		theta := timing.Deg(rapid.Float64Range(0, 719).Draw(t, "theta"))
		view := timing.View{From: rapid.SampledFrom([]timing.End{timing.Nose, timing.Flywheel}).Draw(t, "end"), Rotation: rapid.SampledFrom([]timing.Sense{timing.Clockwise, timing.Anticlockwise}).Draw(t, "sense")}
		_, l := Engine(engineInput(e, link, theta, view), Box{W: 900, H: 500})
		if len(l.Units) != n {
			t.Fatalf("%d cylinders are drawn", len(l.Units))
		}
		for _, u := range l.Units {
			rod := math.Hypot(u.PinX-u.PistonX, u.PinY-u.PistonY) / l.Scale
			if math.Abs(rod-link.RodMM) > 1e-6*link.RodMM {
				t.Errorf("cylinder %d: the rod is drawn %g long, is %g", u.Cylinder, rod, link.RodMM)
			}
			if r := math.Hypot(u.PinX-u.AxisX, u.PinY-u.AxisY) / l.Scale; math.Abs(r-throw) > 1e-6*throw {
				t.Errorf("cylinder %d: the throw is drawn %g, is %g", u.Cylinder, r, throw)
			}
		}
	})
}

// In an engine of four in line cylinders 1 and 4 stand alike, and 2 and 3, half a
// stroke from them (Heywood, Internal Combustion Engine Fundamentals, 1988, fig. 1-5
// shows the crankshaft; from memory).
func TestEnginePistonsMoveTogether(t *testing.T) {
	t.Parallel()
	link := piston.SliderCrank{ThrowMM: 50, RodMM: 160}
	for theta := timing.Deg(0); theta < 720; theta += 7 {
		_, l := Engine(engineInput(engine(4, []int{1, 3, 4, 2}), link, theta, nose), Box{W: 600, H: 400})
		y := func(c int) float64 { return l.Units[c-1].PistonY }
		if math.Abs(y(1)-y(4)) > 1e-9 || math.Abs(y(2)-y(3)) > 1e-9 {
			t.Fatalf("at %g the pistons stand at %g, %g, %g, %g", float64(theta), y(1), y(2), y(3), y(4))
		}
	}
	// A quarter turn on, seen from the nose of an engine that turns clockwise, the pin of
	// cylinder 1 has gone to the right; seen from the flywheel to the left.
	for _, c := range []struct {
		from timing.End
		way  float64
	}{{timing.Nose, 1}, {timing.Flywheel, -1}} {
		_, l := Engine(engineInput(engine(4, []int{1, 3, 4, 2}), link, 90, timing.View{From: c.from, Rotation: timing.Clockwise}), Box{W: 600, H: 400})
		if u := l.Units[0]; (u.PinX-u.AxisX)*c.way < 0.9*l.Scale*50 {
			t.Errorf("seen from %v the pin stands %g beside the axis", c.from, u.PinX-u.AxisX)
		}
	}
}

// evenEngine is a four-stroke whose cylinders fire one after the other.
func evenEngine(n int) timing.Scheme {
	order := make([]int, n)
	for i := range order {
		order[i] = i + 1
	}
	return engine(4, order)
}
