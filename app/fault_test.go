package app

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/store"
	"pinphase.org/pinphase/timing/store/fault"
	"pinphase.org/pinphase/widgets"
)

// saveTo answers the question where to save with a path, and that the file there is to
// be replaced.
func saveTo(t *testing.T, u *ui, path string) {
	t.Helper()
	asked := entries(t, u)
	asked[0].SetText(filepath.Base(path))
	asked[1].SetText(filepath.Dir(path))
	press(t, u, "Save")
	for strings.Contains(said(u), "already exists") {
		press(t, u, "Replace")
	}
}

// aWriter is something that writes a file.
type aWriter struct {
	name string
	// make gets the window ready and returns the file that is going to be written, below
	// a folder, and what writes it. What is written is the same each time.
	make func(t *testing.T, u *ui, folder string) (path string, write func())
	dear bool // one way of failing is enough: it takes long, and goes the same way as others
}

// writers are all that the window writes.
var writers = []aWriter{
	{"save", func(t *testing.T, u *ui, folder string) (string, func()) {
		path := filepath.Join(folder, "job.toml")
		s := u.Session
		if err := os.WriteFile(path, []byte(byHand), 0o644); err != nil {
			t.Fatal(err)
		}
		return path, func() {
			doc, err := job.Read(path, []byte(byHand))
			if err != nil {
				t.Fatal(err)
			}
			*s = *desk.NewSession(path, doc, []byte(read(t, path)))
			u.Edit("title", func(j *job.Job) { j.Title = "Wren" })
			u.save(nil)
			if now := read(t, path); u.Session.Dirty() == strings.Contains(now, "Wren") && said(u) == "" {
				t.Errorf("the file holds\n%s\nand the job counts as changed: %v", now, u.Session.Dirty())
			}
		}
	}, false},
	{"save as", func(t *testing.T, u *ui, folder string) (string, func()) {
		path := filepath.Join(folder, "other.toml")
		doc := u.Session.Doc
		return path, func() {
			*u.Session = *desk.NewSession("", doc, nil)
			u.saveAs(nil)
			saveTo(t, u, path)
		}
	}, false},
	{"snapshot", func(t *testing.T, u *ui, folder string) (string, func()) {
		u.startRecovery(folder)
		u.Edit("title", func(j *job.Job) { j.Title = "Wren" })
		return u.Recovery.File, u.Keep
	}, false},
	{"choices", func(t *testing.T, u *ui, folder string) (string, func()) {
		path := filepath.Join(folder, desk.ChoiceName)
		return path, func() {
			c := &desk.ChoiceFile{Set: map[string]bool{}, ByKey: map[string]any{}, Files: u.Files, Path: path}
			c.WriteBy(&u.InTurn, u.WarnUnchosen)
			c.SetString(desk.PrefTheme, "dark")
		}
	}, false},
	{"library, keep", func(t *testing.T, u *ui, folder string) (string, func()) {
		p := inLibrary(t, u, library{folder, u.Files})
		p.shelves.Buttons[1].OnTapped()
		return filepath.Join(folder, "engines", "wren.toml"), func() {
			p.own.files = u.Files
			p.load("")
			test.Tap(p.save)
			entries(t, u)[0].SetText("Wren")
			press(t, u, "Save")
			if strings.Contains(said(u), "already exists") {
				press(t, u, "Replace")
			}
		}
	}, false},
	{"practice score", func(t *testing.T, u *ui, folder string) (string, func()) {
		path := filepath.Join(folder, "practice.json")
		u.OpenPage("practice", "")
		p := u.pages.now().(interface {
			KeepIn(file string)
			KeepScore()
		})
		p.KeepIn(path)
		return path, p.KeepScore
	}, false},
	{"figure", func(t *testing.T, u *ui, folder string) (string, func()) {
		path := filepath.Join(folder, "wheel.svg")
		return path, func() {
			u.saveFigure()
			press(t, u, "Save…")
			saveTo(t, u, path)
		}
	}, true},
	{"signals", func(t *testing.T, u *ui, folder string) (string, func()) {
		path := filepath.Join(folder, "signals.csv")
		return path, func() {
			choose(t, u, "File", "Save the predicted signals as CSV…")
			saveTo(t, u, path)
		}
	}, true},
	{"sheet", func(t *testing.T, u *ui, folder string) (string, func()) {
		path := filepath.Join(folder, "sheet.html")
		return path, func() {
			u.saveJobSheet()
			press(t, u, "Save…")
			saveTo(t, u, path)
		}
	}, true},
	{"claim", func(t *testing.T, u *ui, folder string) (string, func()) {
		path := filepath.Join(folder, "claim.pdf")
		return path, func() {
			u.saveClaim()
			press(t, u, "Save…")
			saveTo(t, u, path)
		}
	}, true},
	{"print to true scale", func(t *testing.T, u *ui, folder string) (string, func()) {
		path := filepath.Join(folder, "wheel.pdf")
		return path, func() {
			u.printScale()
			press(t, u, "Save…")
			saveTo(t, u, path)
		}
	}, true},
	{"exercise", func(t *testing.T, u *ui, folder string) (string, func()) {
		path := filepath.Join(folder, "exercise.pdf")
		return path, func() {
			u.OpenPage("practice", "")
			onPage(t, u, "What is asked")
			var fields []*widgets.Field
			for _, o := range shown(u.Root) {
				if f, ok := o.(*widgets.Field); ok {
					fields = append(fields, f)
				}
			}
			n := len(fields) // the last two are the code and the learner
			fields[n-4].SetText("7")
			fields[n-3].SetText("1")
			onPage(t, u, "Print with answers…")
			saveTo(t, u, path)
		}
	}, true},
}

