package app

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pinphase/timing/finding"
	"pinphase/timing/job"
	"pinphase/timing/part"
)

// bothFeatures is a job with keyway and dowel measured.
func bothFeatures(t *testing.T) string { return read(t, "../testdata/jobs/keyway-and-dowel.toml") }

// noReading is a job whose dowel has a drawing and was not measured.
const noReading = `format = 1
title = "Bench"

[engine]
strokes = 4
firing_order = [1, 5, 3, 6, 2, 4]
rotation = "clockwise"
bore_mm = 102.0
stroke_mm = 118.0
rod_mm = 192.0

[injection]
start_btdc_deg = 9.0

[dowel]
seen_from = "nose"
drawing = { angle_deg = 12.5, side = "clockwise", u_deg = 0.1 }
`

// onPart returns the window with a job file open and the Part page shown.
func onPart(t testing.TB, text string) *ui {
	u := on(t, text)
	u.inTurn = true
	u.pages.open(u.part)
	return u
}

// into types into a field of the Part page, over what stands there, and goes on.
func into(t testing.TB, u *ui, key, text string) {
	t.Helper()
	retype(u, u.part.form.input(t, key).field, text)
	u.window.Canvas().Unfocus()
}

// card is the picture of a method of the bench shown, by its place in measurings.
func chooseCard(t testing.TB, u *ui, m int) {
	t.Helper()
	b := u.part.benches[u.part.feature]
	if b.chooser.Hidden {
		b.choose(true)
	}
	for _, o := range shown(b.content) {
		if o == fyne.CanvasObject(b.cards[m]) {
			test.Tap(b.cards[m])
			return
		}
	}
	t.Fatalf("the picture of %q cannot be seen", measurings[m].name)
}

// byCard are readings for each of the measurings but the photograph: what is
// typed into its fields, by key, what is picked beside them, and the angle that
// comes out. The pin stands at 41 mm and 14 degrees, the keyway at 27 mm, both are
// 8 mm wide; by hand: over and between pin and key 41 sin 14° = 9.919, 8 more or
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
func measuredDowel(u *ui) float64 {
	p, err := finding.PartOf(u.shown())
	if err != nil || p.Dowel == nil || p.Dowel.MeasuredDeg == nil {
		return math.NaN()
	}
	return *p.Dowel.MeasuredDeg
}

func TestEveryCardChoosesItsMethodAndKeepsTheOthers(t *testing.T) {
	u := onPart(t, noReading)
	b := u.part.benches[0]
	if b.chooser.Hidden || !b.method.Hidden || !b.keep.Hidden {
		t.Fatal("without a reading the methods are not there to choose from")
	}
	saved := map[int]job.Reading{}
	for m, c := range byCard {
		chooseCard(t, u, m)
		r := u.session.Job().Dowel.Measured
		if r == nil || measuringOf(r) != m {
			t.Fatalf("the card %q made it %+v", measurings[m].short, r)
		}
		if !b.chooser.Hidden || b.method.Hidden || b.name.Text != upper(measurings[m].name) {
			t.Errorf("%s: the page says %q", measurings[m].name, b.name.Text)
		}
		if len(b.editor.inputs[m]) > 0 && !b.editor.inputs[m][0].field.Focused() {
			t.Errorf("%s: the keyboard is not in the first field", measurings[m].name)
		}
		for _, f := range c.fields {
			into(t, u, "dowel.measured."+f[0], f[1])
		}
		if c.side != "" && r.Side == "" {
			b.editor.side.SetSelected(c.side)
		}
		if got := measuredDowel(u); !(math.Abs(got-c.degrees) < 0.05) {
			t.Errorf("%s: the dowel is at %g°, want %g° (%q)", measurings[m].name, got, c.degrees, u.head.notes.Text)
		}
		saved[m] = *u.session.Job().Dowel.Measured
	}
	// Back through all of them: each has what was typed for it.
	for m := range byCard {
		chooseCard(t, u, m)
		if got := *u.session.Job().Dowel.Measured; !(job.Job{Dowel: &job.Feature{Measured: &got}}).Equal(job.Job{Dowel: &job.Feature{Measured: ptr(saved[m])}}) {
			t.Errorf("%s came back as %+v, was %+v", measurings[m].name, got, saved[m])
		}
	}
	u.undo()
	if got := measuringOf(u.session.Job().Dowel.Measured); got != len(byCard)-2 {
		t.Errorf("one step back the method is %q", measurings[got].name)
	}
}

func TestCardsByKeyboard(t *testing.T) {
	u := onPart(t, bothFeatures(t))
	b := u.part.benches[0]
	was := u.session.Job()
	b.choose(true)
	if u.window.Canvas().Focused() != fyne.Focusable(b.cards[0]) || b.keep.Hidden {
		t.Error("the keyboard is not on the method in use, or it cannot be kept")
	}
	test.Tap(b.keep)
	if !b.chooser.Hidden {
		t.Error("kept, the methods stay open")
	}
	is(t, u, was)
	b.choose(true)
	b.cards[7].TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if got := u.session.Job().Dowel.Measured.Method; got != "arc" {
		t.Errorf("Enter on the tape chose %q", got)
	}
	u.undo()
	is(t, u, was)
}

