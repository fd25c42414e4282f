package practice

import (
	"errors"
	"strings"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/phrase"
)

// enter goes on from a slot to the next that is not answered yet, and checks when
// there is none.
func (p *page) enter(from int) {
	if p.done || p.current == nil {
		return
	}
	if s := p.slots[from]; !s.answered() {
		s.wants(s.judge().Hint)
		return
	}
	for _, s := range p.slots[:len(p.current.Parts)] {
		if !s.answered() {
			s.focus()
			return
		}
	}
	p.tryAnswer()
}

// tryAnswer judges what was answered, unless something of it is unclear: then it
// says what.
func (p *page) tryAnswer() {
	if p.done || p.current == nil {
		return
	}
	verdicts := make([]lesson.Verdict, len(p.current.Parts))
	clear := true
	for i := range p.current.Parts {
		s := p.slots[i]
		verdicts[i] = s.judge()
		if verdicts[i].Outcome != lesson.Unclear {
			continue
		}
		s.wants(verdicts[i].Hint)
		if clear {
			s.focus()
		}
		clear = false
	}
	switch {
	case !clear:
	case !p.tried && !allRight(verdicts) && p.current.Again():
		p.askAgain(verdicts)
	default:
		p.judge(verdicts)
	}
}

func allRight(verdicts []lesson.Verdict) bool {
	for _, v := range verdicts {
		if v.Outcome != lesson.Right {
			return false
		}
	}
	return len(verdicts) > 0
}

// askAgain says that an answer is not right, shows the first step and lets the learner
// try once more.
func (p *page) askAgain(verdicts []lesson.Verdict) {
	p.tried = true
	first := true
	for i, v := range verdicts {
		if v.Outcome == lesson.Right {
			continue
		}
		p.slots[i].again(v)
		if first {
			p.slots[i].focus()
		}
		first = false
	}
	text, clue := tr("Not correct yet. Try once more."), p.current.Clue()
	if clue.Text != "" {
		text = tr("Not correct yet. This is the first step; try once more.")
	}
	kit.SetText(p.verdict, text)
	kit.SetText(p.steps, say(clue))
	p.bar.Show(figure.Warning)
	p.show()
	p.reveal(p.judged)
}

// canOpen tells whether the Cycle page can show what was asked: of the open job's own
// engine, where the crank stands somewhere.
func (p *page) canOpen() bool {
	q := p.current
	return q != nil && p.ofJob() && !q.MadeUp && q.After != nil && q.After.Name == "cycle"
}

// openInCycle turns the open job's crank to where the question has it and shows that
// page.
func (p *page) openInCycle() {
	if p.canOpen() {
		at := p.current.After.At
		p.u.Open("cycle", "")
		p.u.SetAt(at)
	}
}

// judge shows the answer with its steps and notes how the learner did; no verdicts
// are an answer that was not known.
func (p *page) judge(verdicts []lesson.Verdict) {
	if p.done || p.current == nil {
		return
	}
	right := allRight(verdicts)
	for i := range p.current.Parts {
		var v *lesson.Verdict
		if len(verdicts) > 0 {
			v = &verdicts[i]
		}
		p.slots[i].tell(v)
	}
	p.done = true
	grade := lesson.NotKnown
	switch {
	case right && p.tried:
		grade = lesson.AtSecond
	case right:
		grade = lesson.AtFirst
	}
	p.record = p.record.After(*p.current, grade)
	p.KeepScore()
	p.note(grade)
	text, role := tr("Correct."), figure.Window
	switch {
	case grade == lesson.AtSecond:
		text = tr("Right, at the second try.")
	case len(verdicts) == 0:
		text, role = tr("This is how it is found."), figure.Commanded
	case !right:
		text, role = tr("Incorrect. This is how it is found."), figure.Warning
	}
	if c := p.course; c != nil && p.number >= c.count {
		text += " " + with("The exercise is finished: {{.Right}} of {{.Asked}} correct.", map[string]any{"Right": c.right, "Asked": c.asked})
		if c.given != nil {
			text += " " + with("Result for the instructor: {{.Code}}", map[string]any{"Code": p.result()})
		}
	}
	kit.SetText(p.verdict, text)
	words := numbered(p.current.Steps)
	if len(p.current.Notes) > 0 {
		words += "\n" + spaced(p.current.Notes)
	}
	kit.SetText(p.steps, words)
	p.bar.Show(role)
	p.side.Set(0)
	p.show()
	p.u.Window.Canvas().Focus(p.next)
	p.reveal(p.judged)
}

// reveal scrolls so far that one of the page's rows can be seen, from its top on.
func (p *page) reveal(o fyne.CanvasObject) {
	kit.LayOut(p.scroll)
	top := o.Position().Y
	at := min(max(p.scroll.Offset.Y, top+o.Size().Height-p.scroll.Size().Height), top)
	if at != p.scroll.Offset.Y {
		p.scroll.ScrollToOffset(fyne.NewPos(0, at))
	}
}

// loadFigure shows the question's figure, or that it comes with the answer, and
// returns what is in its place.
func (p *page) loadFigure() fyne.CanvasObject {
	if p.current == nil {
		return p.wait
	}
	desc, draw, err := p.drawing()
	if err != nil {
		kit.SetText(p.wait, tr("The figure is shown with the answer."))
		if p.done || p.current.After == nil {
			kit.SetText(p.wait, tr("This question has no figure."))
		}
		return p.wait
	}
	p.figure.SetFigure(desc, draw)
	return p.figure
}

// drawing is the figure of the question as it stands.
func (p *page) drawing() (desc string, draw func(figure.Box) figure.Drawing, err error) {
	f := p.current.Before
	if p.done {
		f = p.current.After
	}
	return chart.Practice(*p.current, f, p.done, say)
}

// Drawn is the figure of the question that is asked, for a file.
func (p *page) Drawn(_ string, box figure.Box) (figure.Drawing, error) {
	if p.current == nil {
		return figure.Drawing{}, errors.New(tr("Nothing is asked on the Practice page."))
	}
	desc, draw, err := p.drawing()
	if err != nil {
		return figure.Drawing{}, errors.New(tr("This question has no figure, or shows it with the answer."))
	}
	d := draw(box)
	if d.Desc == "" {
		d.Desc = desc
	}
	return d, nil
}

// numbered writes steps as a list.
func numbered(steps []phrase.Sentence) string {
	words := make([]string, len(steps))
	for i, s := range steps {
		words[i] = number(float64(i+1), 0) + ".  " + say(s)
	}
	return strings.Join(words, "\n")
}

// spaced writes sentences one after the other.
func spaced(list []phrase.Sentence) string { return joined(list, len(list)) }
