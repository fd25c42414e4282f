package part

import (
	"math"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing/job"
)

func TestPointsThatGiveNoAngle(t *testing.T) {
	m := desktest.MarksOf(t, "nose-square.jpg")
	for i := range m.Rim {
		m.Rim[i] = [2]float64{400 + 30*float64(i), 500}
	}
	u := onPart(t, desktest.NoReading+"measured = "+m.Reading()+"\n")
	b := u.Page.(*page).photo
	if !strings.Contains(u.Notes(), "lie on a line") || !strings.HasPrefix(u.Answer(), "When injection starts is not known") {
		t.Errorf("the head says %q, %q", u.Answer(), u.Notes())
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
	p := u.Page.(*page)
	if !p.looks.Content.Visible() || p.right.Objects[0] != p.photo.content {
		t.Fatal("the photograph is not shown")
	}
	test.Tap(p.looks.Buttons[lookToScale])
	if p.right.Objects[0] != fyne.CanvasObject(p.figure) || desktest.Painted(p.figure) == "" {
		t.Error("the part is not drawn to scale")
	}
	test.Tap(p.looks.Buttons[lookMeasured])
	if p.right.Objects[0] != p.photo.content {
		t.Error("the photograph does not come back")
	}
	p.CompareWith(desktest.PhotoFile(t, "nose-square.jpg"))
	if p.right.Objects[0] != fyne.CanvasObject(p.figure) || p.old == nil {
		t.Error("compared, both parts are not shown")
	}
	test.Tap(p.which.Buttons[1])
	if p.looks.Content.Visible() {
		t.Error("the keyway, not photographed, can be shown as a picture")
	}
}

// While a point is dragged the uncertainty is drawn 200 times: its own standard
// uncertainty is then 1/√(2·200) = 5 %, against 1/√(2·1000) = 2.2 %.
func TestCoarseAnglesAreNearTheFineOnes(t *testing.T) {
	u := onPhoto(t, "nose-square.jpg")
	u.Photos.Coarse = true
	u.Edit("test", func(j *job.Job) { j.Dowel.Measured.Rim[0].X += 0.3 })
	coarse, _ := u.Page.(*page).photo.result()
	u.Photos.Coarse = false
	fine, _ := u.Page.(*page).photo.result()
	u.Photos.Coarse = true // of what lies as it did the finer answer serves
	if again, _ := u.Page.(*page).photo.result(); again.Clockwise != fine.Clockwise {
		t.Errorf("where nothing is moved the angle is %v, and was %v", again.Clockwise, fine.Clockwise)
	}
	if fine.Clockwise.Value != coarse.Clockwise.Value || fine.Clockwise.U == coarse.Clockwise.U {
		t.Errorf("fine %v, coarse %v", fine.Clockwise, coarse.Clockwise)
	}
	if r := float64(coarse.Clockwise.U / fine.Clockwise.U); math.Abs(r-1) > 3*math.Hypot(0.05, 0.022) {
		t.Errorf("the coarse uncertainty is %g of the fine one", r)
	}
}
