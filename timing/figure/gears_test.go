package figure

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// gearsInput is a train turned by theta of the crank, its last wheel out.
func gearsInput(theta, out timing.Deg, teeth ...int) GearsInput {
	in := GearsInput{Throw: &theta, Heading: "Gear train", Title: "Gear train", Desc: "Crank gear, idler and cam gear",
		Caption: []string{"Seen from the nose; the engine turns clockwise."}, Words: GearsWords{"mark", "mark, as it belongs", "No. 1 throw"}}
	for i, z := range teeth {
		w := GearWheel{Name: fmt.Sprint("wheel ", i+1), Count: fmt.Sprintf("wheel %d, %d teeth", i+1, z), Teeth: z}
		w.Turned = theta * timing.Deg(teeth[0]) / timing.Deg(z)
		if i%2 == 1 {
			w.Turned = -w.Turned
		}
		if i == len(teeth)-1 {
			w.Out = out
		}
		in.Wheels = append(in.Wheels, w)
	}
	return in
}

func gearsDrawings() map[string]Drawing {
	list := map[string]Drawing{}
	list["gears-out"], _ = Gears(gearsInput(0, 5, 36, 53, 72), Box{W: 842, H: 440})
	back := gearsInput(47, 0, 30, 60)
	back.View.From = timing.Flywheel
	list["gears-flywheel"], _ = Gears(back, Box{W: 420, H: 300})
	pump := gearsInput(20, 0, 36, 53, 72)
	pump.Pump = &PumpWheel{GearWheel{Name: "pump", Count: "pump, 54 teeth", Teeth: 54, Turned: 20.0 * 36 / 54}, 1}
	list["gears-pump"], _ = Gears(pump, Box{W: 600, H: 480})
	list["gears-small"], _ = Gears(gearsInput(720, 0, 36, 53, 72), Box{W: 220, H: 130})
	return list
}

func TestGoldenGears(t *testing.T) {
	t.Parallel()
	for name, d := range gearsDrawings() {
		golden(t, name+".txt", d.String())
	}
	goldenPicture(t, "gears-out.png", gearsDrawings()["gears-out"], Light())
}

// Marks of neighbours point at each other at the start, on the line of the
// centres, and so they do again after as many turns as the teeth ask for, and at
// no whole turn before.
func TestGearMarksMeet(t *testing.T) {
	t.Parallel()
	apart := func(turns int, teeth ...int) float64 {
		d, l := Gears(gearsInput(timing.Deg(turns)*timing.Turn, 0, teeth...), Box{W: 900, H: 400})
		worst := 0.0
		for _, s := range d.Shapes {
			if m, ok := s.(Marker); ok && m.Kind == Dot && m.Role == Tooth && m.X > l.X[0]-l.R[0] && m.Y < l.Y[0]+l.R[0] {
				worst = max(worst, math.Abs(m.Y-l.Y[0]))
			}
		}
		return worst
	}
	for _, c := range []struct {
		teeth []int
		turns int
	}{{[]int{36, 72}, 2}, {[]int{30, 45, 60}, 6}, {[]int{36, 47, 72}, 94}} {
		for turns := 0; turns <= c.turns; turns++ {
			met := apart(turns, c.teeth...) < 1e-6
			// Half a turn puts a mark on the line too, on the far side; it is not looked at here.
			if want := turns == 0 || turns == c.turns; want && !met {
				t.Errorf("%v: after %d turns the marks are apart", c.teeth, turns)
			}
		}
		if c.turns > 2 && apart(2, c.teeth...) < 1 {
			t.Errorf("%v: the marks meet after two turns", c.teeth)
		}
	}
}

