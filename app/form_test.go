package app

import (
	"strings"
	"testing"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
)

// fields are the form's fields on the demo job, what is typed into each, and
// what the job then holds.
var fields = []struct {
	key, text string
	want      func(*job.Job)
	quiet     bool // nothing on the screen but the field rests on it
}{
	{key: "title", text: "Ferry Alma", want: func(j *job.Job) { j.Title = "Ferry Alma" }},
	{key: "notes", text: "checked twice", want: func(j *job.Job) { j.Notes = "checked twice" }, quiet: true},
	{key: "engine.firing_order", text: "1-4-2-6-3-5", want: func(j *job.Job) { j.Engine.FiringOrder = []int{1, 4, 2, 6, 3, 5} }},
	{key: "engine.firing_order", text: "1, 4 2;6,3–5", want: func(j *job.Job) { j.Engine.FiringOrder = []int{1, 4, 2, 6, 3, 5} }},
	{key: "engine.firing_intervals_deg", text: "110 130 110 130 110 130",
		want: func(j *job.Job) { j.Engine.FiringIntervalsDeg = []float64{110, 130, 110, 130, 110, 130} }},
	{key: "engine.firing_intervals_deg", text: "110,5; 129,5; 110; 130; 110; 130",
		want: func(j *job.Job) { j.Engine.FiringIntervalsDeg = []float64{110.5, 129.5, 110, 130, 110, 130} }},
	{key: "engine.bore_mm", text: "", want: func(j *job.Job) { j.Engine.BoreMM = job.Number{} }},
	{key: "engine.bore_mm", text: "110,5", want: func(j *job.Job) { j.Engine.BoreMM = job.Num(110.5) }, quiet: true},
	{key: "engine.stroke_mm", text: "160", want: func(j *job.Job) { j.Engine.StrokeMM = job.Num(160) }},
	{key: "engine.rod_mm", text: "100.25", want: func(j *job.Job) { j.Engine.RodMM = job.Num(100.25) }},
	{key: "engine.pin_offset_mm", text: "−60,5", want: func(j *job.Job) { j.Engine.PinOffsetMM = job.Num(-60.5) }},
	{key: "engine.compression_ratio", text: "18.5", want: func(j *job.Job) { j.Engine.CompressionRatio = job.Num(18.5) }, quiet: true},
	{key: "engine.valves.intake_opens_btdc_deg", text: "-20", want: func(j *job.Job) { j.Engine.Valves.IntakeOpensBTDCDeg = job.Num(-20) }},
	{key: "engine.valves.intake_closes_abdc_deg", text: "50", want: func(j *job.Job) { j.Engine.Valves.IntakeClosesABDCDeg = job.Num(50) }},
	{key: "engine.valves.exhaust_opens_bbdc_deg", text: "60", want: func(j *job.Job) { j.Engine.Valves.ExhaustOpensBBDCDeg = job.Num(60) }},
	{key: "engine.valves.exhaust_closes_atdc_deg", text: "", want: func(j *job.Job) { j.Engine.Valves.ExhaustClosesATDCDeg = job.Number{} }},
	{key: "injection.start_btdc_deg", text: "12,5", want: func(j *job.Job) { j.Injection.StartBTDCDeg = job.Num(12.5) }},
	{key: "injection.cranking_rpm", text: "210,5", want: func(j *job.Job) { j.Injection.CrankingRPM = job.Num(210.5) }, quiet: true},
	{key: "injection.air_c", text: "-8", want: func(j *job.Job) { j.Injection.AirC = job.Num(-8) }, quiet: true},
	{key: "injection.air_kpa", text: "", want: func(j *job.Job) { j.Injection.AirKPa = job.Number{} }, quiet: true},
	{key: "injection.cetane", text: "45", want: func(j *job.Job) { j.Injection.Cetane = job.Num(45) }, quiet: true},
	{key: "engine.compression_gauge_bar", text: "26", want: func(j *job.Job) { j.Engine.CompressionGaugeBar = job.Num(26) }}, // how probable the causes are moves with it
	{key: "engine.compression_gauge_rpm", text: "185", want: func(j *job.Job) { j.Engine.CompressionGaugeRPM = job.Num(185) }, quiet: true},
	{key: "dowel.drawing.angle_deg", text: "13", want: func(j *job.Job) { j.Dowel.Drawing.AngleDeg = job.Num(13) }},
	{key: "dowel.drawing.u_deg", text: "0,5", want: func(j *job.Job) { j.Dowel.Drawing.UDeg = job.Num(0.5) }},
	{key: "dowel.measured.chord_mm", text: "17,2", want: func(j *job.Job) { j.Dowel.Measured.ChordMM = job.Num(17.2) }},
	{key: "dowel.measured.dowel_radius_mm", text: "40", want: func(j *job.Job) { j.Dowel.Measured.DowelRadiusMM = job.Num(40) }},
	{key: "dowel.measured.keyway_radius_mm", text: "28", want: func(j *job.Job) { j.Dowel.Measured.KeywayRadiusMM = job.Num(28) }},
	{key: "dowel.measured.u_mm", text: "0.5", want: func(j *job.Job) { j.Dowel.Measured.UMM = job.Num(0.5) }},
	{key: "dowel.measured.u_radius_mm", text: "0.9", want: func(j *job.Job) { j.Dowel.Measured.URadiusMM = job.Num(0.9) }},
	{key: "keyway.drawing.angle_deg", text: "80", want: func(j *job.Job) { j.Keyway.Drawing.AngleDeg = job.Num(80) }},
	{key: "keyway.measured.angle_deg", text: "88", want: func(j *job.Job) { j.Keyway.Measured.AngleDeg = job.Num(88) }},
	{key: "keyway.measured.u_deg", text: "", want: func(j *job.Job) { j.Keyway.Measured.UDeg = job.Number{} }},
	{key: "crank_wheel.positions", text: "72", want: func(j *job.Job) { j.CrankWheel.Positions = 72 }},
	{key: "crank_wheel.missing", text: "60", want: func(j *job.Job) { j.CrankWheel.Missing = []int{60} }},
	{key: "crank_wheel.first_tooth_btdc_deg", text: "78", want: func(j *job.Job) { j.CrankWheel.FirstToothBTDCDeg = job.Num(78) }},
}

