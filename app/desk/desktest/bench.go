// Package desktest is a bare desk for the tests of a page: a window with that page and
// nothing else, on Fyne's driver without a screen, and what a user does to it. The
// driver has one app for all: tests of one package do not run in parallel.
package desktest

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson/plan"
)

// Bench is a desk with one page on the demo job, in a window of a usual size. It does
// all its work in turn: what one test left running would touch the next one's window.
type Bench struct {
	*desk.Desk
	Kind  desk.PageKind
	Page  desk.Page
	Asked []string   // the other pages, places on them and keys that were asked for
	Shows func()     // is called when the job, or what the reader chose, has changed; may be nil
	away  bool       // another page is shown
	form  *form.Form // the job's; nil until a label is wanted
}

// New returns the bench of a page, which is shown.
func New(t testing.TB, kind desk.PageKind) *Bench {
	t.Helper()
	a := test.NewTempApp(t)
	b := Again(a, kind)
	t.Cleanup(ForgetWidgets)
	return b
}

// Bare is a bench without a page.
func Bare(t testing.TB) *Bench {
	t.Helper()
	return New(t, desk.PageKind{Build: func(*desk.Desk, desk.Page) desk.Page { return blank{} }})
}

// blank is a page with nothing on it.
type blank struct{}

func (blank) Body() fyne.CanvasObject { return container.NewStack() }
func (blank) Load()                   {}
func (blank) Moved()                  {}
func (blank) Remember()               {}
func (blank) End()                    {}

// Again is the bench of a page at another start of the program.
func Again(a fyne.App, kind desk.PageKind) *Bench {
	b := &Bench{Desk: desk.New(a, a.Preferences(), ""), Kind: kind}
	b.Shell, b.OtherKey = b, b.other
	b.InTurn = true
	b.View = func(string) error { return nil } // nothing is to come up on the screen of whoever tests
	b.Window.SetPadded(false)
	b.Window.Resize(fyne.NewSize(1280, 800))
	b.build(nil)
	return b
}

func (b *Bench) build(old desk.Page) {
	b.Clear()
	b.form = nil
	b.Page = b.Kind.Build(b.Desk, old)
	b.Root = container.NewStack(b.Page.Body(), b.Notice.Content, b.Tips.Content)
	b.Window.SetContent(b.Root)
	b.Changed()
}

// Rebuild builds the page anew, as for another language.
func (b *Bench) Rebuild() {
	b.Page.Remember()
	kit.Speak(b.Prefs.Language(), b.Prefs.Units())
	b.build(b.Page)
}

// On returns the bench of a page with a job open.
func On(t testing.TB, kind desk.PageKind, text string) *Bench {
	t.Helper()
	b := New(t, kind)
	b.OpenFile(t, File(t, "job.toml", text))
	return b
}

// OpenFile opens a job file.
func (b *Bench) OpenFile(t testing.TB, path string) {
	t.Helper()
	doc, err := job.ReadFile(path)
	if err != nil {
		t.Fatalf("the job did not open: %v", err)
	}
	b.Begin(desk.NewSession(path, doc, doc.Bytes()))
}

// OpenDemo opens the demo job anew.
func (b *Bench) OpenDemo() { b.Begin(desk.NewSession("", desk.Demo(), nil)) }

// Leave shows another page, and Return the bench's own again.
func (b *Bench) Leave() { b.away = true }

// Return is described at [Bench.Leave].
func (b *Bench) Return() { b.OpenPage(b.Kind.Name, "") }

// Answer is what the head of the window says first.
func (b *Bench) Answer() string {
	s, err := finding.ShiftOf(b.Shown())
	if err != nil {
		return kit.Tr("When injection starts is not known yet.")
	}
	return kit.Say(s.Says)
}

