package lesson

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/lesson/class"
	"pinphase.org/pinphase/timing/lesson/plan"
	"pinphase.org/pinphase/timing/store"
)

func onPage(t *testing.T) (*desktest.Bench, *page) {
	t.Helper()
	u := desktest.New(t, Kind)
	u.OpenPage(Name, "")
	return u, u.Page.(*page)
}

// make makes a lesson of two engines with an own question and an exercise, as an
// instructor does.
func made(t *testing.T, u *desktest.Bench, p *page) {
	t.Helper()
	c := u.Window.Canvas()
	desktest.Retype(c, p.title, "Tuesday")
	test.Tap(p.engines.take)
	u.OpenFile(t, desktest.File(t, "two.toml", "format = 1\ntitle = \"Twin\"\n[engine]\nstrokes = 2\nfiring_order = [1, 2]\n"))
	test.Tap(p.engines.take)
	p.pages.what.SetSelectedIndex(4) // an own question at the strokes
	p.pages.of.SetSelectedIndex(1)
	test.Tap(p.pages.add)
	desktest.Retype(c, p.pages.question, "Which ports are open?")
	desktest.Retype(c, p.pages.answer, "None.")
	desktest.Retype(c, p.pages.at, "90")
	c.Unfocus()
	p.pages.what.SetSelectedIndex(2) // the fault
	p.pages.of.SetSelectedIndex(0)
	test.Tap(p.pages.add)
	test.Tap(p.pages.up)
	code, err := class.Exercise{Kinds: lesson.Kinds(), Count: 5, Seed: 7}.Code()
	if err != nil {
		t.Fatal(err)
	}
	desktest.Retype(c, p.exercises.title, "At the end")
	desktest.Retype(c, p.exercises.code, strings.ToLower(code)+"1")
	test.Tap(p.exercises.add)
	if len(p.lesson.Exercises) != 0 || p.exercises.code.Fault() == "" {
		t.Error("a code with a slip is taken")
	}
	desktest.Retype(c, p.exercises.code, strings.ToLower(code))
	test.Tap(p.exercises.add)
	c.Unfocus()
}

// A lesson is made, saved, opened on a second home and shown there: its pages come in
// the order in which the instructor has put them.
func TestLessonIsMadeAndOpened(t *testing.T) {
	u, p := onPage(t)
	made(t, u, p)
	want := []plan.Page{{Show: plan.FiringOrder}, {Show: plan.Fault}, {Show: plan.Cycle, AtDeg: 90, Question: "Which ports are open?", Answer: "None."}}
	check := func(l plan.Lesson) {
		t.Helper()
		if l.Title != "Tuesday" || len(l.Engines) != 2 || len(l.Exercises) != 1 || l.Exercises[0].Title != "At the end" || len(l.Pages) != len(want) {
			t.Fatalf("the lesson is %+v", l)
		}
		for i, p := range l.Pages {
			if w := want[i]; p.Show != w.Show || p.AtDeg != w.AtDeg || p.Question != w.Question || p.Answer != w.Answer {
				t.Errorf("page %d is %+v, want %+v", i+1, p, w)
			}
		}
		if l.Pages[2].Engine != l.Engines[1].Name || l.Pages[1].Engine != l.Engines[0].Name {
			t.Errorf("the pages show %q and %q", l.Pages[1].Engine, l.Pages[2].Engine)
		}
	}
	check(p.lesson)
	p.save()
	fields, folder := u.Entries(t), t.TempDir()
	if fields[0].Text != "tuesday.lesson" {
		t.Errorf("the name offered is %q", fields[0].Text)
	}
	fields[1].SetText(folder)
	u.Press(t, "Save")
	path := filepath.Join(folder, "tuesday.lesson")
	if p.changed() {
		t.Error("after saving it is not saved")
	}
	second, q := onPage(t)
	q.Take(path)
	if second.Said() != "" {
		t.Fatalf("opened, the window says %q", second.Said())
	}
	check(q.lesson)
	test.Tap(q.show)
	if asked, _ := second.Away(); asked != "board Tuesday" {
		t.Errorf("shown on the board: %q", asked)
	}
	test.Tap(q.exercises.begin)
	if asked, _ := second.Away(); asked != "practice "+q.lesson.Exercises[0].Code {
		t.Errorf("the exercise begins as %q", asked)
	}
	test.Tap(q.engines.open)
	if got := second.Session.Job().Engine.FiringOrder; len(got) != 6 {
		t.Errorf("the engine opened has the firing order %v", got)
	}
}

