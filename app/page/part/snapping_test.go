package part

import (
	"math"
	"testing"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing/part/photo"
)

// Three clicks beside the rim of a sample photograph propose all of it; taken, the rim is
// within a pixel of the marks that a careful user placed half a pixel off, undo takes it
// back in one step, and with the box off points stay where they are put.
func TestRimIsProposed(t *testing.T) {
	m := desktest.MarksOf(t, "nose-square.jpg")
	u := onPhoto(t, "nose-square.jpg")
	p := u.Page.(*page)
	p.photo.clear()
	p.photo.snap.on.SetChecked(true)
	for _, i := range []int{0, 3, 6} {
		p.photo.placed("rim", m.Rim[i][0]+1.5, m.Rim[i][1]-1.5)
	}
	if p.photo.snap.kind != "rim" || !p.photo.snap.take.Visible() {
		t.Fatal("no rim is proposed")
	}
	if r := u.Session.Job().Dowel.Measured; len(r.Rim) != 3 {
		t.Fatalf("proposed, the job already holds %d points", len(r.Rim))
	}
	p.photo.snap.take.OnTapped()
	r := u.Session.Job().Dowel.Measured
	var rim []photo.Point
	for _, at := range r.Rim {
		rim = append(rim, photo.Point{X: at.X, Y: at.Y})
	}
	e, rms, err := photo.FitEllipse(rim)
	if err != nil || rms > 0.5 {
		t.Fatalf("%d points, rms %v: %v", len(rim), rms, err)
	}
	truth, _, err := photo.FitEllipse(points(m.Rim))
	if err != nil {
		t.Fatal(err)
	}
	if d := math.Hypot(e.Centre.X-truth.Centre.X, e.Centre.Y-truth.Centre.Y); d > 1 || math.Abs(e.Major-truth.Major) > 1 {
		t.Errorf("the rim is %+v, want %+v", e, truth)
	}
	if p.photo.snap.kind != "" || p.photo.panel().kind() != "keyway" {
		t.Errorf("taken, %q is proposed still, and the next click places %q", p.photo.snap.kind, p.photo.panel().kind())
	}
	u.Undo()
	if r := u.Session.Job().Dowel.Measured; len(r.Rim) != 3 {
		t.Errorf("undone, the rim has %d points", len(r.Rim))
	}
	p.photo.snap.on.SetChecked(false)
	p.photo.placed("rim", 10, 11)
	if r := u.Session.Job().Dowel.Measured; r.Rim[len(r.Rim)-1].X != 10 {
		t.Errorf("placed freely, the point is at %+v", r.Rim[len(r.Rim)-1])
	}
}

func points(list [][2]float64) (out []photo.Point) {
	for _, p := range list {
		out = append(out, photo.Point{X: p[0], Y: p[1]})
	}
	return out
}

// The middle of a dowel marked with one click stays where it was clicked, however near
// its edge is; from the second point on clicks come onto the edge, no further than the
// reach on the screen, and the point that came there is the selected one.
func TestMiddleStaysWhereItIsClicked(t *testing.T) {
	m := desktest.MarksOf(t, "nose-square.jpg")
	u := onPhoto(t, "nose-square.jpg")
	p := u.Page.(*page)
	b := p.photo
	p.photo.clear()
	b.snap.on.SetChecked(true)
	e, _, err := photo.FitEllipse(points(m.Dowel))
	if err != nil {
		t.Fatal(err)
	}
	at := func(k float64, to [2]float64) (x, y float64) { // from the middle, as a share of the way to an edge point
		return e.Centre.X + k*(to[0]-e.Centre.X), e.Centre.Y + k*(to[1]-e.Centre.Y)
	}
	b.panel().set("dowel")
	x, y := at(0.9, m.Dowel[0])
	b.placed("dowel", x, y)
	list := measured(u).Dowel
	if len(list) != 1 || math.Hypot(list[0].X-x, list[0].Y-y) > 0.1 {
		t.Fatalf("clicked at %.1f, %.1f it is %+v", x, y, list)
	}
	b.view.Select(0)
	b.view.Zoom(3)
	x, y = at(0.95, m.Dowel[3])
	b.click(x, y)
	list = measured(u).Dowel
	if len(list) != 2 {
		t.Fatalf("the dowel has %+v", list)
	}
	if math.Hypot(list[1].X-m.Dowel[3][0], list[1].Y-m.Dowel[3][1]) > 1.5 {
		t.Errorf("the edge is at %v, and the second point at %+v", m.Dowel[3], list)
	}
	if got := b.view.Selected(); got != 1 {
		t.Errorf("point %d is selected", got)
	}
	if tenth := list[1].X * 10; tenth != math.Round(tenth) {
		t.Errorf("the point is at %v", list[1])
	}
}

// No click is moved further than ten units of the screen, and some are moved nearly so far.
func TestReachIsTenUnits(t *testing.T) {
	m := desktest.MarksOf(t, "nose-square.jpg")
	u := onPhoto(t, "nose-square.jpg")
	b := u.Page.(*page).photo
	b.snap.on.SetChecked(true)
	far := 0.0
	for _, at := range m.Rim {
		for dx := -40.0; dx <= 40; dx += 4 {
			x, y := at[0]+dx, at[1]+dx/2
			to := b.snap.moved("rim", x, y)
			was, is := b.at(x, y), b.at(to.X, to.Y)
			far = max(far, math.Hypot(float64(is.X-was.X), float64(is.Y-was.Y)))
		}
	}
	if far < 8 || far > 10.2 { // it is kept in tenths of a pixel
		t.Errorf("the furthest move is of %.2f units", far)
	}
}

// What is proposed goes with the points that it was found from, and with the job.
func TestProposalGoesWithItsPoints(t *testing.T) {
	m := desktest.MarksOf(t, "nose-square.jpg")
	u := onPhoto(t, "nose-square.jpg")
	p := u.Page.(*page)
	propose := func() {
		t.Helper()
		p.photo.clear()
		p.photo.snap.on.SetChecked(true)
		for _, i := range []int{0, 3, 6} {
			p.photo.placed("rim", m.Rim[i][0], m.Rim[i][1])
		}
		if p.photo.snap.kind != "rim" {
			t.Fatal("no rim is proposed")
		}
	}
	for name, do := range map[string]func(){
		"undone":                     u.Undo,
		"with all points taken away": p.photo.clear,
		"with a point moved":         func() { p.photo.view.OnMove(0, 5, 6) },
		"in another job":             u.OpenDemo,
	} {
		u.OpenFile(t, desktest.PhotoFile(t, "nose-square.jpg"))
		propose()
		if do(); p.photo.snap.kind != "" {
			t.Errorf("%s, the rim is proposed still", name)
		}
	}
}
