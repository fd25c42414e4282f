package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/job"
)

// What is typed of the case makes a job of the second format, and one that is emptied
// again a job as its file was; an impossible day is told beside its field.
func TestCaseIsTyped(t *testing.T) {
	u := on(t, byHand)
	path := u.Session.Path
	was := read(t, path)
	fill(t, u, "case.customer", "Fernhaven ferries")
	fill(t, u, "case.hours", "3120")
	j := u.Session.Job()
	if j.Case == nil || j.Case.Customer != "Fernhaven ferries" || j.Case.Hours != job.Num(3120) || j.Format != 2 {
		t.Errorf("the job holds %+v in format %d", j.Case, j.Format)
	}
	fill(t, u, "case.measured_on", "31.3.2026")
	if f := u.Session.Faults(); len(f) != 1 || f[0].Key != "case.measured_on" {
		t.Errorf("the faults are %v", f)
	}
	fill(t, u, "case.measured_on", "2026-03-31")
	for _, key := range []string{"case.customer", "case.hours", "case.measured_on"} {
		fill(t, u, key, "")
	}
	if u.Session.Dirty() {
		t.Error("emptied again, the job is not as its file has it")
	}
	u.save(nil)
	if read(t, path) != was {
		t.Error("the file is not as it was")
	}
	fill(t, u, "case.supplier", "Gannet Forge")
	u.save(nil)
	if got := read(t, path); !strings.Contains(got, "format = 2") || !strings.Contains(got, "[case]\nsupplier = \"Gannet Forge\"") {
		t.Errorf("the file holds %s", got)
	}
	if u.Session.Dirty() {
		t.Error("saved, it is still changed")
	}
}

// The shop of the settings is on the sheet; a logo that is gone is told, not left out.
func TestShopOnSheets(t *testing.T) {
	u := window(t)
	u.InTurn = true
	for _, g := range u.settings() {
		for _, s := range g.list {
			if s.typed != nil && s.name == "Name" {
				s.typed.keep("Wren Marine Engines")
			}
		}
	}
	folder := t.TempDir()
	save := func() string {
		u.saveClaim()
		press(t, u, "HTML")
		press(t, u, "Save…")
		e := entries(t, u)
		e[0].SetText("claim.html")
		e[1].SetText(folder)
		press(t, u, "Save")
		data, _ := os.ReadFile(filepath.Join(folder, "claim.html"))
		return string(data)
	}
	if got := save(); !strings.Contains(got, `<p class="name">Wren Marine Engines</p>`) {
		t.Errorf("the claim lacks the shop; the window says %q", said(u))
	}
	os.Remove(filepath.Join(folder, "claim.html"))
	u.Prefs.SetString(desk.PrefShopLogo, filepath.Join(folder, "gone.png"))
	if got := save(); got != "" || !strings.Contains(said(u), "gone.png") {
		t.Errorf("with its logo gone the window says %q", said(u))
	}
}
