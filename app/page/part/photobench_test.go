package part

import (
	"fmt"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// at is where a pixel of the picture is shown in the view.
func (b *photoBench) at(x, y float64) fyne.Position {
	const units = 96.0 / 72 // of Fyne to the point
	px, py := b.view.View().Apply(x, y)
	return fyne.NewPos(float32(px*units), float32(py*units))
}

func primary(p fyne.Position) *desktop.MouseEvent {
	return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: p}, Button: desktop.MouseButtonPrimary}
}

// click marks a pixel of the picture as the user does.
func (b *photoBench) click(x, y float64) {
	p := primary(b.at(x, y))
	b.view.MouseDown(p)
	b.view.MouseUp(p)
}

// drag takes a point from one pixel to another, in several steps. The first, by
// which a drag is told from a click, moves nothing.
func (b *photoBench) drag(x0, y0, x1, y1 float64) {
	b.view.MouseDown(primary(b.at(x0, y0)))
	const steps, shake = 8, 20
	for i := 0.0; i <= steps; i++ {
		e := &fyne.DragEvent{}
		e.Position = b.at(x0+(x1-x0)*i/steps, y0+(y1-y0)*i/steps).AddXY(shake, 0)
		b.view.Dragged(e)
	}
	b.view.DragEnd()
	b.view.MouseUp(primary(b.at(x1, y1)))
}

func measured(u *desktest.Bench) *job.Reading { return u.Session.Job().Dowel.Measured }

func TestMarkingAPhotograph(t *testing.T) {
	u := onPart(t, desktest.NoReading)
	before := u.Answer()
	chooseCard(t, u, form.Photograph)
	b := u.Page.(*page).photo
	if want := "Still missing: a photograph to mark, 5 points on the rim, both corners of the keyway, the dowel."; b.found.Text != want {
		t.Errorf("without a picture the page says %q, want %q", b.found.Text, want)
	}
	if e := u.Page.(*page).benches[0].editor; e.Message.Visible() {
		t.Errorf("points not marked yet are the fault %q", e.Message.Text)
	}
	name := "nose-square.jpg"
	full, _ := filepath.Abs(filepath.Join(desktest.PhotoFolder, name))
	b.Take(full)
	m := desktest.MarksOf(t, name)
	for i, p := range m.Rim {
		b.click(p[0], p[1])
		if got := len(measured(u).Rim); got != i+1 {
			t.Fatalf("after %d clicks there are %d rim points", i+1, got)
		}
		if (b.rim != nil) != (i >= 4) {
			t.Errorf("with %d points an ellipse is drawn: %v", i+1, b.rim != nil)
		}
	}
	if got := b.panel().rows.Buttons[0].Text; got != "Rim of the face: 10" {
		t.Errorf("the panel says %q", got)
	}
	if want := "Still missing: both corners of the keyway, the dowel."; b.found.Text != want || u.Answer() != before {
		t.Errorf("with the rim marked the page says %q and the head %q", b.found.Text, u.Answer())
	}
	b.view.FitMarks() // far from the picture a corner cannot be told from the rim point next to it
	test.Tap(b.panel().rows.Buttons[1])
	for _, p := range m.Keyway {
		b.click(p[0], p[1])
	}
	if b.view.PlaceKind != "dowel" || b.panel().kind() != "dowel" {
		t.Errorf("after both corners a click places %q", b.view.PlaceKind)
	}
	near := &fyne.ScrollEvent{Scrolled: fyne.NewDelta(0, 25*9)} // nine notches of the wheel, five times as large
	near.Position = b.at(m.Dowel[0][0], m.Dowel[0][1])
	b.view.Scrolled(near)
	for _, p := range m.Dowel {
		b.click(p[0], p[1])
	}
	if got := len(measured(u).Dowel); got != len(m.Dowel) {
		t.Fatalf("%d clicks on the dowel placed %d points", len(m.Dowel), got)
	}
	r, ok := b.result()
	if !ok {
		t.Fatalf("no angle; the page says %q", b.found.Text)
	}
	// The clicks were rounded to a screen's pixels: still within three times the
	// uncertainty of the sample's true angle.
	if d := math.Abs(float64(r.Clockwise.Value) - m.True); d > 3*float64(r.Clockwise.U) {
		t.Errorf("the angle is %v, the picture was made with %g", r.Clockwise, m.True)
	}
	if want := say(finding.PhotoNotes(r)[0]); b.found.Text != want || !strings.HasPrefix(want, "The photograph shows 1") {
		t.Errorf("the page says %q, want %q", b.found.Text, want)
	}
	if u.Answer() == before || u.Answer() != sentence(t, u.Shown()) {
		t.Errorf("the head says %q", u.Answer())
	}
	for _, n := range finding.PhotoNotes(r)[1:] {
		if !strings.Contains(u.Page.(*page).notes.Text, say(n)) {
			t.Errorf("the notes do not say %q", say(n))
		}
	}
	if !strings.HasPrefix(u.Page.(*page).verdict.Text, "The part is mirrored") {
		t.Errorf("the verdict is %q", u.Page.(*page).verdict.Text)
	}
	// Every point is a step of its own.
	for i := len(m.Dowel) - 1; i >= 0; i-- {
		u.Undo()
		if got := len(measured(u).Dowel); got != i {
			t.Fatalf("undone, there are %d dowel points, want %d", got, i)
		}
	}
	u.Undo()
	if got := len(measured(u).Keyway); got != 1 {
		t.Errorf("one step further there are %d corners", got)
	}
}

