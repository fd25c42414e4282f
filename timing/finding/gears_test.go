package finding

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase/timing/job"
)

func gearsOf(t testing.TB, text string) Gears {
	t.Helper()
	g, err := GearsOf(read(t, text))
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
		says      string
	}{
		{"right", geared, 0, gearsAssumed},
		{"keyway measured right", geared + strings.Replace(keywayTwo, "62", "60", 1), 0, gearsRight},
		{"one tooth behind", geared + "cam_teeth_out = -1\n", -10, "The cam is 10 crank degrees behind: every valve opens and closes that much late, and so do the cam sensor's edges come."},
		{"two ahead and the keyway 2 ahead", geared + "cam_teeth_out = 2\n" + keywayTwo, 22, "The cam is 22 crank degrees ahead: every valve opens and closes that much early, and so do the cam sensor's edges come."},
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
		if c.says != "" && g.Says.String() != c.says {
			t.Errorf("%s: %q", c.name, g.Says)
		}
	}
	if g := gearsOf(t, geared+keywayTwo); g.CamErrorUDeg != 0.2 || g.GearErrorDeg != 2 {
		t.Errorf("the keyway's error %g ± %g", g.GearErrorDeg, g.CamErrorUDeg)
	}
}

func TestGearsNeed(t *testing.T) {
	for key, text := range map[string]string{
		"gears":          "[engine]\nstrokes = 4\nfiring_order = [1]\n",
		"keyway.drawing": geared + "[keyway]\nmeasured = { angle_deg = 62, side = \"clockwise\" }\n",
	} {
		var faults job.Faults
		if _, err := GearsOf(read(t, text)); !errors.As(err, &faults) || len(faults) != 1 || faults[0].Key != key {
			t.Errorf("%s: %v", key, err)
		}
	}
	// A dowel without a drawing is no matter of the gears.
	gearsOf(t, geared+"[dowel]\nmeasured = { angle_deg = 3, side = \"clockwise\" }\n")
}

// Every sentence of any train is whole and among the texts; together they say
// each text once.
func TestGearsSentences(t *testing.T) {
	texts := map[string]bool{}
	for _, text := range gearsTexts {
		texts[text] = false
	}
	say := func(t interface{ Fatalf(string, ...any) }, g Gears) {
		for _, s := range append(append([]Sentence{g.Says}, g.Notes...), g.Steps...) {
			if _, ok := texts[s.Text]; !ok {
				t.Fatalf("%q is not among the texts", s.Text)
			}
			texts[s.Text] = true
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
		geared + strings.Replace(keywayTwo, "62", "60", 1), loopScheme, strings.Replace(loopScheme, "[41]", "[]", 1), strings.Replace(geared, "[47]", "[]", 1)} {
		say(t, gearsOf(t, text))
	}
	for text, said := range texts {
		if !said {
			t.Errorf("%q is never said", text)
		}
	}
}