func TestNothingIsTakenForGranted(t *testing.T) {
	u := onPart(t, noReading)
	before := u.head.sentence.Text
	chooseCard(t, u, 0)
	if !strings.Contains(u.head.notes.Text, "Still wanted: Angle") || u.head.sentence.Text != before {
		t.Errorf("with nothing typed the head says %q, %q", u.head.sentence.Text, u.head.notes.Text)
	}
	field := u.part.form.input(t, "dowel.measured.angle_deg")
	if !field.wanted() {
		t.Error("an empty field is a mistake")
	}
	into(t, u, "dowel.measured.angle_deg", "12")
	if !strings.Contains(u.head.notes.Text, "on which side it lies") || u.part.benches[0].editor.side.Selected != "" {
		t.Errorf("without a side the head says %q", u.head.notes.Text)
	}
	into(t, u, "dowel.measured.angle_deg", "twelve")
	if field.wanted() || !strings.Contains(field.field.Fault(), "not a number") {
		t.Errorf("a text for a number has the fault %q", field.field.Fault())
	}
	if !strings.Contains(u.head.notes.Text, "went wrong") {
		t.Errorf("a text for a number is said as %q", u.head.notes.Text)
	}
	into(t, u, "dowel.measured.angle_deg", "12")
	u.part.benches[0].editor.side.SetSelected("anticlockwise, seen from the nose")
	if want := "Every injection lands 15.5° after TDC"; !strings.HasPrefix(u.head.sentence.Text, want) {
		t.Errorf("the answer is %q, want %q", u.head.sentence.Text, want)
	}
}

func TestBothFeaturesAreMeasured(t *testing.T) {
	u := onPart(t, bothFeatures(t))
	if !strings.HasPrefix(u.part.verdict.Text, "Keyway and dowel are both wrong") {
		t.Errorf("the verdict is %q", u.part.verdict.Text)
	}
	if got := painted(u.part.figure); got == "" {
		t.Error("no figure")
	}
	dowel := painted(u.part.figure)
	test.Tap(u.part.which.buttons[1])
	if u.part.room.Objects[0] != fyne.CanvasObject(u.part.benches[1].content) || painted(u.part.figure) == dowel {
		t.Error("the keyway's bench or its figure is not shown")
	}
	into(t, u, "keyway.measured.chord_mm", "47")
	j := u.session.Job()
	if j.Keyway.Measured.ChordMM.Value != 47 || j.Dowel.Measured.AngleDeg.Value != 10 {
		t.Errorf("the keyway's field changed the job to %+v, %+v", j.Keyway.Measured, j.Dowel.Measured)
	}
	if got := u.part.readingName("throw_radius_mm"); got != "Throw radius" {
		t.Errorf("the keyway's readings are named %q", got)
	}
	// The same job on the Cycle page's form.
	if got := u.form.input(t, "keyway.measured.chord_mm").field.Text(); got != "47" {
		t.Errorf("the job's form shows %q", got)
	}
	if got, want := u.head.sentence.Text, sentence(t, j); got != want {
		t.Errorf("the head says %q, want %q", got, want)
	}
}

func sentence(t *testing.T, j job.Job) string {
	t.Helper()
	s, err := finding.ShiftOf(j)
	if err != nil {
		t.Fatal(err)
	}
	return say(s.Says)
}

func TestRepeatedReadingsHaveTheirMean(t *testing.T) {
	u := onPart(t, measuredBy(byMethod["chord"]))
	into(t, u, "dowel.measured.chord_mm", "15.46; 15.49; 15,47")
	// Mean 15.47333, standard deviation 0.015275, of the mean 0.0088192: JCGM
	// 100:2008, 4.2.1 to 4.2.3, by hand.
	want := "Distance: mean of 3 readings 15.473 mm; they scatter by 0.015 mm (standard deviation), which leaves ± 0.009 mm for the mean."
	if u.part.repeats.Text != want {
		t.Errorf("the page says %q, want %q", u.part.repeats.Text, want)
	}
	var names []string
	for _, row := range u.part.budget.cells {
		names = append(names, row[0].Text)
	}
	if got := strings.Join(names, ", "); !strings.Contains(got, "scatter of the readings") || !strings.Contains(got, "Distance") {
		t.Errorf("the budget has %s", got)
	}
	into(t, u, "dowel.measured.chord_mm", "15.46")
	if u.part.repeats.Text != "" {
		t.Errorf("for one reading the page says %q", u.part.repeats.Text)
	}
}

