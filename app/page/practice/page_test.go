package practice

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson"
)

// practising returns the window on the practice page, asking only some kinds.
func practising(t testing.TB, kinds ...lesson.Kind) *desktest.Bench {
	u := desktest.New(t, Kind)
	u.Page.(*page).seed = 1
	if len(kinds) > 0 {
		u.Page.(*page).kinds = kinds
	}
	u.Page.(*page).current = nil // what was asked first was of all kinds
	u.OpenPage("practice", "")
	if u.Page.(*page).current == nil {
		t.Fatalf("nothing is asked; the page says %q", desktest.Words(u.Page.(*page).content))
	}
	return u
}

// typed types into what has the keyboard.
func typed(t testing.TB, u *desktest.Bench, text string) {
	t.Helper()
	to := u.Window.Canvas().Focused()
	if to == nil {
		t.Fatal("nothing has the keyboard")
	}
	for _, r := range text {
		to.TypedRune(r)
		if r >= '0' && r <= '9' {
			to.TypedKey(&fyne.KeyEvent{Name: fyne.KeyName(string(r))})
		}
	}
}

// entered presses a key of what has the keyboard.
func entered(t testing.TB, u *desktest.Bench, key fyne.KeyName) {
	t.Helper()
	to := u.Window.Canvas().Focused()
	if to == nil {
		t.Fatal("nothing has the keyboard")
	}
	to.TypedKey(&fyne.KeyEvent{Name: key})
}

// answer types the right answer, or another one, with Enter after each part.
func answer(t testing.TB, u *desktest.Bench, right bool) {
	t.Helper()
	answerOnce(t, u, right)
	if p := u.Page.(*page); !right && !p.done { // once more
		answerOnce(t, u, right)
	}
}

func answerOnce(t testing.TB, u *desktest.Bench, right bool) {
	t.Helper()
	for _, p := range u.Page.(*page).current.Parts {
		switch {
		case p.Form == lesson.Choose && right:
			typed(t, u, string(rune('1'+p.Choice)))
		case p.Form == lesson.Choose:
			typed(t, u, string(rune('1'+(p.Choice+1)%len(p.Choices))))
		case right:
			typed(t, u, p.Answer().String())
		case p.Form == lesson.Pick:
			other := 1
			if len(p.Cylinders) == 1 && p.Cylinders[0] == 1 {
				other = 2
			}
			typed(t, u, string(rune('0'+other)))
		default:
			typed(t, u, "777 "+map[lesson.Sides]string{lesson.BeforeAfter: "after", lesson.EarlyLate: "late"}[p.Sides])
		}
		entered(t, u, fyne.KeyReturn)
	}
}

// The keyboard alone answers a question of every kind, right and wrong, and goes
// on to the next.
func TestPracticeByKeyboard(t *testing.T) {
	u := practising(t)
	p := u.Page.(*page)
	for _, k := range lesson.Kinds() {
		for level := 1; level <= lesson.Levels; level += 2 {
			p.kinds, p.number = []lesson.Kind{k}, 1
			p.record = lesson.Record{Kinds: map[lesson.Kind]lesson.Skill{k: {Level: level}}}
			p.pose()
			for _, right := range []bool{true, false} {
				q := p.current
				before := p.record.Of(k)
				answer(t, u, right)
				said := desktest.Words(p.content)
				if !p.done {
					t.Fatalf("%s: the answer is not judged; the page says %q", q.Ask, said)
				}
				if s := p.record.Of(k); s.Asked != before.Asked+1 || (s.Right == before.Right+1) != right {
					t.Errorf("%s: answered %v, the score went from %+v to %+v", q.Ask, right, before, s)
				}
				if right != strings.Contains(said, "Correct.") || right == strings.Contains(said, "Incorrect.") || strings.Contains(said, "Wrong:") == right {
					t.Errorf("%s: answered %v, the page says %q", q.Ask, right, said)
				}
				for _, s := range q.Steps {
					if !strings.Contains(said, s.String()) {
						t.Errorf("%s: the step %q is not shown", q.Ask, s)
					}
				}
				if hasFigure := len(desktest.Rasters(p.content)) == 1; hasFigure != (q.After != nil) {
					t.Errorf("%s: a figure is shown: %v", q.Ask, hasFigure)
				}
				entered(t, u, fyne.KeyReturn)
				if p.done || p.number < 2 || u.Window.Canvas().Focused() == nil {
					t.Fatalf("%s: Enter does not go on", q.Ask)
				}
			}
		}
	}
}

