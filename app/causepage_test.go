package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase/assets"
	"pinphase/timing/finding"
	"pinphase/timing/job"
)

// causing returns the window with the cause page shown, of the demo job or of
// another, doing nothing beside the main goroutine.
func causing(t testing.TB, text string) (*ui, *causePage) {
	t.Helper()
	u := window(t)
	u.inTurn = true
	if text != "" {
		u.openFile(file(t, "job.toml", text))
	}
	u.pages.open(u.cause)
	return u, u.cause
}

// untouched is the demo job with nothing measured on the crankshaft.
func untouched(evidence ...string) string {
	var lines []string
	for _, line := range strings.Split(string(assets.DemoJob), "\n") {
		if !strings.HasPrefix(line, "measured") {
			lines = append(lines, line)
		}
	}
	for _, e := range evidence {
		lines = append(lines, "[[evidence]]\n"+e)
	}
	return strings.Join(lines, "\n")
}

// answer chooses a word of a kind of evidence, as a press of its button or its place
// in the list does; 0 is not known.
func (p *causePage) answer(t testing.TB, kind string, i int) {
	t.Helper()
	a := p.known.rows[kind].list[0].(*wordAnswer)
	if a.row != nil {
		test.Tap(a.row.buttons[i])
	} else {
		a.sel.SetSelectedIndex(i)
	}
}

// number is the n-th answer of a kind that is a number.
func (p *causePage) number(kind string, n int) *numberAnswer {
	return p.known.rows[kind].list[n].(*numberAnswer)
}

// read types a number, and which way it is off where that matters (−1: not said).
func (p *causePage) read(t testing.TB, kind string, n int, text string, way int) {
	t.Helper()
	a := p.number(kind, n)
	retype(p.u, a.value.field, text)
	p.u.window.Canvas().Unfocus()
	if way >= 0 {
		test.Tap(a.way.buttons[way])
	}
}

func evidenceOf(u *ui) string {
	var list []string
	for _, e := range u.session.Job().Evidence {
		list = append(list, strings.TrimSpace(e.Kind+" "+finding.Num{Value: e.U.Value, Decimals: 2}.String()+" "+strings.Trim(strings.ReplaceAll(describe([]any{e.Value}), "−", "-"), "[]")))
	}
	return strings.Join(list, "; ")
}

func TestCausePageAnswersFirst(t *testing.T) {
	u, p := causing(t, "")
	contains(t, "the sentence", p.sentence.Text, "Most likely, over 99 in 100: The dowel is on the wrong side of the keyway.")
	contains(t, "the second line", p.second.Text, "sure enough to act on")
	contains(t, "the first bar", p.causes.bars[0].AccessibilityLabel(), "Dowel mirrored", "in 100")
	contains(t, "the reasons", p.causes.why.Text, "What speaks for it", "times as likely, because: dowel from the keyway, measured − drawing, 28° behind")
	contains(t, "the page", words(p.content), "What is known", "Causes", "What next", "not known")
	is(t, u, demo().Job())
}

func TestWithoutEvidenceTheUsualStands(t *testing.T) {
	_, p := causing(t, untouched())
	contains(t, "the sentence", p.sentence.Text, "Nothing was recorded yet.")
	if p.second.Visible() {
		t.Errorf("below it stands %q", p.second.Text)
	}
	contains(t, "the reasons", p.causes.why.Text, "Nothing that was seen speaks for it or against it yet.")
	if len(p.causes.bars) < leastListed || len(p.next.cards) < 10 {
		t.Errorf("%d causes and %d checks are shown", len(p.causes.bars), len(p.next.cards))
	}
	for i := range p.causes.bars[:len(p.causes.bars)-1] {
		if k := p.found.Causes[i]; k.Probability < k.Prior*0.999 || k.Probability > k.Prior*1.001 {
			t.Errorf("%s stands at %g, before at %g", k.Cause, k.Probability, k.Prior)
		}
	}
}