func TestStandardSizesArePicked(t *testing.T) {
	u := onPart(t, noReading)
	chooseCard(t, u, 3)
	var pickers []*widget.Select
	for _, o := range shown(u.part.benches[0].content) {
		if s, ok := o.(*widget.Select); ok && s.PlaceHolder == "Sizes" {
			pickers = append(pickers, s)
		}
	}
	if len(pickers) != 2 {
		t.Fatalf("%d lists of sizes", len(pickers))
	}
	if got, want := len(pickers[0].Options), len(part.Dowels); got != want {
		t.Errorf("%d pins, want %d", got, want)
	}
	pickers[0].SetSelected("8 mm pin (ISO 8734, from memory)")
	pickers[1].SetSelected("10 mm parallel key, shafts over 30 to 38 mm (DIN 6885-1)")
	r := u.session.Job().Dowel.Measured
	if r.PinMM != job.Num(8) || r.KeyMM != job.Num(10) {
		t.Errorf("picked, the job has pin %v and key %v", r.PinMM, r.KeyMM)
	}
	if f := u.part.form.input(t, "dowel.measured.key_mm").field; f.Text() != "10" || f.Fault() != "" {
		t.Errorf("the field shows %q with the fault %q", f.Text(), f.Fault())
	}
	pickers[1].SetSelected("5 mm Woodruff key (ISO 3912, from memory)")
	u.undo()
	if got := u.session.Job().Dowel.Measured.KeyMM; got != job.Num(10) {
		t.Errorf("one step back the key is %v", got)
	}
	test.Tap(u.part.which.buttons[1])
	chooseCard(t, u, 3)
	for _, o := range shown(u.part.benches[1].content) {
		if s, ok := o.(*widget.Select); ok && len(s.Options) == len(part.Dowels) {
			t.Error("a crankpin is offered the sizes of dowels")
		}
	}
}

func TestOldPartLiesBesideTheNew(t *testing.T) {
	u := onPart(t, bothFeatures(t))
	alone := painted(u.part.figure)
	other := file(t, "old.toml", measuredBy(byMethod["angle"]))
	u.part.compareWith(other)
	beside := painted(u.part.figure)
	if beside == alone || !u.part.overlay.Visible() || !strings.HasPrefix(u.part.notes.Text, "The old part is that of old.toml.") {
		t.Errorf("compared, the notes are %q", u.part.notes.Text)
	}
	u.part.overlay.SetChecked(true)
	over := painted(u.part.figure)
	if over == beside || over == alone {
		t.Error("laid over each other, the figure is the same")
	}
	u.part.compareWith(file(t, "dowelless.toml", noReading))
	if !strings.Contains(u.part.notes.Text, "was not measured here") {
		t.Errorf("without a reading the notes are %q", u.part.notes.Text)
	}
	test.Tap(u.part.compare)
	if painted(u.part.figure) != alone || u.part.overlay.Visible() {
		t.Error("taken away, the other part stays")
	}
	u.part.compareWith(file(t, "broken.toml", "format = 7"))
	if u.part.old != nil || !strings.Contains(said(u), "broken.toml") {
		t.Errorf("a job that cannot be read is said as %q", said(u))
	}
}

// The toolkit's dialogs of files have no size before they are shown.
func TestDialogsOfFilesOpen(t *testing.T) {
	u := onPart(t, photoJob(t, "nose-square.jpg"))
	for name, open := range map[string]func(){
		"Compare with the part of another job": u.part.chooseOld,
		"Open a photograph":                    u.part.photo.open,
		"Open a job":                           func() { choose(t, u, "File", "Open…") },
	} {
		open()
		if !strings.Contains(said(u), name) {
			t.Errorf("%s: the window says %q", name, said(u))
		}
		u.dismiss()
		if said(u) != "" {
			t.Errorf("%s: dismissed, the window says %q", name, said(u))
		}
	}
}

func TestPartPageFitsASmallScreen(t *testing.T) {
	for _, name := range []string{"nose-square.jpg", ""} {
		u := window(t)
		u.inTurn = true
		if name != "" {
			u.openFile(photoFile(t, name))
		}
		u.pages.open(u.part)
		for i := range u.part.which.buttons {
			test.Tap(u.part.which.buttons[i])
			if m := u.root.MinSize(); m.Width > 1024 || m.Height > 600 {
				t.Errorf("%s: the page asks for %v", u.part.which.buttons[i].Text, m)
			}
		}
		u.part.benches[0].choose(true)
		if m := u.root.MinSize(); m.Width > 1024 || m.Height > 600 {
			t.Errorf("choosing, the page asks for %v", m)
		}
	}
}

func TestPartFieldsAreInSight(t *testing.T) {
	u := onPart(t, measuredBy(byMethod["chord"]))
	d := fyne.CurrentApp().Driver()
	f := u.part.form.input(t, "dowel.measured.chord_mm").field
	if y := d.AbsolutePositionForObject(f).Y + f.Size().Height; y > 800 {
		t.Errorf("at 1280 × 800 the first field ends at %g", y)
	}
}
