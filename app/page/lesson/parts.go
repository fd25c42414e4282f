package lesson

import (
	"errors"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson/class"
	"pinphase.org/pinphase/timing/lesson/plan"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// enginesPart is the lesson's engines.
type enginesPart struct {
	list               *kit.Select
	take, remove, open *kit.KeyButton
}

func (p *page) buildEngines() fyne.CanvasObject {
	e := &p.engines
	e.list = kit.NewSelect(nil, func(string) {})
	e.take = kit.NewKeyButton(tr("Add the open job"), func() {
		doc := p.u.Session.Doc.With(p.u.Known())
		p.edit(func(l *plan.Lesson) {
			var name string
			*l, name = l.WithEngine(p.u.Name(), doc)
			if len(l.Engines) == 1 && len(l.Pages) == 0 { // something to begin with
				l.Pages = []plan.Page{{Engine: name, Show: plan.FiringOrder}}
			}
		})
		p.engines.list.SetSelectedIndex(len(p.lesson.Engines) - 1)
	})
	e.open = kit.NewKeyButton(tr("Open as the job"), func() {
		if i := e.list.SelectedIndex(); i >= 0 && i < len(p.lesson.Engines) {
			p.u.Shell.OpenJob(p.lesson.Engines[i].Doc)
		}
	})
	e.remove = kit.NewKeyButton(tr("Remove the engine…"), func() {
		i := e.list.SelectedIndex()
		if i < 0 || i >= len(p.lesson.Engines) {
			return
		}
		name := p.lesson.Engines[i].Name
		p.u.Confirm(tr("Remove the engine?"), with("“{{.Name}}” and the pages that show it will be removed from the lesson.", map[string]any{"Name": name}), tr("Remove"),
			func() { p.edit(func(l *plan.Lesson) { *l = l.WithoutEngine(name) }) })
	})
	return container.NewVBox(kit.Heading(tr("Engines")), kit.Elastic(e.list, 200), container.New(&kit.Flow{}, e.take, e.open, e.remove))
}

func (p *page) loadEngines() {
	names := make([]string, len(p.lesson.Engines))
	for i, e := range p.lesson.Engines {
		names[i] = listed(i, e.Name)
	}
	setOptions(p.engines.list, names)
	enable(p.engines.open, len(names) > 0)
	enable(p.engines.remove, len(names) > 0)
}

// mostName is how much of a name stands in a list, in bytes.
const mostName = 80

// listed is a name as it stands in a list: numbered, since two that are long may begin
// alike and a list finds what is chosen by its words.
func listed(i int, name string) string {
	return strconv.Itoa(i+1) + ". " + widgets.Shortened(name, mostName)
}

// setOptions offers names, and keeps the one that is chosen by its place.
func setOptions(s *kit.Select, names []string) {
	at := s.SelectedIndex()
	s.PlaceHolder = "–" // of an empty list; the toolkit's own is not in every language
	s.SetOptions(names)
	switch {
	case len(names) == 0:
		s.ClearSelected()
	default:
		s.SetSelectedIndex(max(0, min(at, len(names)-1)))
	}
	if len(names) == 0 {
		s.Disable()
	} else {
		s.Enable()
	}
}

// pagesPart is the lesson's pages, and the one that is edited.
type pagesPart struct {
	list             *kit.Select
	up, down, remove *kit.KeyButton
	what, of         *kit.Select // of a page to be added
	add              *kit.KeyButton
	own              *fyne.Container // fields of an own page
	at               *widgets.Field
	question, answer *widgets.Field
}

var showNames = map[plan.Show]phrase.Text{
	plan.FiringOrder: "firing order", plan.Pairs: "pistons in pairs", plan.Fault: "the fault", plan.Turning: "turning",
	plan.Cycle: "your own question at the strokes", plan.Wheel: "your own question at the sensor wheel", plan.Wheels: "your own question at two wheels",
}

func (p *page) buildPages() fyne.CanvasObject {
	g := &p.pages
	g.list = kit.NewSelect(nil, func(string) {
		if i := g.list.SelectedIndex(); i >= 0 && !p.loading && i != p.at {
			p.finish()
			p.turnTo(i)
			p.load()
		}
	})
	move := func(by int) func() {
		return func() {
			p.finish()
			to := p.at + by
			if to < 0 || to >= len(p.lesson.Pages) {
				return
			}
			from := p.at
			p.at = to
			p.edit(func(l *plan.Lesson) { l.Pages = plan.Moved(l.Pages, from, to) })
		}
	}
	g.up, g.down = kit.NewKeyButton(tr("Earlier"), move(-1)), kit.NewKeyButton(tr("Later"), move(+1))
	g.remove = kit.NewKeyButton(tr("Remove the page"), func() {
		p.turnTo(p.at)
		p.edit(func(l *plan.Lesson) {
			if len(l.Pages) > 0 {
				l.Pages = append(append([]plan.Page{}, l.Pages[:p.at]...), l.Pages[p.at+1:]...)
			}
		})
	})
	var names []string
	for _, s := range plan.Shows {
		names = append(names, tr(showNames[s]))
	}
	g.what, g.of = kit.NewSelect(names, func(string) {}), kit.NewSelect(nil, func(string) {})
	g.what.SetSelectedIndex(0)
	g.add = kit.NewKeyButton(tr("Add the page"), p.addPage)
	g.at, g.question, g.answer = widgets.NewField("°", 1), widgets.NewField("", 2), widgets.NewField("", 2)
	g.at.OnDone = p.finish
	g.question.OnDone, g.answer.OnDone = p.finish, p.finish
	g.own = container.NewVBox(row(tr("Question or sentence"), g.question), row(tr("Answer, which may be left out"), g.answer), row(tr("Crank angle"), g.at))
	return container.NewVBox(kit.Heading(tr("Pages on the board")), kit.Elastic(g.list, 200), container.New(&kit.Flow{}, g.up, g.down, g.remove), g.own,
		row(tr("Another page"), kit.Elastic(g.what, 200)), kit.Elastic(g.of, 200), container.NewHBox(g.add))
}

// addPage adds a page after the one that is edited.
func (p *page) addPage() {
	p.finish()
	e := p.pages.of.SelectedIndex()
	if e < 0 || e >= len(p.lesson.Engines) {
		return
	}
	n := plan.Page{Engine: p.lesson.Engines[e].Name, Show: plan.Shows[max(0, p.pages.what.SelectedIndex())]}
	if n.Show.Own() {
		n.Question = tr("What can be seen here?")
	}
	at := min(p.at+1, len(p.lesson.Pages))
	p.turnTo(at)
	p.edit(func(l *plan.Lesson) {
		l.Pages = append(append(append([]plan.Page{}, l.Pages[:at]...), n), l.Pages[at:]...)
	})
	if n.Show.Own() {
		p.u.Window.Canvas().Focus(p.pages.question.Focusable())
	}
}

// finish takes what was typed and is in the lesson not yet.
func (p *page) finish() {
	if p.loading {
		return
	}
	p.edit(func(l *plan.Lesson) { l.Title, l.Notes = p.title.Text(), p.notes.Text() })
	if p.at >= len(p.lesson.Pages) || !p.lesson.Pages[p.at].Show.Own() {
		return
	}
	n := p.lesson.Pages[p.at]
	n.Answer = p.pages.answer.Text()
	if q := p.pages.question.Text(); strings.TrimSpace(q) == "" {
		p.pages.question.SetFault(tr("A page of your own needs a sentence."))
	} else {
		p.pages.question.SetFault("")
		n.Question = q
	}
	if v, err := finding.ParseNumber(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(p.pages.at.Text()), "°"))); err != nil || v < -1e6 || v > 1e6 {
		p.pages.at.SetFault(tr("Type a crank angle, such as 120."))
	} else {
		p.pages.at.SetFault("")
		n.AtDeg = v
	}
	p.edit(func(l *plan.Lesson) {
		l.Pages = append([]plan.Page{}, l.Pages...)
		l.Pages[p.at] = n
	})
}