func TestTypingIntoAFieldChangesJobAndAnswers(t *testing.T) {
	u := window(t)
	before := answers(u)
	for _, f := range fields {
		t.Run(f.key+"="+f.text, func(t *testing.T) {
			was := u.Session.Job()
			want := was.Clone()
			f.want(&want)
			field := fill(t, u, f.key, f.text)
			is(t, u, want)
			if field.Text() != f.text || field.Fault() != "" {
				t.Errorf("the field shows %q with the fault %q, want what was typed", field.Text(), field.Fault())
			}
			if now := answers(u); (now == before) != f.quiet && f.key != "title" {
				t.Errorf("the answers on the screen changed: %v", now != before)
			}
			u.Undo()
			is(t, u, was)
			if u.Session.CanUndo() {
				t.Error("what was typed takes more than one step to undo")
			}
			if now := answers(u); now != before {
				t.Error("undone, the screen differs from before")
			}
			u.Redo()
			is(t, u, want)
			u.Undo()
		})
	}
}

func TestTitleIsTheWindows(t *testing.T) {
	u := window(t)
	if got := u.Window.Title(); strings.Contains(got, "•") || !strings.HasPrefix(got, "Gravel barge Tern") {
		t.Errorf("the window is called %q", got)
	}
	fill(t, u, "title", "Ferry Alma")
	if got := u.Window.Title(); !strings.HasPrefix(got, "• Ferry Alma") {
		t.Errorf("with an unsaved change the window is called %q", got)
	}
}

func TestWhatIsTypedIsNotRewritten(t *testing.T) {
	u := window(t)
	for key, text := range map[string]string{
		"engine.bore_mm":              "110.",
		"engine.stroke_mm":            "126,0",
		"engine.firing_order":         "1 5 3 6 2 4",
		"engine.firing_intervals_deg": "120;120;120;120;120;120",
		"dowel.measured.chord_mm":     "016.180",
		"injection.start_btdc_deg":    "-5",
	} {
		if got := fill(t, u, key, text).Text(); got != text {
			t.Errorf("%s: typed %q, there stands %q", key, text, got)
		}
	}
}

