package app

import (
	"strings"
	"testing"

	"pinphase/assets"
	"pinphase/timing/job"
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
	{key: "engine.compression_gauge_bar", text: "26", want: func(j *job.Job) { j.Engine.CompressionGaugeBar = job.Num(26) }, quiet: true},
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
			was := u.session.Job()
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
			u.undo()
			is(t, u, was)
			if u.session.CanUndo() {
				t.Error("what was typed takes more than one step to undo")
			}
			if now := answers(u); now != before {
				t.Error("undone, the screen differs from before")
			}
			u.redo()
			is(t, u, want)
			u.undo()
		})
	}
}

func TestTitleIsTheWindows(t *testing.T) {
	u := window(t)
	if got := u.window.Title(); strings.Contains(got, "•") || !strings.HasPrefix(got, "Gravel barge Tern") {
		t.Errorf("the window is called %q", got)
	}
	fill(t, u, "title", "Ferry Alma")
	if got := u.window.Title(); !strings.HasPrefix(got, "• Ferry Alma") {
		t.Errorf("with an unsaved change the window is called %q", got)
	}
}

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
			before := u.page.results.table.cells[1][2].Text + painted(u.page.cycle) + painted(u.page.wheel)
			field := paste(t, u, tt.key, tt.text)
			for _, s := range tt.says {
				if !strings.Contains(field.Fault(), s) {
					t.Errorf("the fault beside the field is %q, want %q in it", field.Fault(), s)
				}
			}
			if !strings.Contains(words(field), field.Fault()) {
				t.Error("the fault cannot be seen")
			}
			if now := u.page.results.table.cells[1][2].Text + painted(u.page.cycle) + painted(u.page.wheel); now != before {
				t.Error("the figures do not keep the last sound job")
			}
			about := "before this went wrong"
			if tt.text == "" && strings.Contains(tt.key, "measured") { // not typed yet is no mistake
				about = "Not all is measured yet"
			}
			if !strings.Contains(u.head.notes.Text, about) {
				t.Errorf("under the sentence stands %q", u.head.notes.Text)
			}
			u.undo()
			if now := u.form.input(t, tt.key).field; now.Fault() != "" || len(u.session.Faults()) > 0 {
				t.Errorf("undone, the fault %q stays", now.Fault())
			}
		})
	}
}

func TestTextThatIsNoValueStaysAndLeavesTheJob(t *testing.T) {
	u := window(t)
	was := u.session.Job()
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
	if got := u.form.input(t, "engine.bore_mm").field; got.Text() != "abc" || got.Fault() == "" {
		t.Errorf("after another edit %q stands there with the fault %q", got.Text(), got.Fault())
	}
	u.undo()
	if got := u.form.input(t, "engine.bore_mm").field; got.Text() != "108" || got.Fault() != "" {
		t.Errorf("after an undo %q stands there with the fault %q", got.Text(), got.Fault())
	}
}

