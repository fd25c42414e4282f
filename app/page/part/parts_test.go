package part

import (
	"fmt"
	"strings"
	"testing"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/timing/job"
)

const blankJob = `format = 1
[engine]
strokes = 4
firing_order = [1, 3, 4, 2]
[injection]
start_btdc_deg = 10
`

// partsJob may have parts.
var partsJob = strings.Replace(blankJob, "format = 1", "format = 2", 1)

// The way from an empty job to old and new beside each other: the old crankshaft is the
// first way offered, the readings go to the part that is chosen, and undo takes all of it
// back.
func TestOldAndNewBesideEachOther(t *testing.T) {
	u := onPart(t, blankJob)
	p := u.Page.(*page)
	if !p.parts.ways.Visible() || p.parts.ways.Objects[0] != p.parts.old || p.parts.add.Visible() {
		t.Fatal("the old crankshaft is not the first way offered")
	}
	before := u.Session.Job()
	p.parts.old.OnTapped()
	p.benches[0].take(job.MethodOf(&job.Reading{Method: "angle"}))
	into(t, u, "dowel.drawing.angle_deg", "12")
	p.benches[0].drawing.Side.SetSelectedIndex(0)
	p.parts.rows.Buttons[1].OnTapped()
	p.benches[0].take(job.MethodOf(&job.Reading{Method: "angle"}))
	into(t, u, "dowel.measured.angle_deg", "13")
	p.benches[0].editor.Side.SetSelectedIndex(1)
	j := u.Session.Job()
	if len(j.Parts) != 2 || j.Parts[0].Dowel.AngleDeg != job.Num(12) || j.Parts[1].Dowel.AngleDeg != job.Num(13) || j.Dowel != nil || j.Format != 2 {
		t.Fatalf("the job holds %+v", j)
	}
	desktest.Contains(t, "the rows", strings.Join(p.parts.names, "\n"), "Old crankshaft: datum, 12° clockwise", "New crankshaft: in the engine, 13° anticlockwise")
	// 12 clockwise to 13 anticlockwise is 25 behind, by hand.
	desktest.Contains(t, "the answer", u.Answer(), "25° later")
	for range 20 {
		u.Undo()
	}
	u.Is(t, before)
	if p.parts.several() || !p.parts.ways.Visible() {
		t.Error("undone, the list of parts is still there")
	}
}

// What a job without parts has measured goes with it, a third part takes readings of its
// own that change no answer, and a repair keeps what was there before.
func TestFurtherParts(t *testing.T) {
	u := onPart(t, desktest.MeasuredBy(desktest.ByMethod["angle"]))
	p := u.Page.(*page)
	was := u.Answer()
	p.parts.old.OnTapped()
	j := u.Session.Job()
	if len(j.Parts) != 3 || j.Parts[0].What != "drawing" || j.Parts[1].Use != job.UseEngine || j.Parts[2].Use != "" || p.parts.chosen != 2 {
		t.Fatalf("the job holds %+v", j.Parts)
	}
	p.benches[0].take(job.MethodOf(&job.Reading{Method: "angle"}))
	into(t, u, "dowel.other.angle_deg", "9.5")
	if words, _ := u.Wrong(); !strings.HasPrefix(words, "Old crankshaft, ") || strings.Contains(words, "part[") {
		t.Errorf("without a side it says %q", words)
	}
	p.benches[0].other.Side.SetSelectedIndex(0)
	if got := u.Session.Job().Parts[2].Dowel; got == nil || got.AngleDeg != job.Num(9.5) || u.Answer() != was {
		t.Errorf("the old part holds %+v, and the answer is %q, was %q", got, u.Answer(), was)
	}
	p.parts.rows.Buttons[1].OnTapped()
	p.parts.again.OnTapped()
	j = u.Session.Job()
	if len(j.Parts) != 4 || j.Parts[1].Use != job.UseBefore || j.Parts[3].Use != job.UseEngine || p.parts.chosen != 3 {
		t.Errorf("repaired it holds %+v", j.Parts)
	}
	p.parts.drop.OnTapped()
	if got := u.Session.Job().Parts; len(got) != 3 || p.parts.chosen != 2 {
		t.Errorf("without it the job holds %+v, and %d is shown", got, p.parts.chosen)
	}
}