// What is chosen is seen as the class will see it, first the question and then the answer.
func TestLessonPreview(t *testing.T) {
	u, p := onPage(t)
	made(t, u, p)
	p.pages.list.SetSelectedIndex(2)
	if got := p.preview.view.AccessibilityLabel(); !strings.HasPrefix(got, "Which ports are open?") {
		t.Errorf("it shows %q", got)
	}
	test.Tap(p.preview.answers)
	if got := p.preview.view.AccessibilityLabel(); !strings.HasPrefix(got, "None.") {
		t.Errorf("the answer is %q", got)
	}
	p.pages.list.SetSelectedIndex(0)
	test.Tap(p.preview.forward)
	if got := p.preview.view.AccessibilityLabel(); !strings.Contains(got, "Cylinder 5 fires at 120°") || p.preview.which.Text != "2 of 6" {
		t.Errorf("the second page of the firing order is %q, %s", got, p.preview.which.Text)
	}
}

// A question without words and an angle that is none stand in their fields with what is
// wrong, and the lesson stays sound.
func TestLessonFaultsAtTheirFields(t *testing.T) {
	u, p := onPage(t)
	made(t, u, p)
	p.pages.list.SetSelectedIndex(2)
	c := u.Window.Canvas()
	desktest.Retype(c, p.pages.question, "")
	desktest.Retype(c, p.pages.at, "ninety")
	c.Unfocus()
	if p.pages.question.Fault() == "" || p.pages.at.Fault() == "" {
		t.Errorf("faults %q and %q", p.pages.question.Fault(), p.pages.at.Fault())
	}
	if _, err := plan.Read("x", p.lesson.Bytes()); err != nil {
		t.Errorf("the lesson is not sound: %v", err)
	}
	p.load()
	if p.pages.question.Text() != "" || p.pages.at.Text() != "ninety" {
		t.Errorf("what was refused has become %q and %q", p.pages.question.Text(), p.pages.at.Text())
	}
	p.pages.list.SetSelectedIndex(0)
	p.pages.list.SetSelectedIndex(2)
	if p.pages.question.Fault() != "" || p.pages.at.Fault() != "" || p.pages.at.Text() != "90" {
		t.Errorf("come back to it has %q with faults %q and %q", p.pages.at.Text(), p.pages.question.Fault(), p.pages.at.Fault())
	}
}

// Two engines of long names that begin alike are told apart in the lists.
func TestLessonEnginesOfLikeNames(t *testing.T) {
	_, p := onPage(t)
	doc := p.u.Session.Doc
	long := strings.Repeat("Harbour launch ", 10)
	l, _ := plan.Lesson{}.WithEngine(long+"a", doc)
	l, second := l.WithEngine(long+"b", doc)
	p.set(l, "")
	p.engines.list.SetSelectedIndex(1)
	p.pages.of.SetSelectedIndex(1)
	test.Tap(p.pages.add)
	if p.engines.list.SelectedIndex() != 1 || len(p.lesson.Pages) != 1 || p.lesson.Pages[0].Engine != second {
		t.Errorf("chosen is %d, and the page is %+v", p.engines.list.SelectedIndex(), p.lesson.Pages)
	}
}

