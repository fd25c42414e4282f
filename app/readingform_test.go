package app

import (
	"strings"
	"testing"
)

func TestSideNamesTheEndItIsSeenFrom(t *testing.T) {
	u := window(t)
	e := editor(t, u, "dowel", "measured")
	if got := e.Side.Selected; got != "anticlockwise, seen from the nose" {
		t.Errorf("the demo's dowel lies %q", got)
	}
	pick(t, u, "dowel.seen_from", "the flywheel end")
	if got := e.Side.Selected; got != "anticlockwise, seen from the flywheel end" {
		t.Errorf("seen from the other end it lies %q", got)
	}
	e.Side.SetSelected("clockwise, seen from the flywheel end")
	if got := u.Session.Job().Dowel.Measured.Side; got != "clockwise" {
		t.Errorf("the job has it %s", got)
	}
}

func TestMethodChangesAndComesBack(t *testing.T) {
	u := window(t)
	was := u.Session.Job()
	e := editor(t, u, "dowel", "measured")
	measureBy(t, e, "arc")
	if r := u.Session.Job().Dowel.Measured; r.Method != "arc" || r.ChordMM.Given || r.Side != "anticlockwise" {
		t.Errorf("along a rim the reading is %+v", r)
	}
	if f := inputOf(t, cycleOf(u).Form, "dowel.measured.arc_mm").Field; !strings.Contains(f.Fault(), "missing") {
		t.Errorf("beside the empty length stands %q", f.Fault())
	}
	fill(t, u, "dowel.measured.arc_mm", "10")
	fill(t, u, "dowel.measured.rim_radius_mm", "41")
	if len(u.Session.Faults()) > 0 {
		t.Errorf("the arc is refused: %v", u.Session.Faults())
	}
	arc := u.Session.Job()
	measureBy(t, e, "chord") // what was typed for it is there again
	is(t, u, was)
	measureBy(t, e, "arc")
	is(t, u, arc)

	for range 5 {
		u.Undo()
	}
	is(t, u, was)
	if got := inputOf(t, cycleOf(u).Form, "dowel.measured.chord_mm").Field.Text(); got != "16.18" {
		t.Errorf("undone, the chord's field shows %q", got)
	}
	for range 5 {
		u.Redo()
	}
	is(t, u, arc)
	if got := inputOf(t, cycleOf(u).Form, "dowel.measured.arc_mm").Field.Text(); got != "10" {
		t.Errorf("redone, the arc's field shows %q", got)
	}
}

func TestReadingTakenOutAndPutBack(t *testing.T) {
	u := window(t)
	was := u.Session.Job()
	e := editor(t, u, "dowel", "measured")
	e.Given.SetChecked(false)
	if u.Session.Job().Dowel.Measured != nil {
		t.Error("the reading is still in the job")
	}
	if !strings.Contains(u.head.sentence.Text, "starts as commanded") {
		t.Errorf("without a reading the sentence is %q", u.head.sentence.Text)
	}
	if e.Side.Visible() || e.Method.Visible() {
		t.Error("a reading that is not there can be edited")
	}
	if cycleOf(u).Dowel.Slider.Disabled() {
		t.Error("with a drawing alone, no dowel can be supposed")
	}
	e.Given.SetChecked(true)
	is(t, u, was)
	u.Undo()
	u.Undo()
	is(t, u, was)
	if u.Session.CanUndo() {
		t.Error("taking out and putting back are more than two steps")
	}
}

func TestPointsByCoordinates(t *testing.T) {
	u := window(t)
	measureBy(t, editor(t, u, "dowel", "measured"), "xy")
	for key, text := range map[string]string{
		"dowel.measured.centre": "0; 0",
		"dowel.measured.keyway": "27; 0",
		"dowel.measured.dowel":  "39,78; -9,92",
	} {
		if f := fill(t, u, key, text); f.Text() != text || f.Fault() != "" && key != "dowel.measured.centre" {
			t.Errorf("%s: typed %q, there stands %q with the fault %q", key, text, f.Text(), f.Fault())
		}
	}
	if len(u.Session.Faults()) > 0 {
		t.Fatalf("the points are refused: %v", u.Session.Faults())
	}
	// 9.92 below the keyway's line is clockwise as seen from the nose, at
	// atan(9.92/39.78) = 14.0°: hand calculation.
	if got := cycleOf(u).Dowel.Words.Text; !strings.HasPrefix(got, "14° ahead of the keyway") {
		t.Errorf("the dowel is said to lie %q", got)
	}
	if f := fill(t, u, "dowel.measured.dowel", "1; 2; 3"); !strings.Contains(f.Fault(), "two numbers") {
		t.Errorf("three numbers give the fault %q", f.Fault())
	}
}