func TestNumberOfCylinders(t *testing.T) {
	u := window(t)
	was := u.Session.Job()
	cycleOf(u).Form.Order.Count.SetSelected("4")
	if got := u.Session.Job().Engine; timing.OrderText(got.FiringOrder) != "1-3-4-2" {
		t.Errorf("four cylinders fire %v", got.FiringOrder)
	}
	if got := cycleOf(u).Form.Order.Order; got.Selected != "1-3-4-2" || len(got.Options) != 2 {
		t.Errorf("the orders in use are %v with %q chosen", got.Options, got.Selected)
	}
	if rows := cycleOf(u).Rows; len(rows) != 4 {
		t.Errorf("the figure has the rows %v", rows)
	}
	cycleOf(u).Form.Order.Count.SetSelected("7") // where no order is common
	if got := u.Session.Job().Engine; timing.OrderText(got.FiringOrder) != "1-2-3-4-5-6-7" {
		t.Errorf("seven cylinders fire %v", got.FiringOrder)
	}
	if !cycleOf(u).Form.Order.Order.Disabled() {
		t.Error("orders of seven cylinders are offered")
	}
	u.Undo()
	u.Undo()
	is(t, u, was)
	if got := cycleOf(u).Form.Order.Count.Selected; got != "6" {
		t.Errorf("undone, the form shows %s cylinders", got)
	}
}

func TestOrdersInUse(t *testing.T) {
	u := window(t)
	cycleOf(u).Form.Order.Order.SetSelected("1-4-2-6-3-5")
	if got := timing.OrderText(u.Session.Job().Engine.FiringOrder); got != "1-4-2-6-3-5" {
		t.Errorf("the job fires %s", got)
	}
	if got := inputOf(t, cycleOf(u).Form, "engine.firing_order").Field.Text(); got != "1-4-2-6-3-5" {
		t.Errorf("the field shows %s", got)
	}
	fill(t, u, "engine.firing_order", "1-2-3-4-5-6")
	if got := cycleOf(u).Form.Order.Order.Selected; got != "" {
		t.Errorf("an order that is not common is shown as %q", got)
	}
}

func TestChoices(t *testing.T) {
	u := window(t)
	was := u.Session.Job()
	before := answers(u)
	for _, tt := range []struct {
		key, name string
		want      func(*job.Job)
	}{
		{"engine.strokes", "two-stroke", func(j *job.Job) { j.Engine.Strokes = 2 }},
		{"engine.rotation", "anticlockwise, seen from the nose", func(j *job.Job) { j.Engine.Rotation = "anticlockwise" }},
		{"dowel.seen_from", "the flywheel end", func(j *job.Job) { j.Dowel.SeenFrom = "flywheel" }},
		{"keyway.seen_from", "the flywheel end", func(j *job.Job) { j.Keyway.SeenFrom = "flywheel" }},
	} {
		want := was.Clone()
		tt.want(&want)
		pick(t, u, tt.key, tt.name)
		is(t, u, want)
		if len(u.Session.Faults()) == 0 && answers(u) == before {
			t.Errorf("%s: nothing on the screen changed", tt.key)
		}
		u.Undo()
		is(t, u, was)
		if answers(u) != before {
			t.Errorf("%s: undone, the screen differs from before", tt.key)
		}
	}
}

func TestUnevenIntervalsInTheAnswers(t *testing.T) {
	u := window(t)
	fill(t, u, "engine.firing_intervals_deg", "110 130 110 130 110 130")
	u.SetAt(0)
	typedKeys(u, "Next") // Page Down
	if got := desk.ShownAngle(u.At); got != "110" {
		t.Errorf("the second firing is at %s, want 110", got)
	}
	// Cylinder 5, the second to fire, 18 degrees after its dead centre.
	if got := cycleOf(u).Results.Table.Cells[5][3].Text; got != "128°" {
		t.Errorf("cylinder 5 is injected at %s, want 128°", got)
	}
}