func (p *page) loadPages() {
	g := &p.pages
	names := make([]string, len(p.lesson.Pages))
	for i, n := range p.lesson.Pages {
		what := tr(showNames[n.Show])
		if n.Show.Own() {
			what = widgets.Shortened(strings.Join(strings.Fields(n.Question), " "), mostName)
		}
		names[i] = with("{{.N}}. {{.What}} – {{.Engine}}", map[string]any{"N": i + 1, "What": what, "Engine": widgets.Shortened(n.Engine, mostName)})
	}
	setOptions(g.list, names)
	if len(names) > 0 {
		g.list.SetSelectedIndex(p.at)
	}
	enable(g.up, p.at > 0)
	enable(g.down, p.at < len(names)-1)
	enable(g.remove, len(names) > 0)
	engines := make([]string, len(p.lesson.Engines))
	for i, e := range p.lesson.Engines {
		engines[i] = listed(i, e.Name)
	}
	setOptions(g.of, engines)
	enable(g.add, len(engines) > 0)
	g.own.Hidden = len(names) == 0 || !p.lesson.Pages[p.at].Show.Own()
	if !g.own.Hidden {
		n := p.lesson.Pages[p.at]
		p.fill(g.question, n.Question)
		p.fill(g.answer, n.Answer)
		p.fill(g.at, number(n.AtDeg, 2))
	}
}