func TestPointsAreMovedAndTakenAway(t *testing.T) {
	u := onPhoto(t, "nose-square.jpg")
	b := u.Page.(*page).photo
	was := u.Session.Job()
	m := desktest.MarksOf(t, "nose-square.jpg")
	sentences := u.Answer()

	x, y := m.Rim[3][0], m.Rim[3][1]
	b.drag(x, y, x+60, y-30)
	to := measured(u).Rim[3]
	if math.Hypot(to.X-x-60, to.Y-y+30) > 1 || len(measured(u).Rim) != len(m.Rim) {
		t.Errorf("dragged, the point is at %v", to)
	}
	if u.Photos.Coarse || u.Photos.Coarsely {
		t.Error("dragged, the angle is still a coarse one")
	}
	u.Undo()
	u.Is(t, was)
	if u.Session.CanUndo() || u.Answer() != sentences {
		t.Error("a drag takes more than one step to undo")
	}

	b.view.Select(3)
	b.view.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	if got := measured(u).Rim[3].X; math.Abs(got-x-1) > 1e-9 {
		t.Errorf("an arrow key takes it from %g to %g", x, got)
	}
	u.Undo()
	u.Is(t, was)

	b.view.Select(len(m.Rim)) // the first corner of the keyway
	b.loadRemove()
	test.Tap(b.remove)
	if got := measured(u).Keyway; len(got) != 1 || got[0].X != m.Keyway[1][0] {
		t.Errorf("taken away, the corners are %v", got)
	}
	if want := "Still missing: the other corner of the keyway."; b.found.Text != want || !b.remove.Disabled() {
		t.Errorf("taken away, the page says %q", b.found.Text)
	}
	u.Undo()
	u.Is(t, was)

	test.Tap(b.panel().clear)
	if r := measured(u); len(r.Rim)+len(r.Keyway)+len(r.Dowel) != 0 || r.File == "" || !b.panel().clear.Disabled() {
		t.Errorf("all taken away, there are %+v", r)
	}
	u.Undo()
	u.Is(t, was)
}

func TestAFullKindTakesNoMorePoints(t *testing.T) {
	u := onPhoto(t, "nose-square.jpg")
	b, m := u.Page.(*page).photo, desktest.MarksOf(t, "nose-square.jpg")
	b.panel().set("keyway")
	b.click(m.Keyway[1][0]+40, m.Keyway[1][1]+25)
	got := measured(u).Keyway
	if len(got) != 2 || got[0] != (job.Point{X: m.Keyway[0][0], Y: m.Keyway[0][1]}) || math.Abs(got[1].X-m.Keyway[1][0]-40) > 1 {
		t.Errorf("a third corner makes them %v", got)
	}
	b.panel().set("centre")
	for _, dx := range []float64{0, 80} {
		b.click(m.Centre[0][0]+dx, m.Centre[0][1])
	}
	if got := measured(u).Centre; len(got) != 1 || math.Abs(got[0].X-m.Centre[0][0]-80) > 1 {
		t.Errorf("a second centre makes them %v", got)
	}
}

func TestKeywayOnAPhotograph(t *testing.T) {
	m := desktest.MarksOf(t, "nose-square.jpg")
	u := onPart(t, desktest.NoReading)
	test.Tap(u.Page.(*page).which.Buttons[1])
	chooseCard(t, u, form.Photograph)
	full, _ := filepath.Abs(filepath.Join(desktest.PhotoFolder, m.File))
	b := u.Page.(*page).photo
	b.Take(full)
	for _, p := range m.Rim {
		b.click(p[0], p[1])
	}
	b.view.FitMarks()
	b.panel().set("keyway")
	for _, p := range m.Keyway {
		b.click(p[0], p[1])
	}
	if b.view.PlaceKind != "throw" || b.found.Text != "Still missing: the No. 1 throw." {
		t.Errorf("after both corners a click places %q, and the page says %q", b.view.PlaceKind, b.found.Text)
	}
	for _, p := range m.Dowel { // it stands in for the throw
		b.click(p[0], p[1])
	}
	p, err := finding.PartOf(u.Shown())
	if err != nil || p.Keyway == nil || p.Keyway.MeasuredDeg == nil {
		t.Fatalf("no angle: %v, the page says %q", err, b.found.Text)
	}
	// From the throw to the keyway: the other way than from the keyway to a dowel.
	if got := *p.Keyway.MeasuredDeg; math.Abs(got+m.True) > 1.5 {
		t.Errorf("the keyway is at %g°, want %g°", got, -m.True)
	}
}

func TestWantedPoints(t *testing.T) {
	of := func(n int) []job.Point { return make([]job.Point, n) }
	for _, c := range []struct {
		r             job.Reading
		section, kind string
		want          string
	}{
		{job.Reading{}, "dowel", "file", "a photograph to mark"},
		{job.Reading{File: "x.jpg"}, "dowel", "file", ""},
		{job.Reading{Rim: of(2)}, "dowel", "rim", "3 points on the rim"},
		{job.Reading{Rim: of(4)}, "dowel", "rim", "one more point on the rim"},
		{job.Reading{Rim: of(5)}, "dowel", "rim", ""},
		{job.Reading{Keyway: of(2)}, "dowel", "keyway", ""},
		{job.Reading{Dowel: of(2)}, "dowel", "dowel", "one more point on the edge of the dowel or throw"},
		{job.Reading{Dowel: of(1)}, "dowel", "dowel", ""},
		{job.Reading{}, "keyway", "throw", "the No. 1 throw"},
		{job.Reading{}, "keyway", "dowel", ""},
		{job.Reading{Bolts: of(3)}, "dowel", "bolts", "one more bolt hole"},
		{job.Reading{}, "dowel", "bolts", ""},
	} {
		if got := desk.Wanted(&c.r, c.section, c.kind); got != c.want {
			t.Errorf("%s: %q, want %q", fmt.Sprint(c.section, " ", c.kind), got, c.want)
		}
	}
}