// Leaving a lesson that is in no file is asked about; removing an engine too, and its
// pages go with it.
func TestLessonAsks(t *testing.T) {
	u, p := onPage(t)
	made(t, u, p)
	p.begin()
	u.Press(t, "Cancel")
	if len(p.lesson.Pages) != 3 {
		t.Error("the lesson is gone without an answer")
	}
	p.engines.list.SetSelectedIndex(0)
	test.Tap(p.engines.remove)
	u.Press(t, "Remove")
	if len(p.lesson.Engines) != 1 || len(p.lesson.Pages) != 1 {
		t.Errorf("%d engines and %d pages are left", len(p.lesson.Engines), len(p.lesson.Pages))
	}
	p.begin()
	u.Press(t, "Discard")
	if !p.lesson.Equal(plan.Lesson{}) {
		t.Error("the lesson is not empty")
	}
	bad := desktest.File(t, "bad.lesson", "format = 1\n[[page]]\nengine = \"A\"\nshow = \"cycle\"\n")
	p.Take(bad)
	if !strings.Contains(u.Said(), "there is no engine") {
		t.Errorf("a lesson that is not sound: %q", u.Said())
	}
}

// What is made is there again at the next start, and after the window was built anew.
func TestLessonIsKept(t *testing.T) {
	own := t.TempDir()
	u, p := onPage(t)
	u.Own = own
	p.keepIn(filepath.Join(own, draftFile))
	made(t, u, p)
	if _, err := os.Stat(filepath.Join(own, draftFile)); err != nil {
		t.Fatal(err)
	}
	u.Rebuild()
	if q := u.Page.(*page); !q.lesson.Equal(p.lesson) || q == p {
		t.Error("after a rebuild it is another lesson")
	}
	fresh := newPage(u.Desk, nil)
	if !fresh.lesson.Equal(p.lesson) {
		t.Errorf("at the next start it is %s", fresh.lesson.Bytes())
	}
	if err := os.WriteFile(filepath.Join(own, draftFile), []byte("format = 7"), 0o600); err != nil {
		t.Fatal(err)
	}
	damaged := newPage(u.Desk, nil)
	if len(damaged.lesson.Engines) != 0 || !damaged.notice.Visible() {
		t.Errorf("a damaged one is %+v, said: %q", damaged.lesson, damaged.notice.Text)
	}
}

