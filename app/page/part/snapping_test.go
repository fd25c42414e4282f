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
