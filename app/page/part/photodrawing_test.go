package part

import (
	"math"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// Where there is no drawing, a photograph of the old part stands in for it.
func TestADrawingOnAPhotograph(t *testing.T) {
	u := onPhoto(t, "nose-square.jpg")
	p, b := u.Page.(*page), u.Page.(*page).photo
	bench := p.benches[0]
	was := u.Session.Job()
	measureBy(t, bench.drawing, "photo")
	if p.pictured() != "measured" || !p.looks.Buttons[lookMeasured].Visible() || !p.looks.Buttons[lookDrawing].Visible() {
		t.Errorf("with both on photographs the page shows %q", p.pictured())
	}
	panel := bench.marks["drawing"]
	test.Tap(panel.rows.Buttons[1])
	if p.pictured() != "drawing" || b.key() != "dowel.drawing" || p.looks.Chosen != lookDrawing || b.view.PlaceKind != "keyway" {
		t.Fatalf("picking a kind of the drawing's points shows %q of %s, placing %q", p.pictured(), b.key(), b.view.PlaceKind)
	}
	if want := "Still missing: a photograph to mark, 5 points on the rim, both corners of the keyway, the dowel."; b.found.Text != want {
		t.Errorf("without a picture the page says %q, want %q", b.found.Text, want)
	}

	old, m := filepath.Join(u.Folder(), "old.jpg"), desktest.MarksOf(t, "nose-portrait.jpg")
	desktest.CopyFile(t, filepath.Join(desktest.PhotoFolder, "nose-portrait.jpg"), old)
	b.Take(old)
	b.view.Zoom(4) // a corner is near a point of the rim
	for _, c := range m.Keyway {
		b.click(c[0], c[1])
	}
	u.Edit("test", func(j *job.Job) {
		j.Dowel.Drawing.Rim, j.Dowel.Drawing.Dowel = desktest.Points(m.Rim), desktest.Points(m.Dowel)
	})
	now := u.Session.Job()
	if d := now.Dowel.Drawing; d.Method != "photo" || d.File != "old.jpg" || len(d.Keyway) != 2 {
		t.Fatalf("marked, the drawing is %+v", d)
	}
	if got := panel.rows.Buttons[1].Text; got != "Keyway: 2 of 2" {
		t.Errorf("the panel says %q", got)
	}
	if want := *was.Dowel.Measured; !(job.Job{Dowel: &job.Feature{Measured: now.Dowel.Measured}}).Equal(job.Job{Dowel: &job.Feature{Measured: &want}}) {
		t.Errorf("what was measured has become %+v", now.Dowel.Measured)
	}
	r, ok := b.result()
	found, err := finding.PartOf(u.Shown())
	if !ok || err != nil {
		t.Fatalf("no angle: %v; the page says %q", err, b.found.Text)
	}
	// Seen from the nose of an engine that turns clockwise, clockwise is positive.
	if d := *found.Dowel.DrawingDeg - m.True; math.Abs(d) > 3*float64(r.Clockwise.U) {
		t.Errorf("the drawing's angle is %g, the picture was made with %g", *found.Dowel.DrawingDeg, m.True)
	}

	doc, err := job.Read("", job.New(now).Bytes())
	if err != nil || !doc.Job().Equal(now) {
		t.Errorf("saved, the job reads otherwise: %v", err)
	}
	test.Tap(p.looks.Buttons[lookMeasured])
	if b.key() != "dowel.measured" || b.panel() != bench.marks["measured"] {
		t.Errorf("the measured one does not come back: %s", b.key())
	}
	measureBy(t, bench.drawing, "angle") // what was typed is not lost
	u.Is(t, was)
	if p.looks.Buttons[lookDrawing].Visible() {
		t.Error("a drawing read off can be shown as a picture")
	}
}

// A picture that is dropped goes where the page is.
func TestAPictureIsDroppedOnTheDrawing(t *testing.T) {
	u := onPart(t, desktest.NoReading)
	measureBy(t, u.Page.(*page).benches[0].drawing, "photo")
	if u.Page.(*page).pictured() != "drawing" || u.Page.(*page).looks.Chosen != lookDrawing {
		t.Fatalf("with only the drawing on a photograph %q is shown", u.Page.(*page).pictured())
	}
	full, _ := filepath.Abs(filepath.Join(desktest.PhotoFolder, "nose-square.jpg"))
	u.Page.(*page).Take(full)
	j := u.Session.Job()
	if filepath.FromSlash(j.Dowel.Drawing.File) != full || j.Dowel.Measured != nil {
		t.Errorf("dropped, the drawing is %+v, the measured %+v", j.Dowel.Drawing, j.Dowel.Measured)
	}
}

// What must be known about the drawing's photograph says whose it is.
func TestNotesOfTheDrawingsPhotograph(t *testing.T) {
	u := onPart(t, strings.Replace(desktest.NoReading, "drawing = { angle_deg = 12.5, side = \"clockwise\", u_deg = 0.1 }",
		"drawing = "+desktest.MarksOf(t, "nose-bolts-tilted.jpg").Reading()+"\nmeasured = { angle_deg = 12, side = \"clockwise\" }", 1))
	r, ok := u.Page.(*page).photo.resultOf("dowel.drawing")
	if !ok || len(finding.PhotoNotes(r)) < 2 {
		t.Fatal("nothing must be known about the photograph")
	}
	if want := "On the drawing's photograph: " + say(finding.PhotoNotes(r)[1]); !strings.Contains(u.Page.(*page).notes.Text, want) {
		t.Errorf("the page says %q, without %q", u.Page.(*page).notes.Text, want)
	}
}