func TestPracticeUnclear(t *testing.T) {
	u := practising(t, lesson.Injection)
	p := u.Page.(*page)
	entered(t, u, fyne.KeyReturn)
	if got := p.slots[0].field.Fault(); got != "Enter an answer, or say that you do not know it." {
		t.Errorf("nothing typed is %q", got)
	}
	typed(t, u, "16")
	if p.slots[0].field.Fault() != "" {
		t.Error("the hint stays while something is typed")
	}
	entered(t, u, fyne.KeyReturn) // to the choice
	entered(t, u, fyne.KeyRight)
	entered(t, u, fyne.KeySpace)
	if p.slots[1].chosen != 1 {
		t.Errorf("the arrow and the space bar chose %d", p.slots[1].chosen)
	}
	entered(t, u, fyne.KeyReturn)
	if got := p.slots[0].field.Fault(); p.done || !strings.Contains(got, "16 before") {
		t.Errorf("a number without a side: judged %v, %q", p.done, got)
	}
	test.Tap(p.slots[0].fill.Objects[1].(*kit.KeyButton))
	if got := p.slots[0].field.Text(); got != "16 after TDC" {
		t.Errorf("the side put behind the number makes %q", got)
	}
	test.Tap(p.slots[0].fill.Objects[0].(*kit.KeyButton))
	if got := p.slots[0].field.Text(); got != "16 before TDC" {
		t.Errorf("the other side makes %q", got)
	}
	u.Keys(fyne.KeyReturn) // while nothing has the keyboard
	if !p.done && !p.tried {
		t.Error("Enter does not check")
	}
	if !p.done {
		test.Tap(p.unknown)
	}
	if asked, _ := p.record.Total(); asked != 1 {
		t.Errorf("%d answers were counted", asked)
	}
}

// The mouse alone answers what can be chosen.
func TestPracticeByMouse(t *testing.T) {
	u := practising(t, lesson.Companion)
	p := u.Page.(*page)
	q := p.current.Parts[0]
	for c := 1; c <= q.Of; c++ {
		for _, right := range q.Cylinders {
			if c == right {
				test.Tap(p.slots[0].fill.Objects[c-1].(*kit.KeyButton))
			}
		}
	}
	test.Tap(p.slots[0].fill.Objects[0].(*kit.KeyButton)) // in and out again
	test.Tap(p.slots[0].fill.Objects[0].(*kit.KeyButton))
	test.Tap(p.check)
	if _, right := p.record.Total(); !p.done || right != 1 {
		t.Errorf("the cylinders tapped are read as %q", p.slots[0].field.Text())
	}
	test.Tap(p.next)
	test.Tap(p.slots[0].fill.Objects[len(p.slots[0].fill.Objects)-1].(*kit.KeyButton))
	if got := p.slots[0].field.Text(); got != "none" {
		t.Errorf("no cylinder is %q", got)
	}
	before := desktest.Words(p.content)
	test.Tap(p.unknown)
	said := desktest.Words(p.content)
	if !p.done || !strings.Contains(said, "The answer is ") || !strings.Contains(said, "This is how it is found.") {
		t.Errorf("not knowing shows %q", said)
	}
	if strings.Contains(before, "This is how it is found.") {
		t.Error("the answer is shown before")
	}
	if s := p.record.Of(lesson.Companion); s.Asked != 2 || s.Right != 1 {
		t.Errorf("not knowing counts as %+v", s)
	}
}

// A wrong answer shows the first step and can be tried once more; what is right then
// counts as not right at once, and comes back.
func TestPracticeSecondTry(t *testing.T) {
	u := practising(t, lesson.Stroke)
	p := u.Page.(*page)
	p.record = lesson.Record{Kinds: map[lesson.Kind]lesson.Skill{lesson.Stroke: {Level: 3}}}
	p.pose()
	missed := p.current.Key()
	answerOnce(t, u, false)
	said := desktest.Words(p.content)
	if p.done || !strings.Contains(said, p.current.Steps[0].String()) || strings.Contains(said, p.current.Steps[len(p.current.Steps)-1].String()) || !strings.Contains(said, "Not correct yet.") {
		t.Fatalf("after a wrong answer: judged %v, the page says %q", p.done, said)
	}
	answerOnce(t, u, true)
	if s := p.record.Of(lesson.Stroke); !p.done || s.Right != 0 || s.Level != 3 || !strings.Contains(desktest.Words(p.content), "Right, at the second try.") {
		t.Errorf("right at the second try: judged %v, %+v", p.done, s)
	}
	for range 4 {
		entered(t, u, fyne.KeyReturn)
		if p.current.Key() == missed {
			if !strings.Contains(p.standing.Text, "missed before") {
				t.Errorf("it comes back as %q", p.standing.Text)
			}
			return
		}
		answer(t, u, true)
	}
	t.Error("what was missed does not come back")
}

