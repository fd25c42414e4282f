package part

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// card is the picture of a method of the bench shown, by its place among the ways of measuring.
// wayOf is what a way of measuring is called.
func wayOf(m int) string {
	name, _, _ := form.MethodWords(job.Methods[m])
	return name
}

func chooseCard(t testing.TB, u *desktest.Bench, m int) {
	t.Helper()
	b := u.Page.(*page).benches[u.Page.(*page).feature]
	if b.chooser.Hidden {
		b.choose(true)
	}
	for _, o := range desktest.Shown(b.content) {
		if o == fyne.CanvasObject(b.cards[m]) {
			test.Tap(b.cards[m])
			return
		}
	}
	t.Fatalf("the picture of %q cannot be seen", wayOf(m))
}

// byCard are readings for each of the ways of measuring but the photograph: what is
// typed into its fields, by key, what is picked beside them, and the angle that
// comes out. The pin stands at 41 mm and 14 degrees, the keyway at 27 mm, both are
// 8 mm wide; by hand: over and between dowel and key 41 sin 14° = 9.919, 8 more or
// less; from the keyway's edges, at (±4, √(27²−4²)), to the pin's centre 19.100 and
// 14.357, 4 more or less.
var byCard = []struct {
	fields  [][2]string
	side    string
	degrees float64
}{
	{[][2]string{{"angle_deg", "14"}}, "anticlockwise, seen from the nose", -14},
	{[][2]string{{"keyway_deg", "10"}, {"dowel_deg", "24"}}, "counts anticlockwise, seen from the nose", -14},
	{[][2]string{{"chord_mm", "16.18"}, {"dowel_radius_mm", "41"}, {"keyway_radius_mm", "27"}}, "anticlockwise, seen from the nose", -14},
	{[][2]string{{"chord_mm", "17.919"}, {"pin_mm", "8"}, {"key_mm", "8"}, {"dowel_radius_mm", "41"}}, "anticlockwise, seen from the nose", -14},
	{[][2]string{{"chord_mm", "1.919"}, {"pin_mm", "8"}, {"key_mm", "8"}, {"dowel_radius_mm", "41"}}, "anticlockwise, seen from the nose", -14},
	{[][2]string{{"chord_mm", "23.1"}, {"pin_mm", "8"}, {"key_mm", "8"}, {"dowel_radius_mm", "41"}, {"keyway_radius_mm", "27"}}, "anticlockwise, seen from the nose", -14},
	{[][2]string{{"chord_mm", "10.357"}, {"pin_mm", "8"}, {"key_mm", "8"}, {"dowel_radius_mm", "41"}, {"keyway_radius_mm", "27"}}, "anticlockwise, seen from the nose", -14},
	{[][2]string{{"arc_mm", "10.018"}, {"rim_radius_mm", "41"}}, "anticlockwise, seen from the nose", -14},
	{[][2]string{{"centre", "100; 50"}, {"keyway", "127; 50"}, {"dowel", "139.782; 59.919"}}, "", -14},
}

// measuredDowel is the angle the page's job gives the dowel, NaN for none.
func measuredDowel(u *desktest.Bench) float64 {
	p, err := finding.PartOf(u.Shown())
	if err != nil || p.Dowel == nil || p.Dowel.MeasuredDeg == nil {
		return math.NaN()
	}
	return *p.Dowel.MeasuredDeg
}

func TestEveryCardChoosesItsMethodAndKeepsTheOthers(t *testing.T) {
	u := onPart(t, desktest.NoReading)
	b := u.Page.(*page).benches[0]
	if b.chooser.Hidden || !b.method.Hidden || !b.keep.Hidden {
		t.Fatal("without a reading the methods are not there to choose from")
	}
	saved := map[int]job.Reading{}
	for m, c := range byCard {
		chooseCard(t, u, m)
		r := u.Session.Job().Dowel.Measured
		if r == nil || job.MethodOf(r) != m {
			t.Fatalf("the card %q made it %+v", wayOf(m), r)
		}
		if !b.chooser.Hidden || b.method.Hidden || b.name.Text != upper(wayOf(m)) {
			t.Errorf("%s: the page says %q", wayOf(m), b.name.Text)
		}
		if len(b.editor.Inputs[m]) > 0 && !b.editor.Inputs[m][0].Field.Focused() {
			t.Errorf("%s: the keyboard is not in the first field", wayOf(m))
		}
		for _, f := range c.fields {
			into(t, u, "dowel.measured."+f[0], f[1])
		}
		if c.side != "" && r.Side == "" {
			b.editor.Side.SetSelected(c.side)
		}
		if got := measuredDowel(u); !(math.Abs(got-c.degrees) < 0.05) {
			t.Errorf("%s: the dowel is at %g°, want %g° (%q)", wayOf(m), got, c.degrees, u.Notes())
		}
		saved[m] = *u.Session.Job().Dowel.Measured
	}
	// Back through all of them: each has what was typed for it.
	for m := range byCard {
		chooseCard(t, u, m)
		if got := *u.Session.Job().Dowel.Measured; !(job.Job{Dowel: &job.Feature{Measured: &got}}).Equal(job.Job{Dowel: &job.Feature{Measured: new(saved[m])}}) {
			t.Errorf("%s came back as %+v, was %+v", wayOf(m), got, saved[m])
		}
	}
	u.Undo()
	if got := job.MethodOf(u.Session.Job().Dowel.Measured); got != len(byCard)-2 {
		t.Errorf("one step back the method is %q", wayOf(got))
	}
}

