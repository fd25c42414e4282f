package cause

import (
	"testing"

	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk/desktest"
)

func TestOwnPriors(t *testing.T) {
	u, p := causing(t, untouched())
	was := u.Session.Job()
	p.causes.pick("bad fuel")
	e := p.causes.prior
	desktest.Contains(t, "the prior", e.words.Text, "kept on this computer, not in the job")
	if e.field.Text() != "2.5" || !e.usual.Disabled() || e.reset.Visible() {
		t.Errorf("bad fuel stands at %q", e.field.Text())
	}
	own := func(text string) {
		desktest.Retype(u.Window.Canvas(), e.field, text)
		u.Window.Canvas().Unfocus()
	}
	own("40")
	if k, _ := p.causes.chosen(); k.Cause != "bad fuel" || k.Prior < 0.35 {
		t.Errorf("with 40 in 100 %s stands at %g", k.Cause, k.Prior)
	}
	if p.causes.bars[0].Name() != "Bad fuel" {
		t.Errorf("the first is %q", p.causes.bars[0].Name())
	}
	u.Is(t, was)
	again := desktest.Again(u.App, Kind)
	if again.Page.(*page).priors.of["bad fuel"] != 0.4 {
		t.Errorf("at the next start it is %v", again.Page.(*page).priors.of)
	}
	for text, want := range map[string]string{"140": "between 0 and 100", "x": "not a number"} {
		own(text)
		desktest.Contains(t, text, e.field.Fault(), want)
	}
	p.causes.pick("poor compression")
	own("70")
	desktest.Contains(t, "too much together", e.field.Fault(), "more than 100 %")
	if len(p.priors.of) != 1 {
		t.Errorf("kept are %v", p.priors.of)
	}
	p.causes.pick("bad fuel")
	test.Tap(e.usual)
	if e.field.Text() != "2.5" || len(p.priors.of) != 0 {
		t.Errorf("as usual it is %q, kept are %v", e.field.Text(), p.priors.of)
	}
	own("20")
	test.Tap(e.reset)
	if e.field.Text() != "2.5" || len(p.priors.of) != 0 || e.reset.Visible() {
		t.Errorf("all as usual, it is %q, kept are %v", e.field.Text(), p.priors.of)
	}
}

func TestOwnNumbersThatCannotBe(t *testing.T) {
	u, _ := causing(t, "")
	u.Prefs.SetStringList(prefPriors, []string{"bad fuel=7", "no such cause=0.1", "poor compression=0.2", "junk", "x=y"})
	u.Prefs.SetStringList(prefMinutes, []string{"read the fault codes=-3", "watch the exhaust while cranking=9"})
	again := desktest.Again(u.App, Kind)
	if of := again.Page.(*page).priors.of; len(of) != 1 || of["poor compression"] != 0.2 {
		t.Errorf("the priors are %v", of)
	}
	if of := again.Page.(*page).minutes.of; len(of) != 1 || of["watch the exhaust while cranking"] != 9 {
		t.Errorf("the minutes are %v", of)
	}
}
