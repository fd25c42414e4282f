package practice

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/lesson/class"
	"pinphase.org/pinphase/widgets"
)

// practice is an exercise that is under way.
type practice struct {
	count, right, asked int
	given               *class.Exercise // from a code; nil: from the number, with the open job's engine
	answers             []class.Answer
}

// asks gives the engines and kinds to ask about.
func (p *page) asks() (lesson.Source, []lesson.Kind) {
	if c := p.course; c != nil && c.given != nil {
		return c.given.Source(), c.given.Kinds
	}
	return p.source(), p.kinds
}

// ofJob tells whether the questions are about the open job's engine.
func (p *page) ofJob() bool { return !p.made && (p.course == nil || p.course.given == nil) }

// note keeps an answer of an exercise, and the result so far where the exercise came as
// a code.
func (p *page) note(g lesson.Grade) {
	c := p.course
	if c == nil {
		return
	}
	c.asked++
	if g == lesson.AtFirst {
		c.right++
	}
	c.answers = append(c.answers, class.AnswerOf(g))
	if c.given == nil {
		return
	}
	p.last = c
	p.keepResult()
}

// keepResult keeps the result of the last exercise that came as a code. That of one
// answered to its end stays until the next one is.
func (p *page) keepResult() {
	c := p.last
	if c == nil || len(c.answers) < c.count && p.u.Prefs.Bool(prefPracticeWhole) {
		return
	}
	p.u.Prefs.SetString(prefPracticeResult, p.codeOf(c))
	p.u.Prefs.SetBool(prefPracticeWhole, len(c.answers) >= c.count)
}

// codeOf is the code of an exercise's result so far, "" where nothing was answered.
func (p *page) codeOf(c *practice) string {
	learner, _ := p.choice.learnerNumber()
	r, err := c.given.Result(learner, c.answers)
	if err != nil || len(c.answers) == 0 {
		return ""
	}
	return r.Code()
}

// result is the code of the exercise that is under way, as far as it was answered, or
// else of the last one that came as a code; "" where there is none.
func (p *page) result() string {
	if c := p.course; c != nil && c.given != nil {
		return p.codeOf(c)
	}
	return p.u.Prefs.String(prefPracticeResult)
}

// renumber brings the result up to the number that the learner has typed.
func (p *page) renumber() {
	before := p.u.Prefs.String(prefPracticeResult)
	p.keepResult()
	if before != "" { // it may be at the last question
		kit.SetText(p.verdict, strings.ReplaceAll(p.verdict.Text, before, p.u.Prefs.String(prefPracticeResult)))
	}
	p.choice.loadClass(p)
}

// classChoice is the part of what is asked that carries an exercise to a class.
type classChoice struct {
	code    *widgets.Field
	made    string // the code in the field that was made here; "": it came from elsewhere
	learner *widgets.Field
	result  *widget.Label
	copy    *kit.KeyButton
}

func (c *practiceChoice) buildClass(p *page) fyne.CanvasObject {
	c.class = classChoice{code: widgets.NewField("", 1), learner: widgets.NewField("", 1), result: kit.Prose()}
	k := &c.class
	k.code.SetPlaceHolder(tr("letters and digits"))
	k.learner.SetText(p.u.Prefs.String(prefPracticeLearner))
	k.learner.SetPlaceHolder(tr("may be left out"))
	k.code.OnChanged = func(string) { k.code.SetFault("") }
	k.learner.OnChanged = func(s string) {
		k.learner.SetFault("")
		p.u.Prefs.SetString(prefPracticeLearner, strings.TrimSpace(s))
		p.renumber()
	}
	for _, f := range []*widgets.Field{k.code, k.learner} {
		f.OnDone = func() {
			if f.Focused() {
				c.start(p)
			}
		}
	}
	k.copy = kit.NewKeyButton(tr("Copy the result"), func() { p.u.App.Clipboard().SetContent(p.result()) })
	write := kit.NewKeyButton(tr("Make a code"), func() { c.makeCode(p) })
	return container.NewVBox(
		practiceRow(tr("Code of the exercise"), container.NewBorder(nil, nil, nil, container.NewVBox(write), k.code)),
		kit.Wrapped(tr("A code contains number, count, kinds and the way the engine fires, also for computers without the job; sensor wheels and gears are then invented. Where a code is entered, it decides.")),
		practiceRow(tr("Your number in the class list"), k.learner),
		k.result, container.NewHBox(k.copy),
		container.NewHBox(kit.NewKeyButton(tr("Class results…"), func() { p.showClass() })),
	)
}

// loadClass shows the last result.
func (c *practiceChoice) loadClass(p *page) {
	code := p.result()
	c.class.result.Hidden, c.class.copy.Hidden = code == "", code == ""
	if code != "" {
		kit.SetText(c.class.result, with("Result for the instructor: {{.Code}}", map[string]any{"Code": code}))
	}
}

// stale takes a code out of its field that no longer stands for what is chosen; one that
// was typed stays.
func (k *classChoice) stale() {
	if k.made != "" && k.code.Text() == k.made {
		k.code.SetText("")
	}
	k.made = ""
}

// makeCode writes what is chosen as a code.
func (c *practiceChoice) makeCode(p *page) {
	seed, count, ok := c.numbers()
	if !ok {
		return
	}
	x := class.Exercise{Kinds: p.kinds, Count: count, Seed: seed}
	if !p.made {
		x = class.Of(p.u.Known(), p.kinds, count, seed)
	}
	code, err := x.Code()
	if err != nil {
		c.class.code.SetFault(p.cannot(err))
		return
	}
	c.class.code.SetFault("")
	c.class.code.SetText(code)
	c.class.made = code
}

// given is the exercise whose code was entered, nil where none was. What is wrong with
// it stands at its field.
func (c *practiceChoice) given(p *page) (x *class.Exercise, ok bool) {
	if strings.TrimSpace(c.class.code.Text()) == "" {
		return nil, true
	}
	read, err := class.ReadExercise(c.class.code.Text())
	if err != nil {
		c.class.code.SetFault(p.cannot(err))
		return nil, false
	}
	return &read, true
}

// learnerNumber is the learner's number in the class list, 0 where none was typed.
func (c *practiceChoice) learnerNumber() (n int, ok bool) {
	text := strings.TrimSpace(c.class.learner.Text())
	if text == "" {
		return 0, true
	}
	n, err := strconv.Atoi(text)
	if err != nil || n < 1 || n > class.MostLearners {
		c.class.learner.SetFault(with("Type a whole number from 1 to {{.Most}}.", map[string]any{"Most": class.MostLearners}))
		return 0, false
	}
	return n, true
}

// chosen is the exercise that was chosen: by its code, or by its number.
func (c *practiceChoice) chosen(p *page) (seed uint64, count int, given *class.Exercise, ok bool) {
	given, ok = c.given(p)
	switch _, known := c.learnerNumber(); {
	case !ok || !known:
		return 0, 0, nil, false
	case given != nil:
		return given.Seed, given.Count, given, true
	}
	seed, count, ok = c.numbers()
	return seed, count, nil, ok
}