func TestCardsByKeyboard(t *testing.T) {
	u := onPart(t, bothFeatures(t))
	b := u.Page.(*page).benches[0]
	was := u.Session.Job()
	b.choose(true)
	if u.Window.Canvas().Focused() != fyne.Focusable(b.cards[0]) || b.keep.Hidden {
		t.Error("the keyboard is not on the method in use, or it cannot be kept")
	}
	test.Tap(b.keep)
	if !b.chooser.Hidden {
		t.Error("kept, the methods stay open")
	}
	u.Is(t, was)
	b.choose(true)
	b.cards[7].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if got := u.Session.Job().Dowel.Measured.Method; got != "arc" {
		t.Errorf("Enter on the tape chose %q", got)
	}
	u.Undo()
	u.Is(t, was)
}

func TestNothingIsTakenForGranted(t *testing.T) {
	u := onPart(t, desktest.NoReading)
	before := u.Answer()
	chooseCard(t, u, 0)
	if !strings.Contains(u.Notes(), "Still missing: Angle") || u.Answer() != before {
		t.Errorf("with nothing typed the head says %q, %q", u.Answer(), u.Notes())
	}
	field := u.Page.(*page).form.Find("dowel.measured.angle_deg")
	if !field.Wanted() {
		t.Error("an empty field is a mistake")
	}
	into(t, u, "dowel.measured.angle_deg", "12")
	if !strings.Contains(u.Notes(), "on which side it lies") || u.Page.(*page).benches[0].editor.Side.Selected != "" {
		t.Errorf("without a side the head says %q", u.Notes())
	}
	into(t, u, "dowel.measured.angle_deg", "twelve")
	if field.Wanted() || !strings.Contains(field.Field.Fault(), "not a number") {
		t.Errorf("a text for a number has the fault %q", field.Field.Fault())
	}
	if !strings.Contains(u.Notes(), "before this error") {
		t.Errorf("a text for a number is said as %q", u.Notes())
	}
	into(t, u, "dowel.measured.angle_deg", "12")
	u.Page.(*page).benches[0].editor.Side.SetSelected("anticlockwise, seen from the nose")
	if want := "Every injection starts 15.5° after TDC"; !strings.HasPrefix(u.Answer(), want) {
		t.Errorf("the answer is %q, want %q", u.Answer(), want)
	}
}

func TestBothFeaturesAreMeasured(t *testing.T) {
	u := onPart(t, bothFeatures(t))
	if !strings.HasPrefix(u.Page.(*page).verdict.Text, "Keyway and dowel are both wrong") {
		t.Errorf("the verdict is %q", u.Page.(*page).verdict.Text)
	}
	if got := desktest.Painted(u.Page.(*page).figure); got == "" {
		t.Error("no figure")
	}
	dowel := desktest.Painted(u.Page.(*page).figure)
	test.Tap(u.Page.(*page).which.Buttons[1])
	if u.Page.(*page).room.Objects[0] != fyne.CanvasObject(u.Page.(*page).benches[1].content) || desktest.Painted(u.Page.(*page).figure) == dowel {
		t.Error("the keyway's bench or its figure is not shown")
	}
	into(t, u, "keyway.measured.chord_mm", "47")
	j := u.Session.Job()
	if j.Keyway.Measured.ChordMM.Value != 47 || j.Dowel.Measured.AngleDeg.Value != 10 {
		t.Errorf("the keyway's field changed the job to %+v, %+v", j.Keyway.Measured, j.Dowel.Measured)
	}
	if got := u.Page.(*page).readingName("throw_radius_mm"); got != "Crank radius" {
		t.Errorf("the keyway's readings are named %q", got)
	}
	if got, want := u.Answer(), sentence(t, j); got != want {
		t.Errorf("the head says %q, want %q", got, want)
	}
}
