package app

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/store"
)

// aDialog is one of the window's dialogs: the functions of the source that make it, and
// how it comes up.
type aDialog struct {
	makers []string
	show   func(t *testing.T, u *ui)
	// accepted tells, after Enter, whether what the marked button is for was done; nil
	// where it only closes.
	accepted func(u *ui) bool
}

// dialogsOf are all of them. The functions stand here so that a new dialog is found
// missing.
func dialogsOf(t *testing.T) map[string]aDialog {
	done := false
	yes := func() { done = true }
	was := func(*ui) bool { return done }
	folder := t.TempDir()
	if err := os.WriteFile(filepath.Join(folder, "a.toml"), []byte(byHand), 0o644); err != nil {
		t.Fatal(err)
	}
	noTime := filepath.Join(folder, "none.csv")
	if err := os.WriteFile(noTime, []byte("a,b\n0,2\n0,3\n0,2\n0,3\n5,3\n5,2\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	asks := func(u *ui) bool { return strings.Contains(said(u), "File name") }
	return map[string]aDialog{
		"question": {[]string{"confirm"}, func(_ *testing.T, u *ui) { done = false; u.Confirm("Title", "Words", "Yes", yes) }, was},
		"error":    {[]string{"tell"}, func(_ *testing.T, u *ui) { u.Tell(os.ErrExist) }, nil},
		"text":     {[]string{"inform"}, func(_ *testing.T, u *ui) { u.showKeys() }, nil},
		"unsaved changes": {[]string{"sure"}, func(_ *testing.T, u *ui) {
			u.Edit("title", func(j *job.Job) { j.Title += "x" })
			u.asking = false
			u.sure(func() {})
		}, asks},
		"where to save": {[]string{"askPath", "askFor"}, func(_ *testing.T, u *ui) {
			done = false
			u.AskPath("Save", folder, "b.toml", ".toml", func(string) { done = true })
		}, was},
		"file": {[]string{"pickFrom"}, func(_ *testing.T, u *ui) {
			done = false
			u.PickFrom("Open a job", "Open", folder, []string{".toml"}, func(string) { done = true })
			typeKey(u, fyne.KeyDown)
		}, was},
		"folder": {[]string{"pickFrom"}, func(_ *testing.T, u *ui) { done = false; u.AskFolder(folder, func(string) { done = true }) }, was},
		"offer": {[]string{"offer"}, func(t *testing.T, u *ui) {
			at := t.TempDir()
			dead, _, err := desk.StartRecovery(store.System, at)
			if err != nil {
				t.Fatal(err)
			}
			s := demoSession(t)
			s.Edit("title", titled(s.Job(), "Tug Wren"))
			if err := dead.Keep(s.Snapshot()); err != nil {
				t.Fatal(err)
			}
			kill(&ui{Desk: &desk.Desk{Recovery: dead}})
			left := u.startRecovery(at)
			u.offer(left)
		}, func(u *ui) bool { return u.Session.Job().Title == "Tug Wren" }},
		"still writing": {[]string{"waitForWriting"}, func(_ *testing.T, u *ui) { u.waitForWriting("a.pdf") }, func(u *ui) bool { return u.Writing.Rest == nil && !u.Leaving }},
		"settings":      {[]string{"showSettingsAt"}, func(_ *testing.T, u *ui) { u.showSettings() }, nil},
		"about":         {[]string{"showAbout"}, func(_ *testing.T, u *ui) { u.showAbout() }, nil},
		"library":       {[]string{"openLibrary"}, func(_ *testing.T, u *ui) { u.openLibrary() }, func(u *ui) bool { return u.Session.CanUndo() }},
		"jobs": {[]string{"openJobs"}, func(_ *testing.T, u *ui) {
			u.Prefs.SetStringList(desk.PrefJobFolders, []string{folder})
			u.openJobs()
		}, func(u *ui) bool { return filepath.Base(u.Session.Path) == "a.toml" }},
		"name":   {[]string{"askName"}, func(_ *testing.T, u *ui) { done = false; u.AskName("Name", "Wren", func(string) { done = true }) }, was},
		"figure": {[]string{"newExportDialog"}, func(_ *testing.T, u *ui) { u.saveFigure() }, asks},
		"sheet":  {[]string{"ask", "saveSheet"}, func(_ *testing.T, u *ui) { u.saveJobSheet() }, asks},
		"claim":  {[]string{"ask", "saveSheet"}, func(_ *testing.T, u *ui) { u.saveClaim() }, asks},
		"scale":  {[]string{"printScale"}, func(_ *testing.T, u *ui) { u.printScale() }, asks},
		"channels": {[]string{"askChannels"}, func(t *testing.T, u *ui) {
			u.takeFile(noTime) // asks how fast it was recorded
			entries(t, u)[0].SetText("1000")
		}, func(u *ui) bool {
			return strings.Contains(said(u), "none.csv") || strings.Contains(words(u.Root), "none.csv")
		}},
		"figures of a cause": {[]string{"enlarge"}, func(t *testing.T, u *ui) {
			u.OpenPage("cause", "")
			for _, o := range shown(u.Root) {
				if tabs, ok := o.(*container.AppTabs); ok && len(tabs.Items) == 4 && tabs.Items[2].Text == "Figures" {
					tabs.SelectIndex(2)
				}
			}
			onPage(t, u, "Enlarge")
			if len(u.Dialogs) == 0 {
				t.Fatal("no cause has figures")
			}
		}, nil},
		"score": {[]string{"build"}, func(t *testing.T, u *ui) {
			u.OpenPage("practice", "")
			onPage(t, u, "Score")
			onPage(t, u, "Reset score…")
		}, nil},
		"class results": {[]string{"showClass"}, func(t *testing.T, u *ui) {
			u.OpenPage("practice", "")
			onPage(t, u, "What is asked")
			onPage(t, u, "Class results…")
		}, nil},
	}
}

// Every function that makes a dialog of its own stands in the table above; nothing uses
// the toolkit's dialogs, which do not listen to keys.
func TestTheTableHasEveryDialog(t *testing.T) {
	var known []string
	for _, d := range dialogsOf(t) {
		known = append(known, d.makers...)
	}
	makers := 0
	for _, name := range sources(t) {
		file, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range file.Imports {
			if i.Path.Value == `"fyne.io/fyne/v2/dialog"` && filepath.Base(name) != "dialogs.go" {
				t.Errorf("%s uses the toolkit's dialogs", name)
			}
		}
		for _, d := range file.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Name.Name == "Inquire" {
				continue
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if c, ok := n.(*ast.CallExpr); ok && slices.Contains([]string{"NewBox", "Inquire", "AskFor"}, called(c)) {
					makers++
					if !slices.ContainsFunc(known, func(k string) bool { return strings.EqualFold(k, f.Name.Name) }) {
						t.Errorf("%s: the dialog of %s is not in the table", name, f.Name.Name)
					}
				}
				return true
			})
		}
	}
	if makers < 12 {
		t.Errorf("only %d dialogs were found in the source", makers)
	}
}