// exercisesPart is the exercises that go with the lesson.
type exercisesPart struct {
	list        *kit.Select
	title, code *widgets.Field
	add, remove *kit.KeyButton
	begin       *kit.KeyButton
}

func (p *page) buildExercises() fyne.CanvasObject {
	x := &p.exercises
	x.list = kit.NewSelect(nil, func(string) {})
	x.title, x.code = widgets.NewField("", 1), widgets.NewField("", 1)
	x.code.SetPlaceHolder(tr("letters and digits"))
	x.code.OnChanged = func(string) { x.code.SetFault("") }
	x.code.OnDone = func() {
		if x.code.Focused() {
			p.addExercise()
		}
	}
	x.add = kit.NewKeyButton(tr("Add the exercise"), p.addExercise)
	x.begin = kit.NewKeyButton(tr("Begin the exercise"), func() {
		if i := x.list.SelectedIndex(); i >= 0 && i < len(p.lesson.Exercises) {
			p.u.Open("practice", p.lesson.Exercises[i].Code)
		}
	})
	x.remove = kit.NewKeyButton(tr("Remove the exercise"), func() {
		i := x.list.SelectedIndex()
		p.edit(func(l *plan.Lesson) {
			if i >= 0 && i < len(l.Exercises) {
				l.Exercises = append(append([]plan.Exercise{}, l.Exercises[:i]...), l.Exercises[i+1:]...)
			}
		})
	})
	return container.NewVBox(kit.Heading(tr("Exercises")),
		kit.Wrapped(tr("The page Practice makes the code of an exercise: choose there what is asked.")),
		kit.Elastic(x.list, 200), container.New(&kit.Flow{}, x.begin, x.remove),
		row(tr("Title of the exercise"), x.title), row(tr("Code of the exercise"), x.code), container.NewHBox(x.add))
}

func (p *page) addExercise() {
	x := &p.exercises
	given, err := class.ReadExercise(x.code.Text())
	if err != nil {
		x.code.SetFault(p.u.Why(err))
		return
	}
	code, err := given.Code()
	if err != nil {
		x.code.SetFault(p.u.Why(err))
		return
	}
	title := strings.Join(strings.Fields(x.title.Text()), " ")
	p.edit(func(l *plan.Lesson) {
		l.Exercises = append(append([]plan.Exercise{}, l.Exercises...), plan.Exercise{Title: title, Code: code})
	})
	x.list.SetSelectedIndex(len(p.lesson.Exercises) - 1)
	x.title.SetText("")
	x.code.SetText("")
}

func (p *page) loadExercises() {
	x := &p.exercises
	names := make([]string, len(p.lesson.Exercises))
	for i, e := range p.lesson.Exercises {
		names[i] = listed(i, e.Code)
		if e.Title != "" {
			names[i] = with("{{.Title}}: {{.Code}}", map[string]any{"Title": listed(i, e.Title), "Code": e.Code})
		}
	}
	setOptions(x.list, names)
	enable(x.begin, len(names) > 0)
	enable(x.remove, len(names) > 0)
}

// told says an error in the reader's language; those of an engine in the terms of its
// fields.
func told(u *desk.Desk, err error) error {
	var faults job.Faults
	if errors.As(err, &faults) {
		return errors.New(u.ErrorWords(err))
	}
	return err
}