// Neighbours turn against each other, and their teeth never run into each other:
// on the line of centres a tip of one is nowhere a tip of the other.
func TestGearTeethMesh(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		teeth := rapid.SliceOfN(rapid.IntRange(12, 80), 2, 4).Draw(t, "teeth")
		theta := timing.Deg(rapid.Float64Range(-2000, 2000).Draw(t, "theta"))
		in := gearsInput(theta, 0, teeth...)
		pump := PumpWheel{GearWheel{Teeth: rapid.IntRange(12, 80).Draw(t, "pump")}, rapid.IntRange(0, len(teeth)-1).Draw(t, "on")}
		pump.Turned = -in.Wheels[pump.On].Turned * timing.Deg(teeth[pump.On]) / timing.Deg(pump.Teeth)
		in.Pump = &pump
		f := gearsFigure{in: in}
		f.place(Rect{0, 0, 900, 400})
		across := func(i, k int, from, to float64) float64 { // steps from tooth to tooth
			a := (f.phase[i] + f.turn(f.wheels[i].Turned) - from) / 360 * float64(f.wheels[i].Teeth)
			b := -(f.phase[k] + f.turn(f.wheels[k].Turned) - to) / 360 * float64(f.wheels[k].Teeth)
			return math.Mod(math.Mod(a-b, 1)+1, 1)
		}
		n := len(teeth)
		if off := across(pump.On, n, 0, 180); math.Abs(off-0.5) > 1e-6 {
			t.Fatalf("%v at %g: the pump on %d is %g of a step off", teeth, float64(theta), pump.On, off)
		}
		if d := math.Hypot(f.l.X[n]-f.l.X[pump.On], f.l.Y[n]-f.l.Y[pump.On]); math.Abs(d-f.l.R[n]-f.l.R[pump.On]) > 1e-6 {
			t.Fatalf("the pump is %g from its driver", d)
		}
		if by := f.l.CrankTurns(n, pump.Turned); math.Abs(float64(by-theta)) > 1e-6 {
			t.Fatalf("the pump turned by %g turns the crank by %g, want %g", float64(pump.Turned), float64(by), float64(theta))
		}
		for i := range len(teeth) - 1 {
			if off := across(i, i+1, 90, 270); math.Abs(off-0.5) > 1e-6 {
				t.Fatalf("%v at %g: mesh %d is %g of a step off", teeth, float64(theta), i+1, off)
			}
		}
	})
}

func TestGearsInAnyBox(t *testing.T) {
	t.Parallel()
	var r Raster
	rapid.Check(t, func(t *rapid.T) {
		box := anyBox(t)
		inside := !rapid.Bool().Draw(t, "tiny")
		if !inside {
			box.W, box.H = rapid.Float64Range(-5, 150).Draw(t, "tiny w"), rapid.Float64Range(-5, 90).Draw(t, "tiny h")
		}
		in := gearsInput(timing.Deg(rapid.Float64Range(-1e5, 1e5).Draw(t, "theta")), timing.Deg(rapid.SampledFrom([]float64{0, -5}).Draw(t, "out")),
			rapid.SliceOfN(rapid.OneOf(rapid.IntRange(0, 120), rapid.IntRange(1, 10000)), 1, 12).Draw(t, "teeth")...)
		if in.Wheels[0].Teeth == 0 {
			in.Wheels[0].Teeth = 1
		}
		for i := range in.Wheels {
			in.Wheels[i].Turned = timing.WrapSigned(in.Wheels[i].Turned, 360)
		}
		if on := rapid.IntRange(-1, len(in.Wheels)-1).Draw(t, "pump on"); on >= 0 {
			in.Pump = &PumpWheel{GearWheel{Name: "pump", Count: "pump with teeth", Teeth: rapid.IntRange(0, 300).Draw(t, "pump"), Turned: 30}, on}
		}
		d, _ := Gears(in, box)
		r.Render(d, Paper(), int(box.W), int(box.H), 1)
		for _, s := range d.Shapes {
			const slack = 0.5
			if b := s.Bounds(); inside && (b.X < -slack || b.Y < -slack || b.Right() > box.W+slack || b.Bottom() > box.H+slack) {
				t.Fatalf("%v leaves the box of %g by %g", s, box.W, box.H)
			}
		}
	})
	if d, _ := Gears(GearsInput{Heading: "none"}, Box{W: 300, H: 200}); len(d.Shapes) != 0 {
		t.Error("no wheels are drawn")
	}
	nan := gearsInput(timing.Deg(math.NaN()), 0, 36, 72)
	d, _ := Gears(nan, Box{W: 300, H: 200})
	if text := d.String(); strings.Contains(text, "NaN") {
		t.Errorf("an angle that is none is drawn: %s", text)
	}
}
