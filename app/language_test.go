package app

import (
	"testing"

	"pinphase/timing"
)

// spokenIn sets the language of the running window, and English again after.
func spokenIn(t *testing.T, u *ui, code string) {
	t.Helper()
	u.prefs.p.SetString(prefLanguage, code)
	u.rebuild()
	t.Cleanup(func() { speak("en", u.prefs.Units()) })
}

// Another language in the running window shows everything anew and keeps the
// job, what can be undone, the page and the cursor.
func TestAnotherLanguageInTheRunningWindow(t *testing.T) {
	u := window(t)
	fill(t, u, "injection.start_btdc_deg", "12")
	u.pages.open(u.part)
	u.setAt(123)
	spokenIn(t, u, "de")
	if got := u.session.Job().Injection.StartBTDCDeg.Value; got != 12 {
		t.Errorf("injection is asked for at %g, want 12", got)
	}
	if !u.session.CanUndo() {
		t.Error("nothing can be undone any more")
	}
	if u.pages.now() != page(u.part) {
		t.Errorf("page %q is shown", u.pages.now().title())
	}
	if u.at != timing.Deg(123) {
		t.Errorf("the crank stands at %v", u.at)
	}
	if got := number(12.5, 1); got != "12,5" {
		t.Errorf("a number is written %q", got)
	}
	u.undo()
	if got := u.form.input(t, "injection.start_btdc_deg").field.Text(); got != "10" {
		t.Errorf("undone, the new form's field shows %q, want 10", got)
	}
}