// What is answered is in the job, not known is not no, and every answer is one step
// for undo.
func TestAnswersAreEvidence(t *testing.T) {
	u, p := causing(t, untouched())
	was, said := u.session.Job(), p.sentence.Text
	for _, c := range []struct {
		do   func()
		want string
	}{
		{func() { p.answer(t, "starts", 2) }, "starts 0 false"},
		{func() { p.answer(t, "starts", 1) }, "starts 0 true"},
		{func() { p.answer(t, "smoke", 2) }, "starts 0 true; smoke 0 white"},
		{func() { p.answer(t, "starts", 0) }, "smoke 0 white"},
		{func() { p.answer(t, "wheel_side", 2) }, "smoke 0 white; wheel_side 0 back to front"},
		{func() { p.answer(t, "wheel_side", 0) }, "smoke 0 white"},
	} {
		c.do()
		if got := evidenceOf(u); got != c.want {
			t.Errorf("the job has %q, want %q", got, c.want)
		}
	}
	if p.sentence.Text == said {
		t.Error("the sentence has not changed with what was seen")
	}
	if got := p.known.groups.Items[0].Title; got != "Heard and seen: 1 known" {
		t.Errorf("the group is called %q", got)
	}
	for range 6 {
		u.undo()
	}
	is(t, u, was)
	if u.session.CanUndo() || p.sentence.Text != said {
		t.Errorf("undone, the page says %q", p.sentence.Text)
	}
	if a := p.known.rows["smoke"].list[0].(*wordAnswer); a.sel.SelectedIndex() != 0 {
		t.Error("undone, the smoke is still known")
	}
	if b := p.known.rows["starts"].list[0].(*wordAnswer).row; b.chosen != 0 {
		t.Error("undone, it is still known whether it starts")
	}
}

func TestNumbersHaveAWayAndNoSign(t *testing.T) {
	u, p := causing(t, untouched())
	a := p.number("correlation_error_deg", 0)
	retype(u, a.value.field, "27.5")
	if len(u.session.Job().Evidence) != 0 {
		t.Error("it counts without its way")
	}
	contains(t, "the answer", a.which.Text, "Which way?")
	if a.value.field.Text() != "27.5" {
		t.Errorf("while it waits the field shows %q", a.value.field.Text())
	}
	test.Tap(a.way.buttons[1])
	if got := evidenceOf(u); got != "correlation_error_deg 0 -27.5" {
		t.Errorf("the job has %q", got)
	}
	if a.which.Text != "" {
		t.Errorf("it still asks %q", a.which.Text)
	}
	test.Tap(a.way.buttons[0])
	if got := evidenceOf(u); got != "correlation_error_deg 0 27.5" {
		t.Errorf("the other way the job has %q", got)
	}
	retype(u, a.value.field, "−3")
	contains(t, "a sign", a.value.field.Fault(), "without a sign")
	retype(u, a.value.field, "3000")
	contains(t, "too much", a.value.field.Fault(), "from 0 to 360")
	retype(u, a.value.field, "abc")
	contains(t, "no number", a.value.field.Fault(), "“abc” is not a number")
	if got := evidenceOf(u); got != "correlation_error_deg 0 300" { // the last that could be one
		t.Errorf("the job has %q", got)
	}
	retype(u, a.value.field, "0,5") // the way stays
	retype(u, a.u.field, "0.25")
	if got := evidenceOf(u); got != "correlation_error_deg 0.25 0.5" {
		t.Errorf("with its ± the job has %q", got)
	}
	retype(u, a.u.field, "−1")
	contains(t, "a ± below 0", a.u.field.Fault(), "from 0 to")
	retype(u, a.u.field, "")
	test.Tap(a.take)
	if len(u.session.Job().Evidence) != 0 || a.value.field.Text() != "" || a.side != 0 {
		t.Errorf("taken away, %q and %q are left", evidenceOf(u), a.value.field.Text())
	}
	u.undo()
	if got := evidenceOf(u); got != "correlation_error_deg 0 0.5" || a.value.field.Text() != "0.5" || a.side != 1 {
		t.Errorf("undone, the job has %q, the field %q", got, a.value.field.Text())
	}
}

func TestTeethAreWhole(t *testing.T) {
	u, p := causing(t, untouched())
	p.read(t, "cam_gear_marks_teeth", 0, "1.5", 1)
	contains(t, "half a tooth", p.number("cam_gear_marks_teeth", 0).value.field.Fault(), "not a whole number")
	p.read(t, "cam_gear_marks_teeth", 0, "2", -1)
	if got := evidenceOf(u); got != "cam_gear_marks_teeth 0 -2" {
		t.Errorf("the job has %q", got)
	}
	p.read(t, "cam_gear_marks_teeth", 0, "0", -1)
	if got := evidenceOf(u); got != "cam_gear_marks_teeth 0 0" {
		t.Errorf("marks that are right are %q", got)
	}
}

func TestSeveralReadings(t *testing.T) {
	u, p := causing(t, untouched())
	r := p.known.rows["compression_bar"]
	if r.more.Visible() {
		t.Error("another reading is offered before the first")
	}
	p.read(t, "compression_bar", 0, "26", -1)
	test.Tap(r.more)
	p.read(t, "compression_bar", 1, "25", -1)
	if got := evidenceOf(u); got != "compression_bar 0 26; compression_bar 0 25" {
		t.Fatalf("the job has %q", got)
	}
	test.Tap(p.number("compression_bar", 0).take)
	if got := evidenceOf(u); got != "compression_bar 0 25" || p.number("compression_bar", 0).value.field.Text() != "25" {
		t.Errorf("without the first the job has %q, the field %q", got, p.number("compression_bar", 0).value.field.Text())
	}
}