// sources are the files of the window's packages, without tests and what is for tests.
func sources(t *testing.T) (list []string) {
	err := walkSources(func(name string) {
		if filepath.Base(filepath.Dir(name)) != "desktest" {
			list = append(list, name)
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// walkSources tells the files of the window's packages, without tests.
func walkSources(each func(name string)) error {
	return filepath.WalkDir(".", func(name string, _ fs.DirEntry, err error) error {
		if filepath.Ext(name) == ".go" && !strings.HasSuffix(name, "_test.go") {
			each(name)
		}
		return err
	})
}

// typeKey sends a key to what has the keyboard, as the window does.
func typeKey(u *ui, name fyne.KeyName) {
	e := &fyne.KeyEvent{Name: name}
	if f := u.Window.Canvas().Focused(); f != nil {
		f.TypedKey(e)
		return
	}
	u.Window.Canvas().OnTypedKey()(e)
}

// stops are how many things in a dialog can have the keyboard, one after the other.
func stops(u *ui) int {
	c := u.Window.Canvas()
	first := c.Focused()
	for n := 1; n < 200; n++ {
		c.FocusNext()
		if c.Focused() == first {
			return n
		}
	}
	return 200
}

// Escape closes every dialog, wherever in it the keyboard is, and nothing has happened.
func TestEscapeClosesEveryDialog(t *testing.T) {
	for name, d := range dialogsOf(t) {
		t.Run(name, func(t *testing.T) {
			u := window(t)
			d.show(t, u)
			if len(u.Dialogs) != 1 {
				t.Fatalf("%d dialogs are shown", len(u.Dialogs))
			}
			many := stops(u)
			u.Dismiss()
			for at := range many + 1 {
				d.show(t, u)
				was := u.Session.Job()
				if at == many {
					u.Window.Canvas().Unfocus()
				}
				for range at {
					u.Window.Canvas().FocusNext()
				}
				typeKey(u, fyne.KeyEscape)
				if len(u.Dialogs) != 0 || u.Covered() {
					t.Fatalf("at the %d. of %d places, %T, the dialog stays", at+1, many, u.Window.Canvas().Focused())
				}
				if !u.Session.Job().Equal(was) || u.Leaving || d.accepted != nil && name != "still writing" && d.accepted(u) && name != "unsaved changes" {
					t.Errorf("at the %d. place something was done", at+1)
				}
			}
		})
	}
}

// Enter does what the marked button is for, as the dialog comes up and where nothing has
// the keyboard.
func TestEnterAcceptsInEveryDialog(t *testing.T) {
	for name, d := range dialogsOf(t) {
		for _, unfocused := range []bool{false, true} {
			t.Run(name, func(t *testing.T) {
				u := window(t)
				d.show(t, u)
				if unfocused {
					u.Window.Canvas().Unfocus()
				}
				top := u.Dialogs[0]
				typeKey(u, fyne.KeyReturn)
				if slices.Contains(u.Dialogs, top) {
					t.Errorf("the dialog stays; it says %q", said(u))
				}
				if d.accepted != nil && !d.accepted(u) {
					t.Errorf("the marked button %q was not pressed; the window says %q", top.Marked.Text, said(u))
				}
			})
		}
	}
}

// pageKeys are all that a page acts on.
var pageKeys = []fyne.KeyName{fyne.KeySpace, fyne.KeyHome, fyne.KeyEnd, fyne.KeyPageDown, fyne.KeyPageUp, fyne.KeyF1, fyne.KeyF5, fyne.KeyF11,
	fyne.KeyLeft, fyne.KeyRight, fyne.KeyUp, fyne.KeyDown, fyne.KeyPlus, fyne.KeyMinus, fyne.Key0}

// The keys of the pages and the shortcuts of the menu do nothing below a dialog.
func TestPagesGetNoKeysBelowADialog(t *testing.T) {
	u := window(t)
	u.Edit("title", func(j *job.Job) { j.Title = "Wren" }) // so that there is something to undo
	for i := range u.pages.kinds {
		u.pages.show(i)
		u.SetAt(100)
		was, at, title := u.Session.Job(), u.At, u.Window.Title()
		for name, d := range dialogsOf(t) {
			if slices.Contains([]string{"offer", "unsaved changes", "figures of a cause", "score", "class results", "channels"}, name) {
				continue // they change what is compared here by coming up, or show their page
			}
			d.show(t, u)
			u.Window.Canvas().Unfocus()
			n := len(u.Dialogs)
			for _, k := range pageKeys {
				u.Window.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: k})
			}
			for _, m := range u.menu.main.Items {
				for _, item := range m.Items {
					if item.Shortcut != nil && !item.IsQuit {
						item.Action()
					}
				}
			}
			if len(u.Dialogs) != n || u.board != nil || u.Run.On() || u.Window.FullScreen() || u.At != at || u.pages.shown != i || !u.Session.Job().Equal(was) || u.Window.Title() != title {
				t.Errorf("%s on page %d: a key went to the page", name, i)
			}
			for len(u.Dialogs) > 0 {
				u.Dismiss()
			}
		}
	}
	// Without a dialog they do.
	typedKeys(u, fyne.KeyRight)
	if u.At != timing.Deg(101) && u.At == 100 {
		t.Errorf("without a dialog the crank stays at %v", u.At)
	}
}
