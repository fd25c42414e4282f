// Package course is the page that explains engine timing step by step, each with
// something to do on a figure.
package course

import (
	"io/fs"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/lesson/course"
	"pinphase.org/pinphase/timing/phrase"
)

// page is the course. It has engines and a crankshaft of its own: the open job is not
// touched.
type page struct {
	u       *desk.Desk
	content *fyne.Container
	split   *container.Split

	choose  *kit.Select
	back    *kit.KeyButton
	forward *kit.KeyButton

	title, text, task    *widget.Label
	progress             *widget.Label
	check, hint, showMe  *kit.KeyButton
	next, again          *kit.KeyButton
	practise             *fyne.Container
	bar                  kit.ColourBar
	verdict, tip, reason *widget.Label
	judged               *fyne.Container
	care                 *fyne.Container // the cautions, where something real is measured
	scroll               *container.Scroll

	stage *stage

	steps   []course.Step
	loading bool
	at      int  // of steps
	hinted  bool // the hint is shown
	over    bool // the aim was reached, or the answer shown
	said    phrase.Text
	role    figure.Role // of what was said
}

const name = "course" // by which the page is opened

var Kind = desk.PageKind{
	Name: name, Title: phrase.Text("Course"),
	Build: func(d *desk.Desk, old desk.Page) desk.Page {
		before, _ := old.(*page)
		return newPage(d, before)
	},
}

// newPage goes on where an old page was, when the window is built anew.
func newPage(u *desk.Desk, old *page) *page {
	p := &page{u: u, title: kit.Prose(), text: kit.Prose(), task: kit.Prose(), verdict: kit.Prose(), tip: kit.Prose(), reason: kit.Prose(),
		progress: widget.NewLabel(""), bar: kit.NewColourBar(u.Frame)}
	p.title.SizeName, p.task.SizeName, p.verdict.SizeName = theme.SizeNameHeadingText, theme.SizeNameSubHeadingText, theme.SizeNameSubHeadingText
	p.title.TextStyle.Bold, p.task.TextStyle.Bold, p.verdict.TextStyle.Bold = true, true, true
	p.choose = kit.NewSelect(nil, func(string) {
		if i := p.choose.SelectedIndex(); i >= 0 && !p.loading && i != p.at {
			p.begin(i)
		}
	})
	p.back = kit.NewKeyButton("←", func() { p.begin(p.at - 1) })
	p.forward = kit.NewKeyButton("→", func() { p.begin(p.at + 1) })
	p.check = kit.NewKeyButton(tr("Check"), p.try)
	p.check.Importance = widget.HighImportance
	p.hint = kit.NewKeyButton(tr("Hint"), func() { p.hinted = true; p.load(); p.reveal() })
	p.showMe = kit.NewKeyButton(tr("Show me"), p.answer)
	p.next = kit.NewKeyButton(tr("Next step"), func() { p.begin(p.at + 1) })
	p.next.Importance = widget.HighImportance
	p.again = kit.NewKeyButton(tr("Once more"), func() { p.begin(p.at) })
	p.practise = container.New(&kit.Flow{})
	p.judged = container.NewBorder(nil, nil, p.bar.Rectangle, nil, container.New(&kit.Tight{}, p.verdict, p.tip, p.reason))
	p.care = container.NewVBox(kit.Heading(tr("Cautions")), kit.Cautions())
	p.scroll = container.NewVScroll(container.New(&kit.BesideBar{}, container.NewVBox(
		container.New(&kit.Tight{}, p.title, p.text, p.task),
		container.New(&kit.Flow{}, p.check, p.hint, p.showMe, p.next, p.again),
		p.judged, p.practise, p.care,
	)))
	p.judge("", figure.Commanded)
	p.stage = newStage(p)
	head := container.NewBorder(nil, nil, nil, container.NewHBox(p.back, p.forward), kit.Elastic(p.choose, 200))
	left := container.NewBorder(container.NewVBox(head, p.progress), nil, nil, nil, p.scroll)
	p.split = container.NewHSplit(left, p.stage.content)
	p.split.Offset = u.Prefs.Share(prefSplit, 0.38)
	p.content = container.NewStack(p.split)
	p.read()
	if old != nil && old.at < len(p.steps) {
		p.at, p.hinted, p.over = old.at, old.hinted, old.over
		p.judge(old.said, old.role)
		p.stage.show(p.steps[p.at])
		p.stage.at, p.stage.chosen = old.stage.at, old.stage.chosen
		p.stage.loadCycle(p.steps[p.at].Shown(p.stage.at))
	}
	return p
}

// read reads the steps in the window's language, and finds the one shown last.
func (p *page) read() {
	folder, err := fs.Sub(assets.Course, "course")
	if err == nil {
		p.steps, err = course.Read(folder, voice().Code())
	}
	if err != nil {
		fyne.LogError("the course could not be read", err) // a test holds it to be readable
		return
	}
	for i, s := range p.steps {
		if s.Name == p.u.Prefs.String(prefAt) {
			p.at = i
		}
	}
	p.stage.show(p.steps[p.at])
}

func (p *page) Body() fyne.CanvasObject { return p.content }

func (p *page) Remember() {
	p.u.Prefs.SetFloat(prefSplit, p.split.Offset)
	p.stage.remember()
}

func (p *page) Moved() {}

func (p *page) End() {}