func TestReplacedPartsAreTicked(t *testing.T) {
	u, p := causing(t, untouched())
	ticks := p.known.rows["replaced"].ticks
	ticks.ticks[0].SetChecked(true)
	ticks.ticks[1].SetChecked(true)
	if got := evidenceOf(u); got != "replaced 0 crankshaft; replaced 0 crank wheel" {
		t.Errorf("the job has %q", got)
	}
	ticks.ticks[0].SetChecked(false)
	if got := evidenceOf(u); got != "replaced 0 crank wheel" {
		t.Errorf("unticked, the job has %q", got)
	}
	u.undo()
	if !ticks.ticks[0].Checked {
		t.Error("undone, the tick is not back")
	}
}

// What was measured on the Part page is shown and not typed twice; what is typed
// all the same counts before it.
func TestEvidenceFromElsewhere(t *testing.T) {
	u, p := causing(t, string(assets.DemoJob)+"\n[[evidence]]\nkind = \"keyway_error_deg\"\nvalue = 4.0\n")
	dowel, keyway := p.known.rows["dowel_error_deg"], p.known.rows["keyway_error_deg"]
	contains(t, "the dowel", dowel.from.Text, "From the Part page: 28° behind ± 0.3°.")
	if dowel.answers.Visible() {
		t.Error("the dowel is asked for twice")
	}
	contains(t, "the keyway", keyway.from.Text, "What stands here counts before the Part page: 0°")
	if !keyway.answers.Visible() {
		t.Error("what was typed of the keyway is not shown")
	}
	test.Tap(dowel.shows)
	if u.pages.now() != page(u.part) {
		t.Error("it does not lead to the Part page")
	}
	u.edit("gears.cam_teeth_out", func(j *job.Job) { j.Gears.CamTeethOut = 1 })
	u.pages.open(p)
	contains(t, "the gear", p.known.rows["cam_gear_marks_teeth"].from.Text, "From the Gears page: 1 tooth, cam ahead.")
	test.Tap(p.known.rows["cam_gear_marks_teeth"].shows)
	if u.pages.now() != page(u.gears) {
		t.Error("it does not lead to the Gears page")
	}
}

func TestEvidenceThatCannotBe(t *testing.T) {
	u, p := causing(t, untouched("kind = \"smokes\"\nvalue = \"white\"", "kind = \"smoke\"\nvalue = \"green\"", "kind = \"starts\"\nvalue = false"))
	contains(t, "the page", words(p.content), "The causes cannot be weighed yet.", "named there", "\"smokes\" is not known", "\"green\" is not known for smoke")
	tapButton(t, p.known.strange.content, "Take it out")
	tapButton(t, p.known.strange.content, "Take it out")
	if got := evidenceOf(u); got != "starts 0 false" {
		t.Errorf("the job has %q", got)
	}
	contains(t, "the sentence", p.sentence.Text, "Ahead of many")
}

func TestOnlyWhatIsKnown(t *testing.T) {
	_, p := causing(t, untouched("kind = \"smoke\"\nvalue = \"white\""))
	p.known.only.SetChecked(true)
	for kind, r := range p.known.rows {
		if r.content.Visible() != (kind == "smoke") {
			t.Errorf("%s is shown: %v", kind, r.content.Visible())
		}
	}
	for i, g := range p.known.groups.Items {
		if g.Open != (i == 0) {
			t.Errorf("%s is open: %v", g.Title, g.Open)
		}
	}
	p.answer(t, "smoke", 0)
	if !p.known.none.Visible() {
		t.Error("it does not say that nothing is known")
	}
	p.known.reveal("starts") // a check asks for it
	if !p.known.rows["starts"].content.Visible() {
		t.Error("what a check asks for is hidden")
	}
	p.known.only.SetChecked(false)
	if !p.known.rows["fuel_sample"].content.Visible() || p.known.none.Visible() {
		t.Error("not everything is back")
	}
}

