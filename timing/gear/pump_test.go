package gear

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

func pumped(t testing.TB, tr Train, teeth, on int) Train {
	t.Helper()
	tr, err := tr.WithPump(Pump{teeth, on})
	if err != nil {
		t.Fatal(err)
	}
	return tr
}

// Hand calculation. 36, 47, 72 and a pump of 72 on the idler: the least common
// multiple stays 3384, the pump turns half as fast as the crank and, two meshes
// away, the same way. A pump of 40 on the crank of 36: 9 turns in 10, the other way;
// 36 · 10 = 40 · 9, so its mark is back after 10 turns, and with 47 and 72 all are
// after lcm(3384, 40) = 16920 teeth.
func TestPump(t *testing.T) {
	base := train(t, 36, 47, 72)
	for _, c := range []struct {
		teeth, on  int
		per        float64
		with       bool
		steps, own int64
		mark       int
		mesh       string
		angle      timing.Deg // after one turn of the crank
	}{
		{72, 1, 0.5, true, 3384, 47, 2, "{47 72}", 180},
		{40, 0, 0.9, false, 16920, 423, 10, "{36 40}", -324},
		{36, 2, 1, false, 3384, 94, 1, "{72 36}", -360},
		{24, 1, 1.5, true, 3384, 141, 2, "{47 24}", 540},
	} {
		tr := pumped(t, base, c.teeth, c.on)
		if p, ok := tr.Pump(); !ok || p.Teeth != c.teeth || p.On != c.on {
			t.Errorf("%d on %d: %+v, %v", c.teeth, c.on, p, ok)
		}
		if tr.PumpPerCrank() != c.per || tr.PumpWithCrank() != c.with || tr.CrankTurnsUntilPumpMark() != c.mark {
			t.Errorf("%d on %d: %g turns, with the crank %v, mark back after %d", c.teeth, c.on, tr.PumpPerCrank(), tr.PumpWithCrank(), tr.CrankTurnsUntilPumpMark())
		}
		if tr.StepsUntilMarksMeet().Int64() != c.steps || tr.PumpTurnsUntilMarksMeet().Int64() != c.own {
			t.Errorf("%d on %d: %v teeth, %v turns of the pump", c.teeth, c.on, tr.StepsUntilMarksMeet(), tr.PumpTurnsUntilMarksMeet())
		}
		if m := tr.Meshes(); fmt.Sprint(m[len(m)-1]) != c.mesh || len(m) != 3 {
			t.Errorf("%d on %d: meshes %v", c.teeth, c.on, m)
		}
		if a := tr.PumpAngle(360); math.Abs(float64(a-c.angle)) > 1e-9 {
			t.Errorf("%d on %d: a turn of the crank turns it by %g", c.teeth, c.on, float64(a))
		}
		// The pump changes nothing in what the cam does.
		if tr.Ratio() != base.Ratio() || tr.CrankPerTooth() != base.CrankPerTooth() || tr.CrankTurnsUntilCamMark() != base.CrankTurnsUntilCamMark() {
			t.Errorf("%d on %d changes the cam", c.teeth, c.on)
		}
	}
	if _, ok := base.Pump(); ok {
		t.Error("a train without a pump has one")
	}
	for _, p := range []Pump{{0, 1}, {MaxTeeth + 1, 1}, {36, 3}, {36, -1}} {
		if _, err := base.WithPump(p); err == nil {
			t.Errorf("%+v was taken", p)
		}
	}
}

// Where all marks meet the pump has made whole turns, and teeth that mesh pass
// together, in opposite senses.
func TestPumpGoesWithItsDriver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		teeth := rapid.SliceOfN(rapid.IntRange(1, 60), 2, 6).Draw(t, "teeth")
		tr, err := NewTrain(teeth[0], teeth[1:len(teeth)-1], teeth[len(teeth)-1])
		if err != nil {
			t.Fatal(err)
		}
		p := Pump{rapid.IntRange(1, 60).Draw(t, "pump"), rapid.IntRange(0, len(teeth)-1).Draw(t, "on")}
		with, err := tr.WithPump(p)
		if err != nil {
			t.Fatal(err)
		}
		theta := timing.Deg(rapid.Float64Range(-2000, 2000).Draw(t, "theta"))
		driver := with.Angle(p.On, theta) * timing.Deg(teeth[p.On])
		if a := with.PumpAngle(theta) * timing.Deg(p.Teeth); math.Abs(float64(a+driver)) > 1e-6 {
			t.Fatalf("the pump passes %g, its driver %g", float64(a), float64(driver))
		}
		steps := with.StepsUntilMarksMeet().Int64()
		if steps%int64(p.Teeth) != 0 || steps%tr.StepsUntilMarksMeet().Int64() != 0 {
			t.Fatalf("%d teeth are no whole turns of %+v on %v", steps, p, teeth)
		}
	})
}