// Load shows the step.
func (p *page) Load() {
	p.load()
	p.stage.load()
}

// TurnTo begins a step by its name.
func (p *page) TurnTo(at string) {
	for i, s := range p.steps {
		if s.Name == at {
			p.begin(i)
		}
	}
}

// begin begins a step; any may be begun.
func (p *page) begin(i int) {
	if i < 0 || i >= len(p.steps) {
		return
	}
	p.at, p.hinted, p.over = i, false, false
	p.judge("", figure.Commanded)
	p.u.Prefs.SetString(prefAt, p.steps[i].Name)
	p.stage.show(p.steps[i])
	p.Load()
	p.scroll.ScrollToTop()
	p.stage.focus()
}

// load brings every text up to the step.
func (p *page) load() {
	if len(p.steps) == 0 {
		return
	}
	s := p.steps[p.at]
	names := make([]string, len(p.steps))
	finished := 0
	for i, s := range p.steps {
		text := phrase.Text("{{.N}}. {{.Title}}")
		if done(p.u.Prefs, s.Name) {
			text = "{{.N}}. {{.Title}} – done"
			finished++
		}
		names[i] = with(text, map[string]any{"N": i + 1, "Title": s.Words.Title})
	}
	p.loading = true
	p.choose.SetOptions(names)
	p.choose.SetSelectedIndex(p.at)
	p.loading = false
	kit.SetText(p.progress, with("{{.Done}} of {{.Steps}} steps done", map[string]any{"Done": finished, "Steps": len(p.steps)}))
	kit.SetText(p.title, s.Words.Title)
	kit.SetText(p.text, strings.TrimSpace(s.Words.Text))
	kit.SetText(p.task, s.Words.Task)
	kit.SetText(p.tip, s.Words.Hint)
	kit.SetText(p.reason, s.Words.Reason)
	last := p.at == len(p.steps)-1
	enable(p.back, p.at > 0)
	enable(p.forward, !last)
	p.check.Hidden, p.showMe.Hidden, p.hint.Hidden = p.over, p.over || !p.hinted, p.over || p.hinted
	p.next.Hidden, p.again.Hidden = !p.over || last, !p.over
	p.tip.Hidden, p.reason.Hidden = !p.hinted || p.over, !p.over
	p.verdict.Hidden = p.verdict.Text == "" || !p.hinted && !p.over
	p.judged.Hidden = !p.hinted && !p.over
	p.care.Hidden = s.Dial == nil
	p.loadPractise(s)
	p.content.Refresh()
}

func enable(b *kit.KeyButton, on bool) {
	if on {
		b.Enable()
	} else {
		b.Disable()
	}
}

// loadPractise offers to practise what the step has explained, once it is done.
func (p *page) loadPractise(s course.Step) {
	p.practise.RemoveAll()
	if !done(p.u.Prefs, s.Name) {
		return
	}
	for _, k := range s.Leads {
		p.practise.Add(kit.NewKeyButton(with("Practise: {{.Kind}}", map[string]any{"Kind": k.Name()}), func() { p.u.Open("practice", string(k)) }))
	}
}

// try judges what stands on the figure. The first time it is not right, the hint is
// shown.
func (p *page) try() {
	if p.over || len(p.steps) == 0 {
		return
	}
	s := p.steps[p.at]
	if p.stage.value() == 0 && s.Moves() == course.Cylinder {
		p.say("Choose a cylinder on the figure first.", figure.Commanded)
		p.stage.focus()
		return
	}
	if !s.Reached(p.stage.value()) {
		p.say("Not correct yet.", figure.Warning)
		p.stage.focus()
		return
	}
	p.over = true
	setDone(p.u.Prefs, s.Name)
	p.stage.load() // the dead centre is drawn on the dial once it is found
	p.say("Correct.", figure.Window)
	p.onward()
}

// answer puts the figure where the aim is reached and gives the reason. The step is not
// done by that.
func (p *page) answer() {
	p.over = true
	p.stage.solve()
	p.say("This is how it is found.", figure.Commanded)
	p.onward()
}

// say says how it went.
func (p *page) say(verdict phrase.Text, role figure.Role) {
	p.hinted = true
	p.judge(verdict, role)
	p.load()
	p.reveal()
}

// judge puts a verdict on the page; "" for none.
func (p *page) judge(verdict phrase.Text, role figure.Role) {
	p.said, p.role = verdict, role
	words := ""
	if verdict != "" {
		words = tr(verdict)
	}
	p.verdict.SetText(words)
	p.bar.Show(role)
}

// onward gives the keyboard to what goes on.
func (p *page) onward() {
	if p.u.Covered() {
		return
	}
	b := p.next
	if b.Hidden {
		b = p.again
	}
	p.u.Window.Canvas().Focus(b)
}

// reveal scrolls to what was said last, above the cautions.
func (p *page) reveal() {
	kit.LayOut(p.scroll)
	end := p.practise.Position().Y + p.practise.Size().Height
	p.scroll.ScrollToOffset(fyne.NewPos(0, max(0, end-p.scroll.Size().Height)))
}

// Key acts on a key that nothing else wanted, and tells whether it had a use for it.
func (p *page) Key(e *fyne.KeyEvent) bool {
	switch e.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		switch {
		case !p.over:
			p.try()
		case !p.next.Hidden:
			p.begin(p.at + 1)
		}
		return true
	}
	return p.stage.key(e)
}