func TestTextThatIsNoValueEndsWhereItWasStillOne(t *testing.T) {
	u := window(t)
	field := fill(t, u, "engine.bore_mm", "12,,5")
	if field.Text() != "12,,5" || !strings.Contains(field.Fault(), "“12,,5” is not a number") {
		t.Errorf("%q stands there with the fault %q", field.Text(), field.Fault())
	}
	if got := u.session.Job().Engine.BoreMM; got != job.Num(12) {
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
	if got := read(t, u.session.path); got != string(assets.DemoJob) {
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
	if got := u.form.input(t, "engine.bore_mm").field; got.Text() != "108" || got.Fault() != "" {
		t.Errorf("on another job %q stands there with the fault %q", got.Text(), got.Fault())
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
	was := u.session.Job()
	u.form.order.count.SetSelected("4")
	if got := u.session.Job().Engine; orderName(got.FiringOrder) != "1-3-4-2" {
		t.Errorf("four cylinders fire %v", got.FiringOrder)
	}
	if got := u.form.order.order; got.Selected != "1-3-4-2" || len(got.Options) != 2 {
		t.Errorf("the orders in use are %v with %q chosen", got.Options, got.Selected)
	}
	if rows := u.page.rows; len(rows) != 4 {
		t.Errorf("the figure has the rows %v", rows)
	}
	u.form.order.count.SetSelected("7") // where no order is common
	if got := u.session.Job().Engine; orderName(got.FiringOrder) != "1-2-3-4-5-6-7" {
		t.Errorf("seven cylinders fire %v", got.FiringOrder)
	}
	if !u.form.order.order.Disabled() {
		t.Error("orders of seven cylinders are offered")
	}
	u.undo()
	u.undo()
	is(t, u, was)
	if got := u.form.order.count.Selected; got != "6" {
		t.Errorf("undone, the form shows %s cylinders", got)
	}
}

func TestOrdersInUse(t *testing.T) {
	u := window(t)
	u.form.order.order.SetSelected("1-4-2-6-3-5")
	if got := orderName(u.session.Job().Engine.FiringOrder); got != "1-4-2-6-3-5" {
		t.Errorf("the job fires %s", got)
	}
	if got := u.form.input(t, "engine.firing_order").field.Text(); got != "1-4-2-6-3-5" {
		t.Errorf("the field shows %s", got)
	}
	fill(t, u, "engine.firing_order", "1-2-3-4-5-6")
	if got := u.form.order.order.Selected; got != "" {
		t.Errorf("an order that is not common is shown as %q", got)
	}
}

func TestChoices(t *testing.T) {
	u := window(t)
	was := u.session.Job()
	before := answers(u)
	for _, tt := range []struct {
		key, name string
		want      func(*job.Job)
	}{
		{"engine.strokes", "two-stroke", func(j *job.Job) { j.Engine.Strokes = 2 }},
		{"engine.rotation", "anticlockwise, seen from the nose", func(j *job.Job) { j.Engine.Rotation = "anticlockwise" }},
		{"dowel.seen_from", "the flywheel", func(j *job.Job) { j.Dowel.SeenFrom = "flywheel" }},
		{"keyway.seen_from", "the flywheel", func(j *job.Job) { j.Keyway.SeenFrom = "flywheel" }},
	} {
		want := was.Clone()
		tt.want(&want)
		pick(t, u, tt.key, tt.name)
		is(t, u, want)
		if len(u.session.Faults()) == 0 && answers(u) == before {
			t.Errorf("%s: nothing on the screen changed", tt.key)
		}
		u.undo()
		is(t, u, was)
		if answers(u) != before {
			t.Errorf("%s: undone, the screen differs from before", tt.key)
		}
	}
}

func TestSideNamesTheEndItIsSeenFrom(t *testing.T) {
	u := window(t)
	e := editor(t, u, "dowel", "measured")
	if got := e.side.Selected; got != "anticlockwise, seen from the nose" {
		t.Errorf("the demo's dowel lies %q", got)
	}
	pick(t, u, "dowel.seen_from", "the flywheel")
	if got := e.side.Selected; got != "anticlockwise, seen from the flywheel" {
		t.Errorf("seen from the other end it lies %q", got)
	}
	e.side.SetSelected("clockwise, seen from the flywheel")
	if got := u.session.Job().Dowel.Measured.Side; got != "clockwise" {
		t.Errorf("the job has it %s", got)
	}
}

func TestMethodChangesAndComesBack(t *testing.T) {
	u := window(t)
	was := u.session.Job()
	e := editor(t, u, "dowel", "measured")
	measureBy(t, e, "arc")
	if r := u.session.Job().Dowel.Measured; r.Method != "arc" || r.ChordMM.Given || r.Side != "anticlockwise" {
		t.Errorf("along a rim the reading is %+v", r)
	}
	if f := u.form.input(t, "dowel.measured.arc_mm").field; !strings.Contains(f.Fault(), "missing") {
		t.Errorf("beside the empty length stands %q", f.Fault())
	}
	fill(t, u, "dowel.measured.arc_mm", "10")
	fill(t, u, "dowel.measured.rim_radius_mm", "41")
	if len(u.session.Faults()) > 0 {
		t.Errorf("the arc is refused: %v", u.session.Faults())
	}
	arc := u.session.Job()
	measureBy(t, e, "chord") // what was typed for it is there again
	is(t, u, was)
	measureBy(t, e, "arc")
	is(t, u, arc)

	for range 5 {
		u.undo()
	}
	is(t, u, was)
	if got := u.form.input(t, "dowel.measured.chord_mm").field.Text(); got != "16.18" {
		t.Errorf("undone, the chord's field shows %q", got)
	}
	for range 5 {
		u.redo()
	}
	is(t, u, arc)
	if got := u.form.input(t, "dowel.measured.arc_mm").field.Text(); got != "10" {
		t.Errorf("redone, the arc's field shows %q", got)
	}
}

func TestReadingTakenOutAndPutBack(t *testing.T) {
	u := window(t)
	was := u.session.Job()
	e := editor(t, u, "dowel", "measured")
	e.given.SetChecked(false)
	if u.session.Job().Dowel.Measured != nil {
		t.Error("the reading is still in the job")
	}
	if !strings.Contains(u.head.sentence.Text, "where the controller asks for it") {
		t.Errorf("without a reading the sentence is %q", u.head.sentence.Text)
	}
	if !u.page.dowel.slider.Disabled() || e.side.Visible() || e.method.Visible() {
		t.Error("a reading that is not there can be edited")
	}
	e.given.SetChecked(true)
	is(t, u, was)
	u.undo()
	u.undo()
	is(t, u, was)
	if u.session.CanUndo() {
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
	if len(u.session.Faults()) > 0 {
		t.Fatalf("the points are refused: %v", u.session.Faults())
	}
	// 9.92 below the keyway's line is clockwise as seen from the nose, at
	// atan(9.92/39.78) = 14.0°: hand calculation.
	if got := u.page.dowel.words.Text; !strings.HasPrefix(got, "14° ahead of the keyway") {
		t.Errorf("the dowel is said to lie %q", got)
	}
	if f := fill(t, u, "dowel.measured.dowel", "1; 2; 3"); !strings.Contains(f.Fault(), "two numbers") {
		t.Errorf("three numbers give the fault %q", f.Fault())
	}
}

func TestUnevenIntervalsInTheAnswers(t *testing.T) {
	u := window(t)
	fill(t, u, "engine.firing_intervals_deg", "110 130 110 130 110 130")
	u.setAt(0)
	typedKeys(u, "Next") // Page Down
	if got := shownAngle(u.at); got != "110" {
		t.Errorf("the second firing is at %s, want 110", got)
	}
	// Cylinder 5, the second to fire, 18 degrees after its dead centre.
	if got := u.page.results.table.cells[5][3].Text; got != "128°" {
		t.Errorf("cylinder 5 is injected at %s, want 128°", got)
	}
}
