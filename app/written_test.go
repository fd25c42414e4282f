package app

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
)

// A sheet that was written is said to be, with its folder, and is no failure, also
// where nothing opens it.
func TestASheetIsToldAsWritten(t *testing.T) {
	for _, c := range []struct {
		name string
		save func(u *ui)
	}{
		{"sheet", (*ui).saveJobSheet}, {"claim", (*ui).saveClaim}, {"wheel", (*ui).printScale},
	} {
		for _, opened := range []error{nil, errors.New("exec: \"xdg-open\": executable file not found in $PATH")} {
			u := on(t, measuredBy(byMethod["chord"]))
			asked := ""
			u.View = func(path string) error { asked = path; return opened }
			c.save(u)
			press(t, u, "Save…")
			path := filepath.Join(t.TempDir(), "out.pdf")
			fields := entries(t, u)
			fields[0].SetText(filepath.Base(path))
			fields[1].SetText(filepath.Dir(path))
			press(t, u, "Save")
			if text := said(u); text != "" {
				t.Errorf("%s: over the window stands %q", c.name, text)
			}
			if asked != path {
				t.Errorf("%s: %q is opened", c.name, asked)
			}
			if st, err := os.Stat(path); err != nil || st.Size() < 1000 {
				t.Errorf("%s: %v, %v", c.name, st, err)
			}
			got := u.Notice.Words.Text
			if !u.Notice.Content.Visible() || !strings.HasPrefix(got, "“out.pdf” was written to the folder "+filepath.Dir(path)+".") {
				t.Errorf("%s: the window says %q", c.name, got)
			}
			if strings.Contains(got, "No program on this computer opens it.") != (opened != nil) {
				t.Errorf("%s: opened, %v, the window says %q", c.name, opened, got)
			}
			test.Tap(u.Notice.Button)
			if u.Notice.Content.Visible() {
				t.Errorf("%s: the notice stays when it is closed", c.name)
			}
		}
	}
}
