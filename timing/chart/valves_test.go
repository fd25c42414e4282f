package chart

import (
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
)

// The overlap of a four-stroke is the lead of the intake and the lag of the exhaust at
// TDC added (Heywood 1988, 6.2, from memory); in a two-stroke with scavenge ports and
// exhaust valves it is all the time that the ports are open. Degrees by hand from the
// jobs.
func TestValvesSayTheirOverlap(t *testing.T) {
	for _, c := range []struct {
		valves  string
		strokes string
		overlap string
		events  [4]string
	}{
		{"intake_opens_btdc_deg = 14\nintake_closes_abdc_deg = 36\nexhaust_opens_bbdc_deg = 48\nexhaust_closes_atdc_deg = 12\n", "4",
			"both valves open: 26° of overlap", [4]string{"intake opens 14° BTDC", "intake closes 36° ABDC", "exhaust opens 48° BBDC", "exhaust closes 12° ATDC"}},
		{"intake_opens_btdc_deg = -5\nintake_closes_abdc_deg = 30\nexhaust_opens_bbdc_deg = 30\nexhaust_closes_atdc_deg = 0\n", "4",
			"never both open: no overlap", [4]string{"intake opens 5° ATDC", "intake closes 30° ABDC", "exhaust opens 30° BBDC", "exhaust closes at TDC"}},
		{"intake_opens_btdc_deg = -128\nintake_closes_abdc_deg = 52\nexhaust_opens_bbdc_deg = 84\nexhaust_closes_atdc_deg = 238\n", "2",
			"both open: 104° of scavenging", [4]string{"scavenge ports open 52° BBDC", "scavenge ports close 52° ABDC", "exhaust opens 84° BBDC", "exhaust closes 58° ABDC"}},
	} {
		doc, err := job.Read("", []byte("format = 1\n[engine]\nstrokes = "+c.strokes+"\nfiring_order = [1, 2]\n[engine.valves]\n"+c.valves))
		if err != nil {
			t.Fatal(err)
		}
		in, err := Valves(doc.Job(), nil, 0, nil)
		if err != nil {
			t.Fatal(err)
		}
		if in.Overlap != c.overlap || in.Events != c.events {
			t.Errorf("%q, %q; want %q, %q", in.Overlap, in.Events, c.overlap, c.events)
		}
	}
	doc, err := job.Read("", []byte("format = 1\n[engine]\nstrokes = 4\nfiring_order = [1]\n"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Valves(doc.Job(), nil, 0, nil); err == nil || !strings.Contains(err.Error(), "when intake and exhaust open and close") {
		t.Errorf("without valve times: %v", err)
	}
}

// The line stands where the chosen cylinder does, and the caption says whose it is: in
// 1-3-4-2 cylinder 3 fires 180° after 1, so at 100 it is 80 before its firing, 640 into its
// own cycle.
func TestValvesNameTheCylinderOfTheLine(t *testing.T) {
	doc, err := job.Read("", []byte("format = 1\n[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n[engine.valves]\nintake_opens_btdc_deg = 14\nintake_closes_abdc_deg = 36\n"))
	if err != nil {
		t.Fatal(err)
	}
	crank := timing.Deg(100)
	for cylinder, want := range map[int]struct {
		at   timing.Deg
		says string
	}{
		0: {100, "The line shows where cylinder 1 is."},
		3: {640, "The line shows where cylinder 3 is."},
		9: {100, "The line shows where cylinder 1 is."}, // left over from a larger engine
	} {
		in, err := Valves(doc.Job(), &crank, cylinder, nil)
		if err != nil {
			t.Fatal(err)
		}
		if in.Cursor == nil || *in.Cursor != want.at || in.Caption[len(in.Caption)-1] != want.says {
			t.Errorf("cylinder %d: the line at %v, caption %q; want %v, %q", cylinder, in.Cursor, in.Caption, want.at, want.says)
		}
	}
	crank += 720 // a whole cycle on
	if in, _ := Valves(doc.Job(), &crank, 0, nil); in.Cursor == nil || *in.Cursor != 100 {
		t.Errorf("a cycle on the line is at %v, want 100", in.Cursor)
	}
	alone, _ := Drawing("valves", doc.Job(), Options{Cursor: &crank})
	if chosen, _ := Drawing("valves", doc.Job(), Options{Cursor: &crank, Selected: 3}); chosen.String() == alone.String() || !strings.Contains(chosen.String(), "cylinder 3") {
		t.Error("the written figure does not show the chosen cylinder")
	}
}

// Both spans are found wherever the cycle begins.
func TestSpansMeet(t *testing.T) {
	for _, c := range []struct {
		a, b timing.Span
		want timing.Span
		ok   bool
	}{
		{timing.Span{From: 346, To: 576}, timing.Span{From: 132, To: 372}, timing.Span{From: 346, To: 372}, true},
		{timing.Span{From: 700, To: 760}, timing.Span{From: 10, To: 100}, timing.Span{From: 730, To: 760}, true},
		{timing.Span{From: 10, To: 100}, timing.Span{From: 700, To: 760}, timing.Span{From: 10, To: 40}, true},
		{timing.Span{From: 0, To: 90}, timing.Span{From: 90, To: 200}, timing.Span{}, false},
	} {
		if got, ok := c.a.Meet(c.b, 720); got != c.want || ok != c.ok {
			t.Errorf("%v and %v meet in %v, %v; want %v", c.a, c.b, got, ok, c.want)
		}
	}
}