// Bars are in the order of the ranking and add up to the whole.
func TestBarsAddUp(t *testing.T) {
	_, p := causing(t, untouched("kind = \"smoke\"\nvalue = \"white\"", "kind = \"correlation_error_deg\"\nvalue = -27"))
	for _, every := range []bool{false, true} {
		if p.causes.every != every {
			test.Tap(p.causes.all)
		}
		shown, hidden := p.causes.listed()
		sum := 0.0
		for _, k := range shown {
			sum += k.Probability
		}
		if sum < 1-1e-9 || sum > 1+1e-9 || (hidden > 0) == every || len(p.causes.bars) != len(shown) {
			t.Errorf("all %v: %d bars of %d causes add up to %g, %d left out", every, len(p.causes.bars), len(shown), sum, hidden)
		}
	}
}

func TestBarsByKeys(t *testing.T) {
	u, p := causing(t, untouched("kind = \"smoke\"\nvalue = \"white\""))
	first := p.causes.bars[0]
	test.Tap(first)
	why := p.causes.what.Text
	first.TypedKey(&fyne.KeyEvent{Name: fyne.KeyDown})
	if u.window.Canvas().Focused() != fyne.Focusable(p.causes.bars[1]) || !p.causes.bars[1].Selected() || first.Selected() || p.causes.what.Text == why {
		t.Error("Down does not go to the next cause")
	}
	p.causes.bars[1].TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	if !first.Selected() || p.causes.what.Text != why {
		t.Error("Up does not go back")
	}
	first.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp}) // there is none
	first.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	if u.run.On() || !first.Selected() {
		t.Error("Space on a bar does something else than pick it")
	}
}

func TestClashIsSaid(t *testing.T) {
	_, p := causing(t, untouched("kind = \"dowel_error_deg\"\nvalue = -28\nu = 0.1", "kind = \"dowel_error_deg\"\nvalue = 5\nu = 0.1"))
	if !p.clash.Visible() {
		t.Fatal("nothing is said of two readings that do not go together")
	}
	contains(t, "the clash", p.clash.Text, "does not go together")
	p.known.rows["dowel_error_deg"].list[1].(*numberAnswer).remove()
	if p.clash.Visible() {
		t.Errorf("with one reading it still says %q", p.clash.Text)
	}
}

func TestOwnPriors(t *testing.T) {
	u, p := causing(t, untouched())
	was := u.session.Job()
	p.causes.pick("bad fuel")
	e := p.causes.prior
	contains(t, "the prior", e.words.Text, "kept on this computer, not in the job")
	if e.field.Text() != "3" || !e.usual.Disabled() || e.reset.Visible() {
		t.Errorf("bad fuel stands at %q", e.field.Text())
	}
	own := func(text string) {
		retype(u, e.field, text)
		u.window.Canvas().Unfocus()
	}
	own("40")
	if k, _ := p.causes.chosen(); k.Cause != "bad fuel" || k.Prior < 0.37 {
		t.Errorf("with 40 in 100 %s stands at %g", k.Cause, k.Prior)
	}
	if p.causes.bars[0].Name() != "Bad fuel" {
		t.Errorf("the first is %q", p.causes.bars[0].Name())
	}
	is(t, u, was)
	again := newUI(u.app)
	if again.cause.priors.of["bad fuel"] != 0.4 {
		t.Errorf("at the next start it is %v", again.cause.priors.of)
	}
	for text, want := range map[string]string{"140": "from 0 to 100", "x": "not a number"} {
		own(text)
		contains(t, text, e.field.Fault(), want)
	}
	p.causes.pick("poor compression")
	own("70")
	contains(t, "too much together", e.field.Fault(), "more than 100 in 100")
	if len(p.priors.of) != 1 {
		t.Errorf("kept are %v", p.priors.of)
	}
	p.causes.pick("bad fuel")
	test.Tap(e.usual)
	if e.field.Text() != "3" || len(p.priors.of) != 0 {
		t.Errorf("as usual it is %q, kept are %v", e.field.Text(), p.priors.of)
	}
	own("20")
	test.Tap(e.reset)
	if e.field.Text() != "3" || len(p.priors.of) != 0 || e.reset.Visible() {
		t.Errorf("all as usual, it is %q, kept are %v", e.field.Text(), p.priors.of)
	}
}

func TestOwnNumbersThatCannotBe(t *testing.T) {
	u, _ := causing(t, "")
	u.prefs.p.SetStringList(prefPriors, []string{"bad fuel=7", "no such cause=0.1", "poor compression=0.2", "junk", "x=y"})
	u.prefs.p.SetStringList(prefMinutes, []string{"read the fault codes=-3", "watch the exhaust while cranking=9"})
	again := newUI(u.app)
	if of := again.cause.priors.of; len(of) != 1 || of["poor compression"] != 0.2 {
		t.Errorf("the priors are %v", of)
	}
	if of := again.cause.minutes.of; len(of) != 1 || of["watch the exhaust while cranking"] != 9 {
		t.Errorf("the minutes are %v", of)
	}
}