// What was asked of the open job's engine is shown on the Cycle page, the crank where
// the question has it.
func TestPracticeOpensInCycle(t *testing.T) {
	u := practising(t, lesson.Stroke)
	p := u.Page.(*page)
	if p.inCycle.Visible() {
		t.Error("it can be opened before the answer")
	}
	at := p.current.After.At
	answer(t, u, true)
	if !p.inCycle.Visible() {
		t.Fatal("it cannot be opened")
	}
	test.Tap(p.inCycle)
	if u.At != at {
		t.Errorf("the crank stands at %g, not %g", u.At, at)
	}
}

func TestPracticeChoices(t *testing.T) {
	u := practising(t)
	p := u.Page.(*page)
	test.Tap(p.side.Buttons[2])
	for _, k := range lesson.Kinds() {
		p.choice.checks[k].SetChecked(false)
	}
	if p.current != nil || p.ask.Text != "Choose at least one kind of question." || p.check.Visible() {
		t.Errorf("without a kind the page says %q", desktest.Words(p.content))
	}
	p.choice.checks[lesson.Firing].SetChecked(true)
	if p.current == nil || p.current.Kind != lesson.Firing {
		t.Fatal("the kind chosen is not asked")
	}
	if got := practiceKinds(u.Prefs); len(got) != 1 || got[0] != lesson.Firing {
		t.Errorf("kept for the next start: %v", got)
	}
	// An engine of one cylinder fires nothing next: one is made up.
	u.Edit("one", func(j *job.Job) { j.Engine.FiringOrder, j.Engine.FiringIntervalsDeg = []int{1}, nil })
	if p.current == nil || !p.current.MadeUp || !strings.Contains(p.standing.Text, "made-up engine") {
		t.Errorf("of one cylinder the page says %q, %q", p.standing.Text, p.ask.Text)
	}
	test.Tap(p.choice.engines.Buttons[1])
	if p.current == nil || !u.Prefs.Bool(prefPracticeMade) {
		t.Error("made-up engines are not asked about")
	}
	test.Tap(p.choice.engines.Buttons[0])
	// Another engine makes another question; another title does not.
	u.Edit("two", func(j *job.Job) { j.Engine.FiringOrder = []int{1, 3, 2} })
	if p.current == nil || !strings.Contains(p.given.Text, "1-3-2") {
		t.Errorf("of three cylinders: %q", p.given.Text)
	}
}

// The score is kept between starts; a damaged one is put aside and said.
func TestPracticeScoreIsKept(t *testing.T) {
	file := filepath.Join(t.TempDir(), "folder", "practice.json")
	u := practising(t, lesson.Stroke)
	u.Page.(*page).KeepIn(file)
	answer(t, u, true)
	if u.Page.(*page).notice.Visible() {
		t.Errorf("said: %q", u.Page.(*page).notice.Text)
	}
	again := practising(t, lesson.Stroke)
	again.Page.(*page).KeepIn(file)
	if s := again.Page.(*page).record.Of(lesson.Stroke); s.Right != 1 {
		t.Errorf("at the next start the score is %+v", s)
	}
	test.Tap(again.Page.(*page).side.Buttons[1])
	if got := desktest.Words(again.Page.(*page).content); !strings.Contains(got, "1 of 1") {
		t.Errorf("the score says %q", got)
	}
	test.Tap(again.Page.(*page).score.anew)
	again.Press(t, "Keep")
	test.Tap(again.Page.(*page).score.anew)
	again.Press(t, "Reset")
	if r, err := lesson.ReadRecord([]byte(desktest.Read(t, file))); err != nil || len(r.Kinds) != 0 || len(again.Page.(*page).record.Kinds) != 0 {
		t.Errorf("begun anew the score is %+v, %v", r, err)
	}

	if err := os.WriteFile(file, []byte(`{"kinds": {"stroke": {"asked": -3}}}`), 0o600); err != nil {
		t.Fatal(err)
	}
	damaged := practising(t, lesson.Stroke)
	damaged.Page.(*page).KeepIn(file)
	if got := damaged.Page.(*page).notice; !got.Visible() || !strings.Contains(got.Text, "starts from zero") {
		t.Errorf("of a damaged score is said %q", got.Text)
	}
	if _, err := os.Stat(file + ".damaged"); err != nil {
		t.Error("the damaged score is gone")
	}
	answer(t, damaged, true)
	if r, err := lesson.ReadRecord([]byte(desktest.Read(t, file))); err != nil || r.Of(lesson.Stroke).Asked != 1 {
		t.Errorf("after a damaged score: %+v, %v", r, err)
	}
	nowhere := practising(t, lesson.Stroke)
	nowhere.Page.(*page).KeepIn(filepath.Join(file, "no folder", "practice.json"))
	answer(t, nowhere, true)
	if !nowhere.Page.(*page).done || !strings.Contains(nowhere.Page.(*page).notice.Text, "cannot be kept") {
		t.Errorf("without a place for the score: %q", nowhere.Page.(*page).notice.Text)
	}
}

