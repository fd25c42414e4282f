package app

import (
	"slices"
	"testing"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/quantity"
)

// spokenIn sets the language of the running window, and English again after.
func spokenIn(t *testing.T, u *ui, code string) {
	t.Helper()
	u.Prefs.SetString(desk.PrefLanguage, code)
	u.rebuild()
	t.Cleanup(func() { kit.Speak("en", u.Prefs.Units()) })
}

// Another language in the running window shows everything anew and keeps the
// job, what can be undone, the page and the cursor.
func TestAnotherLanguageInTheRunningWindow(t *testing.T) {
	u := window(t)
	u.InTurn = true
	fill(t, u, "injection.start_btdc_deg", "12")
	u.OpenPage("part", "")
	u.SetAt(123)
	spokenIn(t, u, "de")
	if got := u.Session.Job().Injection.StartBTDCDeg.Value; got != 12 {
		t.Errorf("injection is asked for at %g, want 12", got)
	}
	if !u.Session.CanUndo() {
		t.Error("nothing can be undone any more")
	}
	if u.pages.kind().Name != "part" {
		t.Errorf("page %q is shown", u.pages.kind().Title)
	}
	if u.At != timing.Deg(123) {
		t.Errorf("the crank stands at %v", u.At)
	}
	if got := number(12.5, 1); got != "12,5" {
		t.Errorf("a number is written %q", got)
	}
	u.Undo()
	if got := inputOf(t, cycleOf(u).Form, "injection.start_btdc_deg").Field.Text(); got != "10" {
		t.Errorf("undone, the new form's field shows %q, want 10", got)
	}
}

// What is shown and typed in other units is kept as ever, and typed once it stays
// as it was typed.
func TestOtherUnits(t *testing.T) {
	u := window(t)
	u.InTurn = true
	u.Prefs.SetString(desk.PrefLength, "in")
	u.Prefs.SetString(desk.PrefTemperature, "°F")
	u.rebuild()
	t.Cleanup(func() { kit.Speak("en", quantity.Units{}) })
	if field := fill(t, u, "engine.bore_mm", "4"); field.Text() != "4" || field.Fault() != "" {
		t.Errorf("the field shows %q, %q", field.Text(), field.Fault())
	}
	if got := u.Session.Job().Engine.BoreMM.Value; got != 101.6 {
		t.Errorf("4 in is kept as %g mm, want 101.6", got)
	}
	fill(t, u, "injection.air_c", "50")
	if got := u.Session.Job().Injection.AirC.Value; got != 10 {
		t.Errorf("50 °F is kept as %g °C, want 10", got)
	}
	field := fill(t, u, "engine.bore_mm", "200")
	if want := "is 200; it must be above 0 and at most 196.85 in"; field.Fault() != want {
		t.Errorf("the field says %q, want %q", field.Fault(), want)
	}
	fill(t, u, "engine.bore_mm", "1")
	u.rebuild()
	if got := inputOf(t, cycleOf(u).Form, "engine.bore_mm").Field.Text(); got != "1" {
		t.Errorf("typed as 1 in, shown as %q", got)
	}
}

// A decimal comma is read in every language and written where it belongs.
func TestDecimalComma(t *testing.T) {
	u := window(t)
	u.InTurn = true
	fill(t, u, "engine.bore_mm", "101,5")
	if got := u.Session.Job().Engine.BoreMM.Value; got != 101.5 {
		t.Errorf("typed in English, 101,5 is %g", got)
	}
	spokenIn(t, u, "de")
	if got := inputOf(t, cycleOf(u).Form, "engine.bore_mm").Field.Text(); got != "101,5" {
		t.Errorf("in German it is shown as %q", got)
	}
	for text, want := range map[string]float64{"102,25": 102.25, "103.5": 103.5} {
		fill(t, u, "engine.bore_mm", text)
		if got := u.Session.Job().Engine.BoreMM.Value; got != want {
			t.Errorf("typed in German, %s is %g", text, got)
		}
	}
	for text, want := range map[string][]float64{"120,5 119,5": {120.5, 119.5}, "120,5; 119,5": {120.5, 119.5}, "120, 240": {120, 240}} {
		if got, err := form.ParseNumbers(text); err != nil || !slices.Equal(got, want) {
			t.Errorf("%q is %v, %v; want %v", text, got, err, want)
		}
	}
	if field := fill(t, u, "engine.bore_mm", "1.234,5"); field.Fault() == "" {
		t.Error("a sign between thousands is taken for something")
	}
}

// At twice the text size every page has room in the smallest window, in every
// language: long words must not push anything out of it.
func TestPagesHaveRoomInEveryLanguage(t *testing.T) {
	u := window(t)
	u.InTurn = true
	u.setTextSize(2)
	for _, code := range language.Codes {
		spokenIn(t, u, code)
		for i, p := range u.pages.kinds {
			u.pages.show(i)
			if w := u.Root.MinSize().Width; w > 1024 {
				t.Errorf("%s: page %q wants a window %.0f wide", code, p.Title, w)
			}
		}
	}
}
