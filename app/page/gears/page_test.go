package gears

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// geared returns the page on a bare desk, of the demo job or of
// another.
func geared(t testing.TB, text string) (*desktest.Bench, *page) {
	t.Helper()
	u := desktest.New(t, Kind)
	if text != "" {
		u.OpenFile(t, desktest.File(t, "job.toml", text))
	}
	return u, u.Page.(*page)
}

// typeInto types over what stands in a field of the page's.
func (p *page) typeInto(t testing.TB, key, text string) {
	t.Helper()
	desktest.Retype(p.u.Window.Canvas(), p.form.Find(key).Field, text)
	p.u.Window.Canvas().Unfocus()
}

// The demo's train: 36, 53 and 72 teeth have 3816 = 106 · 36 as least common
// multiple (hand calculation).
func TestGearsPageAnswersFirst(t *testing.T) {
	u, p := geared(t, "")
	desktest.Contains(t, "the page", desktest.Words(p.content), "The camshaft is correctly timed.", "All marks are aligned here, as they were set.",
		"All marks are aligned again only after 106 crankshaft turns.", "One tooth out, at any mesh, moves the camshaft by 10 crank degrees.",
		"every tooth of one meets every tooth of the other", "Seen from the nose")
	if len(desktest.Rasters(p.content)) != 1 {
		t.Errorf("there are %d figures on the page", len(desktest.Rasters(p.content)))
	}
	for key, want := range map[string]string{"gears.crank_teeth": "36", "gears.idler_teeth": "53", "gears.cam_teeth": "72", "gears.cam_teeth_out": ""} {
		if got := p.form.Find(key).Field.Text(); got != want {
			t.Errorf("%s shows %q, want %q", key, got, want)
		}
	}
	u.Is(t, desk.Demo().Job())
}

func TestGearsTurnWithTheCrank(t *testing.T) {
	u, p := geared(t, "")
	at0 := desktest.Painted(p.view)
	u.SetAt(20)
	if desktest.Painted(p.view) == at0 {
		t.Error("the train has not turned with the crank")
	}
	desktest.Contains(t, "the marks", p.marks.Text, "20 crank degrees ahead of where")
	for range 35 { // to 720, by steps that go over the end of the cycle
		u.SetAt(u.At + 20)
	}
	desktest.Contains(t, "after two turns", p.marks.Text, "After 2 turns the crankshaft and camshaft marks are back", "is 19 of its 53 teeth away") // 2 · 36 = 72 = 53 + 19
	if u.At != 0 {
		t.Errorf("the crank stands at %v", u.At)
	}
	if desktest.Painted(p.view) == at0 {
		t.Error("the idler's mark is back after two turns")
	}
	p.turnTo(106 * timing.Turn)
	desktest.Contains(t, "after all turns", p.marks.Text, "All marks are aligned again here, after 106 crankshaft turns.")
	if desktest.Painted(p.view) != at0 {
		t.Error("after 106 turns the marks are not where they were")
	}
	for _, c := range []struct{ button, want string }{
		{"+1 turn", "half a turn away"},
		{"All marks together", "All marks are aligned here, as they were set."},
		{"−1 turn", "half a turn away"},
	} {
		desktest.TapButton(t, p.content, c.button)
		desktest.Contains(t, "after "+c.button, p.marks.Text, c.want)
	}
}

func TestSupposedTeethChangeNoJob(t *testing.T) {
	u, p := geared(t, "")
	was, right := u.Session.Job(), desktest.Painted(p.view)
	test.Tap(p.suppose.less)
	desktest.Contains(t, "the sentence", p.sentence.Text, "What if: the camshaft gear 1 tooth behind. The camshaft is 10 crank degrees behind")
	desktest.Contains(t, "the stepper", p.suppose.words.Text, "1 tooth behind")
	desktest.Contains(t, "the marks", p.marks.Text, "Here all marks would be aligned", "is one tooth behind its place")
	if desktest.Painted(p.view) == right {
		t.Error("the figure shows no gear out")
	}
	u.Is(t, was)
	test.Tap(p.suppose.more)
	test.Tap(p.suppose.more)
	test.Tap(p.suppose.more)
	desktest.Contains(t, "the sentence", p.sentence.Text, "2 teeth ahead. The camshaft is 20 crank degrees ahead")
	test.Tap(p.suppose.back)
	if p.sentence.Text != "The camshaft is correctly timed." || desktest.Painted(p.view) != right {
		t.Errorf("back, the page says %q", p.sentence.Text)
	}
	test.Tap(p.suppose.more)
	test.Tap(p.suppose.take)
	if got := u.Session.Job().Gears.CamTeethOut; got != 1 {
		t.Errorf("the job has %d teeth out", got)
	}
	desktest.Contains(t, "the sentence", p.sentence.Text, "The camshaft is 10 crank degrees ahead")
	if p.form.Find("gears.cam_teeth_out").Field.Text() != "1" {
		t.Error("the field does not show it")
	}
	u.Undo()
	u.Is(t, was)
}

