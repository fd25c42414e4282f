package part

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
)

// bothFeatures is a job with keyway and dowel measured.
func bothFeatures(t *testing.T) string {
	return desktest.Read(t, "../../../testdata/jobs/keyway-and-dowel.toml")
}

// onPart returns the window with a job file open and the Part page shown.
func onPart(t testing.TB, text string) *desktest.Bench {
	u := desktest.On(t, Kind, text)
	u.InTurn = true
	u.OpenPage("part", "")
	u.Page.(*page).photo.snap.on.SetChecked(false) // points stay where these tests place them
	return u
}

// into types into a field of the Part page, over what stands there, and goes on.
func into(t testing.TB, u *desktest.Bench, key, text string) {
	t.Helper()
	desktest.Retype(u.Window.Canvas(), u.Page.(*page).form.Find(key).Field, text)
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
	u := onPart(t, desktest.MeasuredBy(desktest.ByMethod["chord"]))
	into(t, u, "dowel.measured.chord_mm", "15.46; 15.49; 15,47")
	// Mean 15.47333, standard deviation 0.015275, of the mean 0.0088192: JCGM
	// 100:2008, 4.2.1 to 4.2.3, by hand.
	want := "Distance: mean of 3 readings 15.473 mm; they scatter by 0.015 mm (standard deviation), which leaves ± 0.009 mm for the mean."
	if u.Page.(*page).repeats.Text != want {
		t.Errorf("the page says %q, want %q", u.Page.(*page).repeats.Text, want)
	}
	var names []string
	for _, row := range u.Page.(*page).budget.Cells {
		names = append(names, row[0].Text)
	}
	if got := strings.Join(names, ", "); !strings.Contains(got, "scatter of the readings") || !strings.Contains(got, "Distance") {
		t.Errorf("the budget has %s", got)
	}
	into(t, u, "dowel.measured.chord_mm", "15.46")
	if u.Page.(*page).repeats.Text != "" {
		t.Errorf("for one reading the page says %q", u.Page.(*page).repeats.Text)
	}
}

func TestStandardSizesArePicked(t *testing.T) {
	u := onPart(t, desktest.NoReading)
	chooseCard(t, u, 3)
	var pickers []*kit.Select
	for _, o := range desktest.Shown(u.Page.(*page).benches[0].content) {
		if s, ok := o.(*kit.Select); ok && s.PlaceHolder == "Sizes" {
			pickers = append(pickers, s)
		}
	}
	if len(pickers) != 2 {
		t.Fatalf("%d lists of sizes", len(pickers))
	}
	if got, want := len(pickers[0].Options), len(part.Dowels); got != want {
		t.Errorf("%d pins, want %d", got, want)
	}
	pickers[0].SetSelected("8 mm dowel pin (ISO 8734, not checked against the source)")
	pickers[1].SetSelected("10 mm parallel key, shafts over 30 to 38 mm (DIN 6885-1)")
	r := u.Session.Job().Dowel.Measured
	if r.PinMM != job.Num(8) || r.KeyMM != job.Num(10) {
		t.Errorf("picked, the job has pin %v and key %v", r.PinMM, r.KeyMM)
	}
	if f := u.Page.(*page).form.Find("dowel.measured.key_mm").Field; f.Text() != "10" || f.Fault() != "" {
		t.Errorf("the field shows %q with the fault %q", f.Text(), f.Fault())
	}
	pickers[1].SetSelected("5 mm Woodruff key (ISO 3912, not checked against the source)")
	u.Undo()
	if got := u.Session.Job().Dowel.Measured.KeyMM; got != job.Num(10) {
		t.Errorf("one step back the key is %v", got)
	}
	test.Tap(u.Page.(*page).which.Buttons[1])
	chooseCard(t, u, 3)
	for _, o := range desktest.Shown(u.Page.(*page).benches[1].content) {
		if s, ok := o.(*kit.Select); ok && len(s.Options) == len(part.Dowels) {
			t.Error("a crankpin is offered the sizes of dowels")
		}
	}
}

func TestOldPartLiesBesideTheNew(t *testing.T) {
	u := onPart(t, bothFeatures(t))
	alone := desktest.Painted(u.Page.(*page).figure)
	other := desktest.File(t, "old.toml", desktest.MeasuredBy(desktest.ByMethod["angle"]))
	u.Page.(*page).CompareWith(other)
	beside := desktest.Painted(u.Page.(*page).figure)
	if beside == alone || !u.Page.(*page).overlay.Visible() || !strings.HasPrefix(u.Page.(*page).notes.Text, "The old part is that of old.toml.") {
		t.Errorf("compared, the notes are %q", u.Page.(*page).notes.Text)
	}
	u.Page.(*page).overlay.SetChecked(true)
	over := desktest.Painted(u.Page.(*page).figure)
	if over == beside || over == alone {
		t.Error("laid over each other, the figure is the same")
	}
	u.Page.(*page).CompareWith(desktest.File(t, "dowelless.toml", desktest.NoReading))
	if !strings.Contains(u.Page.(*page).notes.Text, "was not measured here") {
		t.Errorf("without a reading the notes are %q", u.Page.(*page).notes.Text)
	}
	test.Tap(u.Page.(*page).compare)
	if desktest.Painted(u.Page.(*page).figure) != alone || u.Page.(*page).overlay.Visible() {
		t.Error("taken away, the other part stays")
	}
	u.Page.(*page).CompareWith(desktest.File(t, "broken.toml", "format = 7"))
	if u.Page.(*page).old != nil || !strings.Contains(u.Said(), "broken.toml") {
		t.Errorf("a job that cannot be read is said as %q", u.Said())
	}
}

// The toolkit's dialogs of files have no size before they are shown.
func TestDialogsOfFilesOpen(t *testing.T) {
	u := onPart(t, desktest.PhotoJob(t, "nose-square.jpg"))
	for name, open := range map[string]func(){
		"Compare with the part of another job": u.Page.(*page).chooseOld,
		"Open a photograph":                    u.Page.(*page).photo.open,
	} {
		open()
		if !strings.Contains(u.Said(), name) {
			t.Errorf("%s: the window says %q", name, u.Said())
		}
		u.Dismiss()
		if u.Said() != "" {
			t.Errorf("%s: dismissed, the window says %q", name, u.Said())
		}
	}
}

func TestPartPageFitsASmallScreen(t *testing.T) {
	for _, name := range []string{"nose-square.jpg", ""} {
		u := desktest.New(t, Kind)
		u.InTurn = true
		if name != "" {
			u.OpenFile(t, desktest.PhotoFile(t, name))
		}
		u.OpenPage("part", "")
		for i := range u.Page.(*page).which.Buttons {
			test.Tap(u.Page.(*page).which.Buttons[i])
			if m := u.Root.MinSize(); m.Width > 1024 || m.Height > 600 {
				t.Errorf("%s: the page asks for %v", u.Page.(*page).which.Buttons[i].Text, m)
			}
		}
		u.Page.(*page).benches[0].choose(true)
		if m := u.Root.MinSize(); m.Width > 1024 || m.Height > 600 {
			t.Errorf("choosing, the page asks for %v", m)
		}
	}
}

func TestPartFieldsAreInSight(t *testing.T) {
	u := onPart(t, desktest.MeasuredBy(desktest.ByMethod["chord"]))
	d := fyne.CurrentApp().Driver()
	f := u.Page.(*page).form.Find("dowel.measured.chord_mm").Field
	if y := d.AbsolutePositionForObject(f).Y + f.Size().Height; y > 800 {
		t.Errorf("at 1280 × 800 the first field ends at %g", y)
	}
}
