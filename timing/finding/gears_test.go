package finding

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

func gearsOf(t testing.TB, text string) Gears {
	t.Helper()
	g, err := GearsOf(sample.Read(t, text))
	if err != nil {
		t.Fatal(err)
	}
	return g
}

const (
	geared     = "[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n[gears]\ncrank_teeth = 36\nidler_teeth = [47]\ncam_teeth = 72\n"
	keywayTwo  = "[keyway]\ndrawing = { angle_deg = 60, side = \"clockwise\", u_deg = 0 }\nmeasured = { angle_deg = 62, side = \"clockwise\", u_deg = 0.2 }\n"
	loopScheme = "[engine]\nstrokes = 2\nfiring_order = [1, 3, 2]\n[gears]\ncrank_teeth = 30\nidler_teeth = [41]\ncam_teeth = 30\n"
)

// By hand: 72/36 = 2; the least common multiple of 36, 47 and 72 is 3384 teeth, 94
// turns of the crank; a tooth is 360/36 = 10 degrees.
func TestGears(t *testing.T) {
	for _, c := range []struct {
		name, job string
		camError  float64
		says      phrase.Text
	}{
		{"right", geared, 0, gearsAssumed},
		{"keyway measured right", geared + strings.Replace(keywayTwo, "62", "60", 1), 0, gearsRight},
		{"one tooth behind", geared + "cam_teeth_out = -1\n", -10, "The camshaft is 10 crank degrees behind: every valve opens and closes that much late, and the camshaft sensor's edges come that much late."},
		{"two ahead and the keyway 2 ahead", geared + "cam_teeth_out = 2\n" + keywayTwo, 22, "The camshaft is 22 crank degrees ahead: every valve opens and closes that much early, and the camshaft sensor's edges come that much early."},
		{"half a turn of the cam", geared + "cam_teeth_out = 36\n", 360, ""},
		{"nearly a turn of the cam", geared + "cam_teeth_out = 70\n", -20, ""},
		{"a keyway ahead", geared + keywayTwo, 2, ""},
	} {
		g := gearsOf(t, c.job)
		if g.Ratio != 2 || g.CamTurnsPerCrank != 0.5 || g.CrankTurnsMarks.Int64() != 94 || g.CrankDegPerTooth != 10 || g.CrankTurnsCam != 2 {
			t.Errorf("%s: %+v", c.name, g)
		}
		if !near(g.CamErrorDeg, c.camError, 1e-9) {
			t.Errorf("%s: the cam is %g ahead, want %g", c.name, g.CamErrorDeg, c.camError)
		}
		if c.says != "" && g.Says.String() != string(c.says) {
			t.Errorf("%s: %q", c.name, g.Says)
		}
	}
	if g := gearsOf(t, geared+keywayTwo); g.CamErrorUDeg != 0.2 || g.GearErrorDeg != 2 {
		t.Errorf("the keyway's error %g ± %g", g.GearErrorDeg, g.CamErrorUDeg)
	}
}

