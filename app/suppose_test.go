package app

import (
	"bytes"
	"strings"
	"testing"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/sheet"
)

// Paper shows the job as it is; asked for what is supposed it says so, in the title of
// every page. A claim is of what was measured and has no such choice.
func TestPaperSaysWhatIsSupposed(t *testing.T) {
	u := window(t)
	texts := func(supposed bool) string {
		var b bytes.Buffer
		if err := writeSheet(&b, u.sheetInput(false, supposed), jobSheet, ".html", sheet.Papers[0]); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	was := texts(false)
	wheel, air := 20.0, -7.0
	u.Suppose(func(w *finding.WhatIf) { w.WheelErrorDeg, w.AirC = &wheel, &air })
	if texts(false) != was {
		t.Error("a sheet that was not asked to has what is supposed")
	}
	if text := texts(true); !strings.Contains(text, "what if: the sensor wheel 20° ahead, air at −7 °C") || !strings.Contains(text, "What if: the sensor wheel 20° ahead") {
		t.Error("a sheet with what is supposed does not say so")
	}
	u.saveClaim()
	if strings.Contains(said(u), "supposed") {
		t.Error("a claim can have what is supposed")
	}
	u.Dismiss()
	u.saveJobSheet()
	contains(t, "the window", said(u)+ticks(u), "with the what-if")
	u.Dismiss()
	for _, name := range chart.Names { // the part is as it was measured
		d, err := u.Drawn(name, figure.Box{})
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if s := strings.ToLower(d.String()); name != "part" && !strings.Contains(s, "supposing the sensor wheel 20° ahead") && !strings.Contains(s, "what if: the sensor wheel 20° ahead") {
			t.Errorf("%s drawn with what is supposed does not say so", name)
		}
		u.AsIs(func() { d, err = u.Drawn(name, figure.Box{}) })
		if err != nil || strings.Contains(d.String(), "upposing") {
			t.Errorf("%s drawn as it is: %v", name, err)
		}
	}
}

// ticks are the words of the boxes to be ticked of the dialog on top.
func ticks(u *ui) string {
	text := ""
	for _, o := range shown(u.Window.Canvas().Overlays().Top()) {
		if c, ok := o.(*kit.Check); ok {
			text += c.Text + "\n"
		}
	}
	return text
}

// What is supposed is gone with the job it was supposed of, and where the job itself has
// become another; undo and another page leave it.
func TestWhatIsSupposedGoesWithItsJob(t *testing.T) {
	u := window(t)
	wheel, air := 20.0, -7.0
	both := func(w *finding.WhatIf) { w.WheelErrorDeg, w.AirC = &wheel, &air }
	u.Suppose(both)
	fill(t, u, "title", "Tug Wren")
	for i := range u.pages.kinds {
		u.pages.show(i)
	}
	u.Undo()
	if w := u.Supposed(); w.WheelErrorDeg == nil || w.AirC == nil {
		t.Errorf("supposed is %+v", w)
	}
	fill(t, u, "injection.air_c", "3")
	if w := u.Supposed(); w.WheelErrorDeg == nil || w.AirC != nil {
		t.Errorf("with another air temperature in the job supposed is %+v", w)
	}
	fill(t, u, "dowel.measured.chord_mm", "17.2")
	if u.Supposes() {
		t.Error("measured anew, the wheel error is still supposed")
	}
	u.Suppose(both)
	u.Begin(desk.NewSession("", desk.Demo(), nil))
	if u.Supposes() {
		t.Error("of another job the same is supposed")
	}
}

// A what-if is no evidence: causes and part are those of the job as it is, and the Cause
// page says so.
func TestWhatIsSupposedIsNoEvidence(t *testing.T) {
	u := window(t)
	u.OpenPage("cause", "")
	u.OpenPage("part", "")
	causes, part := words(u.pages.at(u.pages.place("cause")).Body()), words(u.pages.now().Body())
	const says = "These are the causes of what is known: the what-if does not count here. "
	wheel := 20.0
	u.Suppose(func(w *finding.WhatIf) { w.WheelErrorDeg = &wheel })
	u.OpenPage("cause", "")
	u.OpenPage("part", "")
	shown := words(u.pages.at(u.pages.place("cause")).Body())
	contains(t, "the Cause page", shown, says)
	if strings.Replace(shown, says, "", 1) != causes || words(u.pages.now().Body()) != part {
		t.Error("what is supposed counts as evidence")
	}
}

// What was measured on the part leads to the causes.
func TestThePartLeadsToTheEvidence(t *testing.T) {
	u := window(t)
	u.OpenPage("part", "")
	contains(t, "the part page", words(u.Root), "It counts as evidence on the Cause page: measured against the drawing, 28° behind ± 0.3°.")
	onPage(t, u, "Find the cause")
	if u.pages.kind().Name != "cause" {
		t.Error("it does not lead to the causes")
	}
}
