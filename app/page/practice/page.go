// Package practice is the page that asks an apprentice questions and keeps the score.
package practice

import (
	"math/rand/v2"
	"path/filepath"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/lesson/class"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// page asks an apprentice questions about the open job's engine or made-up
// ones. Enter checks the answer, Enter again goes on to the next question.
type page struct {
	u       *desk.Desk
	content *container.Split

	standing  *widget.Label // which question this is, and how the learner does
	notice    *widget.Label // about the kept score
	wasUnkept bool          // it could not be kept the last time
	given     *widget.Label
	ask       *widget.Label
	slots     [2]*practiceSlot
	check     *kit.KeyButton
	unknown   *kit.KeyButton
	next      *kit.KeyButton
	inCycle   *kit.KeyButton
	bar       kit.ColourBar // the colour beside the verdict
	verdict   *widget.Label
	judged    *fyne.Container
	steps     *widget.Label
	scroll    *container.Scroll

	side    *kit.OneOf
	room    *fyne.Container
	figure  *widgets.FigureView
	wait    *widget.Label   // in the figure's place before the answer
	waiting *fyne.Container // it, and the score below
	score   practiceScore
	choice  practiceChoice

	scores  *kit.Latest[keptScore]
	record  lesson.Record
	file    string // where it is kept; "": nowhere
	reading bool   // it is being read
	kinds   []lesson.Kind
	made    bool // of made-up engines
	seed    uint64
	number  int          // of the question, from 1
	course  *practice    // an exercise from an instructor; nil: questions that follow the learner
	last    *practice    // the last that came as a code and was answered; nil: none since the start
	job     job.Job      // asked about
	asked   lesson.Asked // in this set
	current *lesson.Question
	tried   bool // it was answered once, not rightly
	done    bool // it has been answered
}

const name = "practice" // by which the page is opened

var Kind = desk.PageKind{
	Name: name, Title: phrase.Text("Practice"), Figures: []string{"practice"},
	Build: func(d *desk.Desk, old desk.Page) desk.Page {
		before, _ := old.(*page)
		return newPage(d, before)
	},
}

// newPage goes on with the questions of an old page, when the window is built
// anew for another language.
func newPage(u *desk.Desk, old *page) *page {
	p := &page{u: u, standing: kit.Prose(), notice: kit.Prose(), given: kit.Prose(), ask: kit.Prose(), verdict: kit.Prose(), steps: kit.Prose(), wait: kit.Prose(),
		bar: kit.NewColourBar(u.Frame), figure: widgets.NewFigureView(fyne.NewSize(220, 160)), seed: rand.Uint64(), number: 1, asked: lesson.Asked{}}
	p.kinds = practiceKinds(u.Prefs)
	p.made = u.Prefs.Bool(prefPracticeMade)
	if old == nil {
		p.scores = newScoreKeeper(u)
	} else {
		p.record, p.file, p.scores, p.kinds, p.seed, p.number, p.course = old.record, old.file, old.scores, old.kinds, old.seed, old.number, old.course
		p.asked, p.last = old.asked, old.last
		if old.done {
			p.number++
		} else if old.current != nil {
			delete(p.asked, old.current.Key()) // it is asked in the other language
		}
	}
	p.given.SizeName, p.ask.SizeName = theme.SizeNameSubHeadingText, theme.SizeNameHeadingText
	p.ask.TextStyle.Bold, p.verdict.TextStyle.Bold = true, true
	p.verdict.SizeName = theme.SizeNameSubHeadingText
	p.notice.Importance = widget.WarningImportance
	p.notice.Hide()
	for i := range p.slots {
		p.slots[i] = newPracticeSlot(p, i)
	}
	p.check = kit.NewKeyButton(tr("Check"), p.tryAnswer)
	p.check.Importance = widget.HighImportance
	p.unknown = kit.NewKeyButton(tr("I do not know"), func() { p.judge(nil) })
	p.next = kit.NewKeyButton(tr("Next question"), p.goOn)
	p.next.Importance = widget.HighImportance
	p.inCycle = kit.NewKeyButton(tr("Open this in Cycle"), p.openInCycle)
	p.judged = container.NewVBox(container.NewBorder(nil, nil, p.bar.Rectangle, nil, container.New(&kit.Tight{}, p.verdict, p.steps)))
	p.scroll = container.NewVScroll(container.New(&kit.BesideBar{}, container.NewVBox(
		p.notice, container.New(&kit.Tight{}, p.standing, p.given, p.ask),
		p.slots[0].content, p.slots[1].content,
		widget.NewSeparator(), container.New(&kit.Flow{}, p.check, p.unknown, p.next, p.inCycle),
		p.judged,
	)))
	p.score.build(p)
	p.choice.build(p)
	p.wait.SetText(tr("The figure is shown with the answer."))
	p.room = container.NewStack()
	p.waiting = container.NewBorder(p.wait, nil, nil, nil, p.score.content)
	p.side = kit.NewOneOf(func(int) { p.loadSide() }, tr("Figure"), tr("Score"), tr("What is asked"))
	p.side.Set(0)
	right := container.NewBorder(container.NewHScroll(p.side.Content), nil, nil, nil, p.room)
	p.content = container.NewHSplit(p.scroll, right)
	p.content.Offset = u.Prefs.Share(prefSplitPractice, 0.56)
	if (old == nil || old.reading) && u.Own != "" {
		p.KeepIn(filepath.Join(u.Own, practiceFile))
	}
	return p
}

// ComeAndGo are the figures that only some questions have.
func (p *page) ComeAndGo() []fyne.CanvasObject { return []fyne.CanvasObject{p.figure} }

func (p *page) Body() fyne.CanvasObject { return p.content }

func (p *page) Remember() { p.u.Prefs.SetFloat(prefSplitPractice, p.content.Offset) }

func (p *page) Moved() {}

func (p *page) End() {}

// shown tells whether it is the page that is shown; before that nothing is asked.
func (p *page) shown() bool { return p.u.IsOpen(name) }

// Load asks about the session's newest sound job, anew when its engine has
// changed.
func (p *page) Load() {
	if !p.shown() || p.reading {
		return
	}
	j := p.u.Known()
	if p.current == nil || p.ofJob() && !p.job.Equal(j) {
		p.job = j
		p.pose()
		return
	}
	p.show() // the theme or the language may be another
}

// source gives the engines to ask about.
func (p *page) source() lesson.Source {
	if p.made {
		return lesson.Source{}
	}
	return lesson.Only(p.job)
}

// pose asks the question whose turn it is.
func (p *page) pose() {
	var q lesson.Question
	var err error
	if c := p.course; c != nil {
		from, kinds := p.asks()
		q, err = lesson.Numbered(from, kinds, p.seed, p.number, c.count)
	} else {
		q, err = lesson.Next(p.record, p.source(), p.kinds, p.seed, p.number, p.asked)
	}
	p.done, p.tried = false, false
	p.current = nil
	if err == nil {
		p.current = &q
		p.asked.Add(q)
	}
	for i, s := range p.slots {
		s.clear()
		if err == nil && i < len(q.Parts) {
			s.ask(q.Parts[i])
		}
		s.content.Hidden = err != nil || i >= len(q.Parts)
	}
	p.show()
	if err != nil {
		kit.SetText(p.ask, p.cannot(err))
	}
	p.scroll.ScrollToTop()
	p.focusFirst()
}

// show brings every text up to the present question.
func (p *page) show() {
	p.loadStanding()
	p.loadSide()
	q := p.current
	p.check.Hidden, p.unknown.Hidden, p.next.Hidden = q == nil || p.done, q == nil || p.done, q == nil || !p.done
	p.judged.Hidden = !p.done && !p.tried
	p.inCycle.Hidden = !p.done || !p.canOpen()
	if q == nil {
		kit.SetText(p.given, "")
	} else {
		kit.SetText(p.given, spaced(q.Given))
		kit.SetText(p.ask, say(q.Ask))
	}
	p.content.Refresh()
}

// goOn goes on to the next question.
func (p *page) goOn() {
	if c := p.course; c != nil && p.number >= c.count {
		p.course, p.seed, p.number = nil, rand.Uint64(), 0 // the exercise is done
	}
	p.number++
	p.pose()
}

// begin starts over with what the learner chose.
func (p *page) begin() { p.beginWith(nil, rand.Uint64()) }

// beginWith starts over, with an exercise where it is not nil.
func (p *page) beginWith(x *practice, seed uint64) {
	p.course, p.seed = x, seed
	p.number, p.asked = 1, lesson.Asked{}
	p.job = p.u.Known()
	p.side.Set(0)
	p.pose()
}

// TurnTo asks questions of one kind, until others are chosen or the program ends, or
// begins the exercise of a code.
func (p *page) TurnTo(at string) {
	if k, ok := lesson.ParseKind(at); ok {
		p.kinds = []lesson.Kind{k}
		p.begin()
	} else if x, err := class.ReadExercise(at); err == nil {
		p.choice.class.code.SetText(at)
		p.beginWith(&practice{count: x.Count, given: &x}, x.Seed)
	}
}

// focusFirst gives the keyboard to what is to be answered, unless something lies
// over the page.
func (p *page) focusFirst() {
	if p.u.Covered() || !p.shown() {
		return
	}
	if p.done {
		p.u.Window.Canvas().Focus(p.next)
		return
	}
	if p.current != nil {
		p.slots[0].focus()
	}
}

// loadSide shows the figure, the score or what can be chosen.
func (p *page) loadSide() {
	var o fyne.CanvasObject
	switch p.side.Chosen {
	case 1:
		p.score.load(p)
		o = p.score.content
	case 2:
		p.choice.load(p)
		o = p.choice.content
	default:
		o = p.loadFigure()
		if o == p.wait { // the room is not left empty
			p.score.load(p)
			o = p.waiting
		}
	}
	if len(p.room.Objects) != 1 || p.room.Objects[0] != o {
		p.room.Objects = []fyne.CanvasObject{o}
		p.room.Refresh()
	}
}

// Key acts on a key that nothing else wanted, and tells whether it had a use for
// it: Enter checks and goes on.
func (p *page) Key(e *fyne.KeyEvent) bool {
	if e.Name != fyne.KeyReturn && e.Name != fyne.KeyEnter || p.current == nil {
		return false
	}
	if p.done {
		p.goOn()
	} else {
		p.tryAnswer()
	}
	return true
}

// chooseKind adds a kind of question or takes it away.
func (p *page) chooseKind(k lesson.Kind, on bool) {
	var list []lesson.Kind
	for _, o := range lesson.Kinds() {
		if o == k && on || o != k && slices.Contains(p.kinds, o) {
			list = append(list, o)
		}
	}
	p.kinds = list
	p.choice.class.stale()
	setPracticeKinds(p.u.Prefs, list)
}