// Notes is what the head says beside it: what is wanted yet, or what is wrong.
func (b *Bench) Notes() string {
	if wanted := b.Unfinished(); wanted != "" {
		return wanted
	}
	if wrong, _ := b.Wrong(); wrong != "" {
		return kit.Tr("The figures show the job as it was before this error:") + " " + wrong
	}
	s, err := finding.ShiftOf(b.Shown())
	if err != nil {
		return b.Why(err)
	}
	return kit.Joined(s.Notes, len(s.Notes))
}

// Supposing is what the head of the window says is supposed, "" for nothing.
func (b *Bench) Supposing() string {
	what, ok := finding.Supposing(b.Shown())
	if !ok {
		return ""
	}
	return kit.Say(what)
}

func (b *Bench) other(e *fyne.KeyEvent) {
	if b.Covered() {
		b.BoxKey(e)
		return
	}
	if k, ok := b.Page.(desk.KeyPage); ok && k.Key(e) {
		return
	}
	b.Asked = append(b.Asked, "key "+string(e.Name))
}

// The methods of [desk.Shell].

// JobChanged implements [desk.Shell].
func (b *Bench) JobChanged() { b.LookAgain() }

// JobLeft implements [desk.Shell].
func (b *Bench) JobLeft() {
	if l, ok := b.Page.(desk.Leaver); ok {
		l.Leave()
	}
}

// CrankMoved implements [desk.Shell].
func (b *Bench) CrankMoved() {
	if !b.away {
		b.Page.Moved()
	}
}

// FieldTyped implements [desk.Shell].
func (b *Bench) FieldTyped() {}

// LookAgain implements [desk.Shell].
func (b *Bench) LookAgain() {
	if !b.away {
		b.Page.Load()
		b.Page.Moved()
	}
	if b.Shows != nil {
		b.Shows()
	}
}

// ShowBoard implements [desk.Shell].
func (b *Bench) ShowBoard(l *plan.Lesson) { b.Asked = append(b.Asked, "board "+l.Title) }

// OpenJob implements [desk.Shell].
func (b *Bench) OpenJob(doc *job.Document) { b.Begin(desk.NewSession("", doc, nil)) }

// OpenPage implements [desk.Shell].
func (b *Bench) OpenPage(name, at string) {
	if name != b.Kind.Name {
		b.Asked = append(b.Asked, name+" "+at)
		b.away = true
		return
	}
	b.away = false
	b.LookAgain()
	if p, ok := b.Page.(desk.Turner); ok && at != "" {
		p.TurnTo(at)
	}
}

// ShowField implements [desk.Shell].
func (b *Bench) ShowField(key string) {
	if b.Kind.Holds == nil || !b.Kind.Holds(b.Desk, key) {
		b.Asked = append(b.Asked, "key of the job "+key)
		b.away = true
		return
	}
	b.OpenPage(b.Kind.Name, "")
	b.Page.(desk.Shower).ShowField(key)
}

// IsOpen implements [desk.Shell].
func (b *Bench) IsOpen(page string) bool { return !b.away && b.Page != nil && page == b.Kind.Name }

// BuildHolder implements [desk.Shell]: what the page does not hold is in the job's form.
func (b *Bench) BuildHolder(string) {
	if b.form == nil {
		b.form = form.NewForm(b.Desk)
	}
}

// Away tells whether another page was asked for last, and where to.
func (b *Bench) Away() (asked string, away bool) {
	if n := len(b.Asked); n > 0 {
		asked = b.Asked[n-1]
	}
	return asked, b.away
}

// SetTextSize gives the window another size of text.
func (b *Bench) SetTextSize(share float32) {
	b.Look = &kit.Look{Choice: b.Look.Choice, Scale: share}
	b.Restyling = true
	b.App.Settings().SetTheme(b.Look)
	b.Restyling = false
	b.Reload()
}

// File writes a file into a folder of the test's own.
func File(t testing.TB, name, text string) string {
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// Read returns what a file holds.
func Read(t testing.TB, path string) string {
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}