// By hand: a pump of 54 teeth on the idler of 36, 47 and 72. It turns 36/54 = 2/3 as
// fast as the crank, the way the crank does; its mark is back after 54/18 = 3 turns;
// all marks after lcm(3384, 54) = 10152 teeth, 282 turns of the crank.
func TestPumpGear(t *testing.T) {
	g := gearsOf(t, geared+"pump_teeth = 54\n")
	p := g.Pump
	if p == nil || p.Teeth != 54 || p.DrivenBy != "idler 1" || !p.WithCrank || !near(p.TurnsPerCrank, 2.0/3, 1e-6) || p.CrankTurns != 3 || p.Turns.Int64() != 188 {
		t.Errorf("%+v", p)
	}
	if g.CrankTurnsMarks.Int64() != 282 || g.Ratio != 2 || g.CrankTurnsCam != 2 || len(g.Meshes) != 3 {
		t.Errorf("%+v", g)
	}
	for _, want := range []string{"The pump turns 0.667 times as fast as the crankshaft. Fitted one tooth out, it is 10 crank degrees out; the camshaft is not affected.",
		"The pump's mark is back every 3 crankshaft turns."} {
		if !slices.ContainsFunc(g.Notes, func(s phrase.Sentence) bool { return s.String() == want }) {
			t.Errorf("%q is not said in %v", want, g.Notes)
		}
	}
	// By hand: 72 teeth pass while the cam turns once, 47 and 25 more.
	want := "While the camshaft turns once, 72 teeth pass at every mesh: 1 × 47 + 25. The mark of the idler gear with 47 teeth is then 25 of them beyond its place."
	if !slices.ContainsFunc(gearsOf(t, geared).Steps, func(s phrase.Sentence) bool { return s.String() == want }) {
		t.Errorf("%q is not said", want)
	}
	for by, with := range map[string]bool{"crank": false, "idler 1": true, "idler": true, "cam": false} {
		g := gearsOf(t, geared+"pump_teeth = 36\npump_driven_by = \""+by+"\"\n")
		if g.Pump.WithCrank != with || !strings.HasPrefix(g.Pump.DrivenBy, by) || g.Pump.CrankTurns != 1 || g.CrankTurnsMarks.Int64() != 94 {
			t.Errorf("on %s: %+v", by, g.Pump)
		}
	}
	if g := gearsOf(t, geared); g.Pump != nil {
		t.Errorf("a pump where there is none: %+v", g.Pump)
	}
}

func TestGearsNeed(t *testing.T) {
	for key, text := range map[string]string{
		"gears":          "[engine]\nstrokes = 4\nfiring_order = [1]\n",
		"keyway.drawing": geared + "[keyway]\nmeasured = { angle_deg = 62, side = \"clockwise\" }\n",
	} {
		var faults job.Faults
		if _, err := GearsOf(sample.Read(t, text)); !errors.As(err, &faults) || len(faults) != 1 || faults[0].Key != key {
			t.Errorf("%s: %v", key, err)
		}
	}
	// A dowel without a drawing is no matter of the gears.
	gearsOf(t, geared+"[dowel]\nmeasured = { angle_deg = 3, side = \"clockwise\" }\n")
}

// Every sentence of any train is whole.
func TestGearsSentences(t *testing.T) {
	say := func(t interface{ Fatalf(string, ...any) }, g Gears) {
		for _, s := range append(append([]phrase.Sentence{g.Says}, g.Notes...), g.Steps...) {
			if got := s.String(); spoilt.MatchString(got) {
				t.Fatalf("%q from %q", got, s.Text)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob().Draw(t, "job")
		z := rapid.IntRange(1, 100).Draw(t, "crank teeth")
		per := 1
		if j.Engine.Strokes == 4 {
			per = 2
		}
		j.Gears = &job.Gears{CrankTeeth: z, CamTeeth: per * z, IdlerTeeth: rapid.SliceOfN(rapid.IntRange(1, 99), 0, 100).Draw(t, "idlers"),
			CamTeethOut: rapid.IntRange(-per*z, per*z).Draw(t, "out")}
		if rapid.Bool().Draw(t, "pump") {
			j.Gears.PumpTeeth = rapid.IntRange(1, 120).Draw(t, "pump teeth")
			j.Gears.PumpDrivenBy = rapid.SampledFrom(append(j.Gears.Wheels(), "")).Draw(t, "driven by")
		}
		g, err := GearsOf(j)
		if err != nil {
			t.Fatal(err)
		}
		if cycle := 360 * float64(per); g.CamErrorDeg <= -cycle/2 || g.CamErrorDeg > cycle/2 {
			t.Fatalf("%g is not the short way round", g.CamErrorDeg)
		}
		say(t, g)
	})
	for _, text := range []string{geared, geared + "cam_teeth_out = -1\n", geared + "cam_teeth_out = 71\n", geared + keywayTwo,
		geared + strings.Replace(keywayTwo, "62", "60", 1), loopScheme, strings.Replace(loopScheme, "[41]", "[]", 1), strings.Replace(geared, "[47]", "[]", 1),
		geared + "pump_teeth = 54\n", geared + "pump_teeth = 36\n", strings.Replace(geared, "[47]", "[]", 1) + "pump_teeth = 40\n"} {
		say(t, gearsOf(t, text))
	}
}