// In another language the same question goes on, and the score with it.
func TestPracticeInAnotherLanguage(t *testing.T) {
	u := practising(t, lesson.TDC)
	answer(t, u, true)
	entered(t, u, fyne.KeyReturn)
	before := u.Page.(*page).current.Parts[0].Value
	u.Prefs.SetString(desk.PrefLanguage, "de")
	u.Rebuild()
	t.Cleanup(func() { u.Prefs.SetString(desk.PrefLanguage, "en"); u.Rebuild() })
	p := u.Page.(*page)
	if _, right := p.record.Total(); right != 1 || p.current == nil || p.current.Parts[0].Value != before {
		t.Fatalf("in another language the score is %+v and the question %+v", p.record, p.current)
	}
	typed(t, u, strings.ReplaceAll(say(p.current.Parts[0].Answer()), ".", ","))
	entered(t, u, fyne.KeyReturn)
	if _, right := p.record.Total(); right != 2 {
		t.Errorf("the answer typed with a comma is judged %q", p.slots[0].verdict.Text)
	}
	u.SetTextSize(2) // longer words, and twice as large
	for i := range p.side.Buttons {
		test.Tap(p.side.Buttons[i])
		if m := u.Root.MinSize(); m.Width > 1024 {
			t.Errorf("at double size side %d needs %v", i, m)
		}
	}
}

func TestPracticeFitsTheSmallestScreen(t *testing.T) {
	u := practising(t, lesson.Injection)
	u.Window.Resize(fyne.NewSize(1024, 640-36))
	for i := range u.Page.(*page).side.Buttons {
		test.Tap(u.Page.(*page).side.Buttons[i])
		if m := u.Root.MinSize(); m.Width > 1024 || m.Height > 640-36 {
			t.Errorf("side %d needs %v", i, m)
		}
	}
	u.SetTextSize(2)
	for i := range u.Page.(*page).side.Buttons {
		test.Tap(u.Page.(*page).side.Buttons[i])
		if m := u.Root.MinSize(); m.Width > 1024 {
			t.Errorf("at double size side %d needs %v", i, m)
		}
	}
	// The answer to a long question is scrolled to.
	u.Page.(*page).focusFirst()
	answer(t, u, true)
	d := u.App.Driver()
	top := d.AbsolutePositionForObject(u.Page.(*page).judged).Y - d.AbsolutePositionForObject(u.Page.(*page).scroll).Y
	if room := u.Page.(*page).scroll.Size().Height; u.Page.(*page).scroll.Offset.Y == 0 || top < -1 || top > room-20 {
		t.Errorf("the verdict stands at %g of %g, scrolled by %g", top, room, u.Page.(*page).scroll.Offset.Y)
	}
	var labels []*widget.Label
	for _, o := range desktest.Shown(u.Page.(*page).scroll) {
		if l, ok := o.(*widget.Label); ok && l.Text != "" {
			labels = append(labels, l)
		}
	}
	for _, l := range labels {
		if l.Size().Width > u.Page.(*page).scroll.Size().Width {
			t.Errorf("%q is wider than its room", l.Text)
		}
	}
}
