package app

import (
	"strings"
	"testing"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

func TestFaultStandsBesideItsField(t *testing.T) {
	tests := []struct {
		key, text string
		says      []string // what is wrong, and what would be right
	}{
		{"engine.compression_ratio", "0.5", []string{"0.5", "above 1"}},
		{"engine.rod_mm", "50", []string{"50", "longer than half the stroke", "63"}},
		{"engine.firing_order", "1-5-3-6-2-2", []string{"cylinder 2 is listed twice"}},
		{"engine.firing_order", "", []string{"list"}},
		{"engine.firing_intervals_deg", "100 100 100 100 100 100", []string{"600", "720"}},
		{"injection.start_btdc_deg", "500", []string{"500", "180"}},
		{"crank_wheel.positions", "0", []string{"teeth"}},
		{"crank_wheel.missing", "99", []string{"99", "60"}},
		{"dowel.measured.chord_mm", "100", []string{"100"}},
		{"dowel.measured.chord_mm", "", []string{"missing"}},
		{"dowel.drawing.angle_deg", "200", []string{"200", "180"}},
	}
	u := window(t)
	for _, tt := range tests {
		t.Run(tt.key+"="+tt.text, func(t *testing.T) {
			before := cycleOf(u).Results.Table.Cells[1][2].Text + painted(cycleOf(u).Cycle) + painted(cycleOf(u).Wheel)
			field := paste(t, u, tt.key, tt.text)
			for _, s := range tt.says {
				if !strings.Contains(field.Fault(), s) {
					t.Errorf("the fault beside the field is %q, want %q in it", field.Fault(), s)
				}
			}
			if !strings.Contains(words(field), field.Fault()) {
				t.Error("the fault cannot be seen")
			}
			if now := cycleOf(u).Results.Table.Cells[1][2].Text + painted(cycleOf(u).Cycle) + painted(cycleOf(u).Wheel); now != before {
				t.Error("the figures do not keep the last sound job")
			}
			about := "before this error"
			if tt.text == "" && strings.Contains(tt.key, "measured") { // not typed yet is no mistake
				about = "The measurement is not complete yet"
			}
			if !strings.Contains(u.head.notes.Text, about) {
				t.Errorf("under the sentence stands %q", u.head.notes.Text)
			}
			u.Undo()
			if now := inputOf(t, cycleOf(u).Form, tt.key).Field; now.Fault() != "" || len(u.Session.Faults()) > 0 {
				t.Errorf("undone, the fault %q stays", now.Fault())
			}
		})
	}
}

// A value that looks like a slip is asked about beside its field, in plain words and in
// no colour of danger; the job takes it all the same.
func TestSlippedUnitIsAskedAboutBesideItsField(t *testing.T) {
	u := window(t)
	field := paste(t, u, "engine.bore_mm", "4.25")
	if want := "4.25 mm is unusual. If inches were meant, it would be 107.9 mm."; field.Fault() != want || !strings.Contains(words(field), want) {
		t.Errorf("beside the field stands %q, want %q", field.Fault(), want)
	}
	if j := u.Session.Job(); len(u.Session.Faults()) > 0 || j.Engine.BoreMM.Value != 4.25 {
		t.Errorf("the job has %v and faults %v", j.Engine.BoreMM, u.Session.Faults())
	}
	if paste(t, u, "engine.bore_mm", "108"); field.Fault() != "" {
		t.Errorf("an ordinary bore is asked about: %q", field.Fault())
	}
}

func TestTextThatIsNoValueStaysAndLeavesTheJob(t *testing.T) {
	u := window(t)
	was := u.Session.Job()
	for _, tt := range []struct{ key, text string }{
		{"engine.bore_mm", "abc"},
		{"engine.stroke_mm", ".5.5"},
		{"injection.start_btdc_deg", "--"},
		{"dowel.measured.chord_mm", "x"},
		{"crank_wheel.positions", "a"},
		{"engine.firing_order", "a-b"},
		{"engine.firing_intervals_deg", "a"},
		{"crank_wheel.missing", "?"},
	} {
		field := paste(t, u, tt.key, tt.text)
		if field.Text() != tt.text || !strings.Contains(field.Fault(), "number") {
			t.Errorf("%s: %q stands there with the fault %q", tt.key, field.Text(), field.Fault())
		}
		is(t, u, was)
	}
	// What was typed outlives an edit of something else, and goes with an undo.
	fill(t, u, "notes", "n")
	if got := inputOf(t, cycleOf(u).Form, "engine.bore_mm").Field; got.Text() != "abc" || got.Fault() == "" {
		t.Errorf("after another edit %q stands there with the fault %q", got.Text(), got.Fault())
	}
	u.Undo()
	if got := inputOf(t, cycleOf(u).Form, "engine.bore_mm").Field; got.Text() != "108" || got.Fault() != "" {
		t.Errorf("after an undo %q stands there with the fault %q", got.Text(), got.Fault())
	}
}

func TestTextThatIsNoValueEndsWhereItWasStillOne(t *testing.T) {
	u := window(t)
	field := fill(t, u, "engine.bore_mm", "12,,5")
	if field.Text() != "12,,5" || !strings.Contains(field.Fault(), "“12,,5” is not a number") {
		t.Errorf("%q stands there with the fault %q", field.Text(), field.Fault())
	}
	if got := u.Session.Job().Engine.BoreMM; got != job.Num(12) {
		t.Errorf("the job has %v, want the 12 that stood there last", got)
	}
}

func TestSavingIsRefusedWhileAFieldCannotBeRead(t *testing.T) {
	u := on(t, string(assets.DemoJob))
	fill(t, u, "engine.bore_mm", "112x")
	u.save(nil)
	if !strings.Contains(said(u), "“112x” is not a number") {
		t.Errorf("saving with 112x in a field, the window says %q", said(u))
	}
	if got := read(t, u.Session.Path); got != string(assets.DemoJob) {
		t.Error("the file was written all the same")
	}
}

func TestUnreadableTextGoesWithItsJob(t *testing.T) {
	u := window(t)
	fill(t, u, "engine.bore_mm", "abc")
	u.openDemo()
	if said(u) != "" {
		press(t, u, "Do not save")
	}
	if got := inputOf(t, cycleOf(u).Form, "engine.bore_mm").Field; got.Text() != "108" || got.Fault() != "" {
		t.Errorf("on another job %q stands there with the fault %q", got.Text(), got.Fault())
	}
}