// told is all that the window says of what went wrong.
func toldOf(u *ui) string {
	list := []string{said(u)}
	if u.Warnings.Content.Visible() {
		list = append(list, u.Warnings.Words.Text)
	}
	for _, o := range shown(u.pages.now().Body()) {
		if l, ok := o.(*widget.Label); ok && l.Importance == widget.WarningImportance {
			list = append(list, l.Text)
		}
	}
	if u.Notice.Content.Visible() {
		list = append(list, u.Notice.Words.Text)
	}
	return strings.Join(list, "\n")
}

// Whatever of a writer's work fails: the file holds what it held or what it should,
// nothing lies beside it, and the window says what is wrong. What was interrupted is
// done again, without a word.
func TestEveryWriterWhenTheDiskFails(t *testing.T) {
	for _, w := range writers {
		t.Run(w.name, func(t *testing.T) {
			u := window(t)
			folder := t.TempDir()
			path, write := w.make(t, u, folder)
			write()
			if said := said(u); said != "" && strings.Contains(said, "not") {
				t.Fatalf("where nothing fails the window says %q", said)
			}
			clear := func() {
				for len(u.Dialogs) > 0 && w.name != "library, keep" || len(u.Dialogs) > 1 {
					u.Dismiss()
				}
				u.Notice.Hide()
			}
			clear()
			next, was := read(t, path), "what was there before"
			if strings.HasSuffix(path, ".toml") {
				was = byHand
			}
			if strings.HasSuffix(path, ".json") {
				was = "{}"
			}
			list := names(t, filepath.Dir(path))
			for i, broken := range fault.Errors {
				if w.dear && i > 0 {
					break
				}
				for n := 1; ; n++ {
					if err := os.WriteFile(path, []byte(was), 0o644); err != nil {
						t.Fatal(err)
					}
					f := &fault.Files{N: n, Err: broken}
					u.Files = f
					if u.Recovery != nil {
						u.Recovery.Files = f
					}
					write()
					u.Files = store.System
					if u.Recovery != nil {
						u.Recovery.Files = u.Files
					}
					if !f.Failed() {
						if n < 7 {
							t.Fatalf("it is done with %d operations", n-1)
						}
						break
					}
					at := fmt.Sprintf("%v in %s", broken, f.Log()[n-1])
					now, told := read(t, path), toldOf(u)
					switch interrupted := errors.Is(broken, syscall.EINTR); {
					case now != was && !alike(path, now, next):
						t.Errorf("%s: the file holds %.300q", at, now)
					case interrupted && now == was:
						t.Errorf("%s: it was not done again; the window says %q", at, told)
					case interrupted && strings.Contains(told, broken.Error()):
						t.Errorf("%s: the window says %q", at, told)
					case !interrupted && now == was && !strings.Contains(told, broken.Error()):
						t.Errorf("%s: the window says %q", at, told)
					}
					if got := names(t, filepath.Dir(path)); got != list {
						t.Errorf("%s: in the folder are %s, were %s", at, got, list)
					}
					clear()
				}
				// It works again, and says no longer that it does not.
				write()
				if told := toldOf(u); strings.Contains(told, broken.Error()) || !alike(path, read(t, path), next) {
					t.Errorf("after %v it works again, and the window says %q", broken, told)
				}
				clear()
			}
		})
	}
}

// names are those of the files in a folder.
func names(t *testing.T, folder string) string {
	t.Helper()
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, e := range entries {
		list = append(list, e.Name())
	}
	return strings.Join(list, " ")
}

// alike tells whether a file holds what it should. A PDF says when it was made: it must
// be there from its beginning to its end.
func alike(path, now, want string) bool {
	if filepath.Ext(path) == ".pdf" {
		return strings.HasPrefix(now, "%PDF-") && strings.HasSuffix(now, "%%EOF\n") && len(now) > len(want)*9/10
	}
	return now == want
}
