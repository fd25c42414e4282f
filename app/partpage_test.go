package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
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
	u.InTurn = true
	u.OpenPage("part", "")
	return u
}

// into types into a field of the Part page, over what stands there, and goes on.
func into(t testing.TB, u *ui, key, text string) {
	t.Helper()
	retype(u, inputOf(t, partOf(u).form, key).Field, text)
	u.Window.Canvas().Unfocus()
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
	if partOf(u).repeats.Text != want {
		t.Errorf("the page says %q, want %q", partOf(u).repeats.Text, want)
	}
	var names []string
	for _, row := range partOf(u).budget.Cells {
		names = append(names, row[0].Text)
	}
	if got := strings.Join(names, ", "); !strings.Contains(got, "scatter of the readings") || !strings.Contains(got, "Distance") {
		t.Errorf("the budget has %s", got)
	}
	into(t, u, "dowel.measured.chord_mm", "15.46")
	if partOf(u).repeats.Text != "" {
		t.Errorf("for one reading the page says %q", partOf(u).repeats.Text)
	}
}

func TestStandardSizesArePicked(t *testing.T) {
	u := onPart(t, noReading)
	chooseCard(t, u, 3)
	var pickers []*widget.Select
	for _, o := range shown(partOf(u).benches[0].content) {
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
	r := u.Session.Job().Dowel.Measured
	if r.PinMM != job.Num(8) || r.KeyMM != job.Num(10) {
		t.Errorf("picked, the job has pin %v and key %v", r.PinMM, r.KeyMM)
	}
	if f := inputOf(t, partOf(u).form, "dowel.measured.key_mm").Field; f.Text() != "10" || f.Fault() != "" {
		t.Errorf("the field shows %q with the fault %q", f.Text(), f.Fault())
	}
	pickers[1].SetSelected("5 mm Woodruff key (ISO 3912, from memory)")
	u.Undo()
	if got := u.Session.Job().Dowel.Measured.KeyMM; got != job.Num(10) {
		t.Errorf("one step back the key is %v", got)
	}
	test.Tap(partOf(u).which.Buttons[1])
	chooseCard(t, u, 3)
	for _, o := range shown(partOf(u).benches[1].content) {
		if s, ok := o.(*widget.Select); ok && len(s.Options) == len(part.Dowels) {
			t.Error("a crankpin is offered the sizes of dowels")
		}
	}
}

func TestOldPartLiesBesideTheNew(t *testing.T) {
	u := onPart(t, bothFeatures(t))
	alone := painted(partOf(u).figure)
	other := file(t, "old.toml", measuredBy(byMethod["angle"]))
	partOf(u).compareWith(other)
	beside := painted(partOf(u).figure)
	if beside == alone || !partOf(u).overlay.Visible() || !strings.HasPrefix(partOf(u).notes.Text, "The old part is that of old.toml.") {
		t.Errorf("compared, the notes are %q", partOf(u).notes.Text)
	}
	partOf(u).overlay.SetChecked(true)
	over := painted(partOf(u).figure)
	if over == beside || over == alone {
		t.Error("laid over each other, the figure is the same")
	}
	partOf(u).compareWith(file(t, "dowelless.toml", noReading))
	if !strings.Contains(partOf(u).notes.Text, "was not measured here") {
		t.Errorf("without a reading the notes are %q", partOf(u).notes.Text)
	}
	test.Tap(partOf(u).compare)
	if painted(partOf(u).figure) != alone || partOf(u).overlay.Visible() {
		t.Error("taken away, the other part stays")
	}
	partOf(u).compareWith(file(t, "broken.toml", "format = 7"))
	if partOf(u).old != nil || !strings.Contains(said(u), "broken.toml") {
		t.Errorf("a job that cannot be read is said as %q", said(u))
	}
}

// The toolkit's dialogs of files have no size before they are shown.
func TestDialogsOfFilesOpen(t *testing.T) {
	u := onPart(t, photoJob(t, "nose-square.jpg"))
	for name, open := range map[string]func(){
		"Compare with the part of another job": partOf(u).chooseOld,
		"Open a photograph":                    partOf(u).photo.open,
		"Open a job":                           func() { choose(t, u, "File", "Open…") },
	} {
		open()
		if !strings.Contains(said(u), name) {
			t.Errorf("%s: the window says %q", name, said(u))
		}
		u.Dismiss()
		if said(u) != "" {
			t.Errorf("%s: dismissed, the window says %q", name, said(u))
		}
	}
}

func TestPartPageFitsASmallScreen(t *testing.T) {
	for _, name := range []string{"nose-square.jpg", ""} {
		u := window(t)
		u.InTurn = true
		if name != "" {
			u.openFile(photoFile(t, name))
		}
		u.OpenPage("part", "")
		for i := range partOf(u).which.Buttons {
			test.Tap(partOf(u).which.Buttons[i])
			if m := u.Root.MinSize(); m.Width > 1024 || m.Height > 600 {
				t.Errorf("%s: the page asks for %v", partOf(u).which.Buttons[i].Text, m)
			}
		}
		partOf(u).benches[0].choose(true)
		if m := u.Root.MinSize(); m.Width > 1024 || m.Height > 600 {
			t.Errorf("choosing, the page asks for %v", m)
		}
	}
}

func TestPartFieldsAreInSight(t *testing.T) {
	u := onPart(t, measuredBy(byMethod["chord"]))
	d := fyne.CurrentApp().Driver()
	f := inputOf(t, partOf(u).form, "dowel.measured.chord_mm").Field
	if y := d.AbsolutePositionForObject(f).Y + f.Size().Height; y > 800 {
		t.Errorf("at 1280 × 800 the first field ends at %g", y)
	}
}