// From which end the dowel's reading of a part is seen says nothing of its keyway's, and
// the rows give all parts as they are seen from one end.
func TestBenchesHaveTheirOwnEnds(t *testing.T) {
	u := onPart(t, partsJob+`[[part]]
name = "A"
use = "datum"
dowel = { angle_deg = 12, side = "clockwise" }
[[part]]
name = "B"
use = "engine"
seen_from = "flywheel"
dowel = { angle_deg = 13, side = "clockwise" }
keyway = { angle_deg = 40, side = "clockwise", seen_from = "nose" }
`)
	p := u.Page.(*page)
	// Clockwise from the flywheel is anticlockwise from the nose.
	desktest.Contains(t, "the rows", strings.Join(p.parts.names, "\n"), "A: datum, 12° clockwise", "B: in the engine, 13° anticlockwise")
	row := func(section string) *form.ChoiceInput {
		for _, in := range p.form.Inputs {
			if i, ok := in.(*form.ChoiceInput); ok && i.Key == section+".seen_from" {
				return i
			}
		}
		t.Fatalf("%s has no end", section)
		return nil
	}
	is := func(when, dowel, keyway string) {
		t.Helper()
		j := u.Session.Job().Compared()
		if j.Dowel.Measured.SeenFrom != dowel || j.Keyway.Measured.SeenFrom != keyway {
			t.Errorf("%s the dowel is seen from the %s and the keyway from the %s", when, j.Dowel.Measured.SeenFrom, j.Keyway.Measured.SeenFrom)
		}
		for section, end := range map[string]string{"dowel": dowel, "keyway": keyway} {
			if got := row(section).Sel.Selected; !strings.Contains(got, end) {
				t.Errorf("%s the bench of the %s says %q", when, section, got)
			}
		}
	}
	is("opened,", "flywheel", "nose")
	row("dowel").Sel.SetSelected("the nose (front end)")
	is("with the dowel turned,", "nose", "nose")
	row("keyway").Sel.SetSelected("the flywheel end")
	is("with the keyway turned,", "nose", "flywheel")
	row("dowel").Sel.SetSelected("the flywheel end")
	is("with both turned,", "flywheel", "flywheel")
	if r := u.Session.Job().Parts[1].Dowel; r.SeenFrom != "" {
		t.Errorf("the dowel keeps an end of its own, %q", r.SeenFrom)
	}
}

// Another job shows the part that is in its engine, and where a job has as many parts as
// it can have, none is added by a repair.
func TestChosenPartGoesWithItsJob(t *testing.T) {
	text := partsJob + "[[part]]\nname = \"A\"\nuse = \"datum\"\n[[part]]\nname = \"B\"\nuse = \"engine\"\n"
	u := onPart(t, text)
	p := u.Page.(*page)
	p.parts.rows.Buttons[0].OnTapped()
	p.parts.edit.OnTapped()
	if p.parts.chosen != 0 || p.parts.again.Disabled() {
		t.Fatalf("part %d is chosen", p.parts.chosen)
	}
	for i := 2; i < job.MaxParts; i++ {
		text += fmt.Sprintf("[[part]]\nname = \"%d\"\n", i)
	}
	u.OpenFile(t, desktest.File(t, "other.toml", text))
	if p.parts.chosen != 1 || p.parts.editing {
		t.Errorf("part %d of another job is shown, its name edited: %v", p.parts.chosen, p.parts.editing)
	}
	if !p.parts.again.Disabled() || !p.parts.add.Disabled() {
		t.Errorf("with %d parts another can be added", job.MaxParts)
	}
}
