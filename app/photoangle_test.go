package app

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/job"
)

func TestPointsThatGiveNoAngle(t *testing.T) {
	m := marksOf(t, "nose-square.jpg")
	for i := range m.Rim {
		m.Rim[i] = [2]float64{400 + 30*float64(i), 500}
	}
	u := onPart(t, noReading+"measured = "+m.reading()+"\n")
	b := partOf(u).photo
	if !strings.Contains(u.head.notes.Text, "lie on a line") || !strings.HasPrefix(u.head.sentence.Text, "Where injection lands cannot be said") {
		t.Errorf("the head says %q, %q", u.head.sentence.Text, u.head.notes.Text)
	}
	b.picture.failed = nil // the picture itself is not what this is about
	b.loadFound()
	if !strings.HasPrefix(b.found.Text, "Rim of the face: the points lie") || strings.Contains(b.found.Text, "\n") {
		t.Errorf("the page says %q", b.found.Text)
	}
	if len(measured(u).Rim) != len(m.Rim) {
		t.Error("points were lost")
	}
}

func TestPictureOrToScale(t *testing.T) {
	u := onPhoto(t, "nose-bolts-tilted.jpg")
	p := partOf(u)
	if !p.looks.Content.Visible() || p.right.Objects[0] != p.photo.content {
		t.Fatal("the photograph is not shown")
	}
	test.Tap(p.looks.Buttons[lookToScale])
	if p.right.Objects[0] != fyne.CanvasObject(p.figure) || painted(p.figure) == "" {
		t.Error("the part is not drawn to scale")
	}
	test.Tap(p.looks.Buttons[lookMeasured])
	if p.right.Objects[0] != p.photo.content {
		t.Error("the photograph does not come back")
	}
	p.compareWith(photoFile(t, "nose-square.jpg"))
	if p.right.Objects[0] != fyne.CanvasObject(p.figure) || p.old == nil {
		t.Error("compared, both parts are not shown")
	}
	test.Tap(p.which.Buttons[1])
	if p.looks.Content.Visible() {
		t.Error("the keyway, not photographed, can be shown as a picture")
	}
}

func TestUnfinishedMarksAreShownWhenSaving(t *testing.T) {
	u := onPhoto(t, "nose-square.jpg")
	u.Edit("test", func(j *job.Job) { desk.PhotoIn(j, "dowel", "measured").Rim = nil })
	u.pages.show(0)
	u.save(nil)
	if !strings.Contains(said(u), "cannot be saved") || u.pages.kind().Name != "part" {
		t.Errorf("the window says %q", said(u))
	}
	u.Dismiss()
	if partOf(u).pictured() != "measured" || partOf(u).right.Objects[0] != partOf(u).photo.content {
		t.Error("the photograph is not shown")
	}
}

func TestCycleFormTellsOfThePhotograph(t *testing.T) {
	u := onPhoto(t, "nose-square.jpg")
	u.pages.show(0)
	if got := words(editor(t, u, "dowel", "measured").Content); !strings.Contains(got, "marked on the Part page") {
		t.Errorf("the form says %q", got)
	}
	// What was marked on a photograph cannot be read otherwise, but it can be supposed so.
	if got := cycleOf(u).Dowel.Words.Text; cycleOf(u).Dowel.Slider.Disabled() || !strings.Contains(got, "behind the keyway, drawn") {
		t.Errorf("beside the slider stands %q", got)
	}
}

// While a point is dragged the uncertainty is drawn 200 times: its own standard
// uncertainty is then 1/√(2·200) = 5 %, against 1/√(2·1000) = 2.2 %.
func TestCoarseAnglesAreNearTheFineOnes(t *testing.T) {
	u := onPhoto(t, "nose-square.jpg")
	fine, _ := partOf(u).photo.result()
	u.Photos.Coarse = true
	coarse, _ := partOf(u).photo.result()
	if fine.Clockwise.Value != coarse.Clockwise.Value || fine.Clockwise.U == coarse.Clockwise.U {
		t.Errorf("fine %v, coarse %v", fine.Clockwise, coarse.Clockwise)
	}
	if r := float64(coarse.Clockwise.U / fine.Clockwise.U); math.Abs(r-1) > 3*math.Hypot(0.05, 0.022) {
		t.Errorf("the coarse uncertainty is %g of the fine one", r)
	}
}
