package app

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/quantity"
)

// settingsLists are the lists of the settings on the screen, in their order.
func settingsLists(t *testing.T, u *ui) []*kit.DialogSelect {
	t.Helper()
	top := u.Window.Canvas().Overlays().Top()
	if top == nil {
		t.Fatal("no settings are shown")
	}
	var lists []*kit.DialogSelect
	for _, o := range test.LaidOutObjects(top) {
		if s, ok := o.(*kit.DialogSelect); ok {
			lists = append(lists, s)
		}
	}
	return lists
}

// Every setting holds at once: the language and the units in the window that is
// open, with the settings still there to go on.
func TestSettingsHoldAtOnce(t *testing.T) {
	u := window(t)
	u.InTurn = true
	t.Cleanup(func() { kit.Speak("en", quantity.Units{}) })
	u.showSettings()
	lists := settingsLists(t, u)
	want := 0
	for _, g := range u.settings() {
		for _, s := range g.list {
			if s.typed == nil {
				want++
			}
		}
	}
	if len(lists) != want {
		t.Fatalf("%d lists are shown, want %d", len(lists), want)
	}
	lists[0].SetSelected("Deutsch")
	if got := voice().Code(); got != "de" {
		t.Errorf("the window speaks %s", got)
	}
	settingsLists(t, u)[1].SetSelectedIndex(1) // inches
	if got := voice().Units().Length; got != quantity.Inch {
		t.Errorf("lengths are in %s", got)
	}
	bore := inputOf(t, cycleOf(u).Form, "engine.bore_mm").Field
	if !strings.HasPrefix(bore.Text(), "4,25") {
		t.Errorf("the bore of 108 mm is shown as %q", bore.Text())
	}
	settingsLists(t, u)[2].TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if u.Covered() {
		t.Error("the settings are not closed by Escape")
	}
}

// What is chosen for new jobs is in the next new job.
func TestDefaultsOfNewJobs(t *testing.T) {
	u := window(t)
	u.InTurn = true
	for _, g := range u.settings() {
		for _, s := range g.list {
			if s.name == "Seen from" || s.name == "Direction of rotation" || s.name == "Paper" {
				s.choose(1)
			}
		}
	}
	u.newJob()
	if got := u.Session.Job().Engine.Rotation; got != timing.Anticlockwise.String() {
		t.Errorf("a new engine turns %s", got)
	}
	editor(t, u, "dowel", "measured").Given.SetChecked(true)
	if got := u.Session.Job().Dowel.SeenFrom; got != "flywheel" {
		t.Errorf("its dowel is seen from %q", got)
	}
	if got := u.Prefs.Paper(); got != "letter" {
		t.Errorf("the paper is %s", got)
	}
	u.resetSettings()
	if u.Prefs.NewEnd() != timing.Nose || u.Prefs.NewRotation() != timing.Clockwise || u.Prefs.String(desk.PrefPaper) != "" {
		t.Error("some defaults were not taken back")
	}
}

// Preferences that hold anything, of any kind, still give a window.
func TestDamagedPreferences(t *testing.T) {
	keys := []string{desk.PrefWidth, desk.PrefHeight, desk.PrefTheme, desk.PrefText, desk.PrefOrder, desk.PrefEnd, desk.PrefForm, desk.PrefSplit, desk.PrefLast, desk.PrefRecent, desk.PrefSpeed,
		desk.PrefLanguage, desk.PrefLength, desk.PrefPressure, desk.PrefTemperature, desk.PrefNewEnd, desk.PrefNewRotation, desk.PrefPaper,
		desk.PrefShopName, desk.PrefShopLogo}
	for name, set := range map[string]func(fyne.Preferences, string){
		"text":    func(p fyne.Preferences, k string) { p.SetString(k, "€ rubbish") },
		"numbers": func(p fyne.Preferences, k string) { p.SetFloat(k, -1e300) },
		"truth":   func(p fyne.Preferences, k string) { p.SetBool(k, true) },
		"lists":   func(p fyne.Preferences, k string) { p.SetIntList(k, []int{1, 2}) },
	} {
		a := test.NewTempApp(t)
		for _, k := range keys {
			set(a.Preferences(), k)
		}
		u := testUI(a)
		u.openFirst("", func() {})
		if got := voice().Code(); got != "en" {
			t.Errorf("%s: the window speaks %s", name, got)
		}
		if s := u.Prefs.Size(); s.Width < 600 || s.Height < 400 {
			t.Errorf("%s: the window is %v", name, s)
		}
		if u.Window.Title() == "" {
			t.Errorf("%s: no job is open", name)
		}
	}
}