// A file opened while the draft is still being read waits for it, and then asks about it.
func TestLessonOpenedWhileTheDraftIsRead(t *testing.T) {
	file, other := filepath.Join(t.TempDir(), draftFile), desktest.File(t, "other.lesson", "format = 1\n[lesson]\ntitle = \"Other\"\n")
	if err := os.WriteFile(file, plan.Lesson{Title: "Kept"}.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	u, p := onPage(t)
	var later []func() func()
	u.Beside = func(work func() func()) { later = append(later, work) }
	p.keepIn(file)
	p.Take(other)
	if len(later) != 1 || p.edits.Visible() {
		t.Fatalf("%d files are being read, and the lesson can be edited: %v", len(later), p.edits.Visible())
	}
	u.Beside = nil
	later[0]()()
	if p.lesson.Title != "Kept" || !p.edits.Visible() {
		t.Fatalf("the lesson is %q", p.lesson.Title)
	}
	u.Press(t, "Cancel")
	if p.lesson.Title != "Kept" || p.title.Text() != "Kept" {
		t.Errorf("after Cancel the lesson is %q, the field has %q", p.lesson.Title, p.title.Text())
	}
	p.Take(other)
	u.Press(t, "Discard")
	if p.lesson.Title != "Other" {
		t.Errorf("after Discard the lesson is %q", p.lesson.Title)
	}
}

// What is changed while a file is being read is asked about when it comes.
func TestLessonChangedWhileAFileIsRead(t *testing.T) {
	other := desktest.File(t, "other.lesson", "format = 1\n[lesson]\ntitle = \"Other\"\n")
	u, p := onPage(t)
	var later []func() func()
	u.Beside = func(work func() func()) { later = append(later, work) }
	p.Take(other)
	u.Beside = nil
	desktest.Retype(u.Window.Canvas(), p.title, "Mine") // and the keyboard is still there
	later[0]()()
	u.Press(t, "Cancel")
	if p.lesson.Title != "Mine" {
		t.Errorf("the lesson is %q", p.lesson.Title)
	}
	p.Take(other)
	u.Press(t, "Discard")
	if p.title.Text() != "Other" {
		t.Errorf("the title's field has %q", p.title.Text())
	}
}

// What was typed last, and is still in its field, is kept when the program ends.
func TestLessonTypedLastIsKept(t *testing.T) {
	u, p := onPage(t)
	file := filepath.Join(t.TempDir(), draftFile)
	p.keepIn(file)
	desktest.Retype(u.Window.Canvas(), p.title, "Last")
	p.End()
	data, err := os.ReadFile(file)
	if l, bad := plan.Read(file, data); err != nil || bad != nil || l.Title != "Last" {
		t.Errorf("kept is %q, %v, %v", data, err, bad)
	}
}

// A kept lesson that can neither be read nor put aside stays as it is, and no new one is
// written over it.
func TestLessonThatCannotBePutAside(t *testing.T) {
	u, p := onPage(t)
	folder := t.TempDir()
	file := filepath.Join(folder, draftFile)
	if err := os.WriteFile(file, []byte("format = 7"), 0o600); err != nil {
		t.Fatal(err)
	}
	u.Files = stuck{u.Files}
	p.keepIn(file)
	if !strings.Contains(p.notice.Text, "left as it is") {
		t.Errorf("it says %q", p.notice.Text)
	}
	desktest.Retype(u.Window.Canvas(), p.title, "New")
	p.finish()
	if data, _ := os.ReadFile(file); string(data) != "format = 7" {
		t.Errorf("the file holds %q", data)
	}
	if !p.notice.Visible() {
		t.Error("after an edit nothing is said any more")
	}
}

// stuck is files of which none can be renamed.
type stuck struct{ store.Files }

func (stuck) Rename(string, string) error { return os.ErrPermission }

// A saved lesson is a saved one at the next start too.
func TestSavedLessonAtTheNextStart(t *testing.T) {
	u, p := onPage(t)
	u.Own = t.TempDir()
	p.keepIn(filepath.Join(u.Own, draftFile))
	path := desktest.File(t, "mine.lesson", "format = 1\n[lesson]\ntitle = \"Mine\"\n")
	p.Take(path)
	if q := newPage(u.Desk, nil); q.changed() || q.path != path || q.lesson.Title != "Mine" {
		t.Errorf("changed %v, of %q, titled %q", q.changed(), q.path, q.lesson.Title)
	}
	desktest.Retype(u.Window.Canvas(), p.title, "Changed")
	p.finish()
	if q := newPage(u.Desk, nil); !q.changed() || q.path != path || q.lesson.Title != "Changed" {
		t.Errorf("after an edit: changed %v, of %q, titled %q", q.changed(), q.path, q.lesson.Title)
	}
}

// By the keyboard alone a page is added and moved: everything can be reached by Tab.
func TestLessonByKeyboard(t *testing.T) {
	u, p := onPage(t)
	c := u.Window.Canvas()
	reached := map[fyne.Focusable]bool{}
	for range 60 {
		c.(interface{ FocusNext() }).FocusNext()
		if f := c.Focused(); f != nil {
			reached[f] = true
		}
	}
	press := func(b fyne.Focusable) {
		t.Helper()
		if !reached[b] {
			t.Fatalf("%v is not reached by Tab", b)
		}
		c.Focus(b)
		b.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	}
	press(p.engines.take)
	if len(p.lesson.Pages) != 1 {
		t.Fatalf("the space bar on %q: %+v", p.engines.take.Text, p.lesson)
	}
}