func TestGearsTable(t *testing.T) {
	_, p := geared(t, "")
	list, err := finding.TeethOut(desk.Demo().Job(), mostTeeth)
	if err != nil {
		t.Fatal(err)
	}
	if len(p.table.Cells) != 1+len(list) {
		t.Fatalf("the table has %d rows", len(p.table.Cells))
	}
	var row []string
	for _, c := range p.table.Cells[2*mostTeeth+1-2] { // two teeth behind the last: one ahead
		row = append(row, c.Text)
	}
	// Closing at 36° ABDC, less 10; wheel error −28 less 10. By hand.
	if got, want := strings.Join(row, "|"), "1 tooth ahead|10° ahead|26° ABDC|correlation error −38°"; got != want {
		t.Errorf("one tooth ahead is %q, want %q", got, want)
	}
}

func TestGearsTypedFromNothing(t *testing.T) {
	u, p := geared(t, strings.Split(string(assets.DemoJob), "[gears]")[0])
	desktest.Contains(t, "the page", desktest.Words(p.content), "The gear train cannot be shown yet.", "Type the tooth counts")
	if !p.suppose.more.Disabled() || !p.suppose.take.Disabled() {
		t.Error("teeth can be supposed out of no gears")
	}
	p.typeInto(t, "gears.crank_teeth", "30")
	p.typeInto(t, "gears.idler_teeth", "41, 37")
	p.typeInto(t, "gears.cam_teeth", "61")
	desktest.Contains(t, "the fault", p.form.Find("gears.cam_teeth").Field.Fault(), "so a crankshaft gear of 30 teeth goes with 60")
	p.typeInto(t, "gears.cam_teeth", "60")
	desktest.Contains(t, "the page", desktest.Words(p.content), "The camshaft is correctly timed.")
	if g := u.Session.Job().Gears; g.CrankTeeth != 30 || len(g.IdlerTeeth) != 2 || g.CamTeeth != 60 {
		t.Errorf("the job has %+v", g)
	}
	p.typeInto(t, "gears.cam_teeth_out", "−2")
	desktest.Contains(t, "the page", p.sentence.Text, "The camshaft is 24 crank degrees behind")
	for _, key := range []string{"gears.crank_teeth", "gears.idler_teeth", "gears.cam_teeth", "gears.cam_teeth_out"} {
		p.typeInto(t, key, "")
	}
	if u.Session.Job().Gears != nil {
		t.Error("emptied, the section is still there")
	}
}

func TestFaultLeadsToTheGears(t *testing.T) {
	u, p := geared(t, "")
	u.Edit("test", func(j *job.Job) { j.Gears.CamTeeth = 71 })
	u.Leave()
	u.Show("gears.cam_teeth")
	if !u.IsOpen(Kind.Name) || u.Window.Canvas().Focused() != p.form.Find("gears.cam_teeth").Focus() {
		t.Error("the fault does not lead to its field")
	}
}

func TestGearsPageFits(t *testing.T) {
	u, p := geared(t, "")
	const head = 120 // what stands over every page, at ordinary text size
	for _, scale := range []float32{1, 1.5, 2} {
		u.SetTextSize(scale)
		if m := u.Root.MinSize(); m.Width > 1024 || m.Height > 640-36-head {
			t.Errorf("at %g the window needs %v", scale, m)
		}
	}
	if strings.Contains(desktest.Words(p.content), "{{") {
		t.Error("a place is open")
	}
}

func TestGearsCrankStrip(t *testing.T) {
	u, p := geared(t, "")
	if p.Strip() != p.transport {
		t.Error("the page does not give its own strip")
	}
	desktest.Retype(u.Window.Canvas(), p.transport.Entry, "90")
	u.Window.Canvas().Unfocus()
	if u.At != 90 {
		t.Errorf("the crank stands at %v", u.At)
	}
	u.Run.Toggle()
	if p.transport.Run.Icon == nil || !u.Run.On() {
		t.Error("the crank does not run")
	}
	u.Run.Stop()
}
