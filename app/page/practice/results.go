package practice

import (
	"slices"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/lesson/class"
)

// classResults are the results that an instructor gathers, code by code: how often each
// question failed, and how each learner did. They are kept on this computer.
type classResults struct {
	page      *page
	box       *kit.Box
	exercise  *kit.DialogEntry
	result    *kit.DialogEntry
	said      *widget.Label
	questions *kit.Grid
	learners  *kit.Grid
	worst     *widget.Label

	of        class.Exercise
	asked     []lesson.Question
	known     bool // the exercise's code was read
	list      []class.Result
	codesRead []string
}

func (p *page) showClass() {
	c := &classResults{page: p, exercise: kit.NewDialogEntry(), result: kit.NewDialogEntry(), said: kit.Prose(), worst: kit.Prose(),
		questions: kit.NewGrid(6), learners: kit.NewGrid(4)}
	c.exercise.SetText(p.u.Prefs.String(prefClassExercise))
	if code := strings.TrimSpace(p.choice.class.code.Text()); code != "" {
		c.exercise.SetText(code)
	}
	c.result.SetPlaceHolder(tr("Enter adds it"))
	c.worst.TextStyle.Bold = true
	add := kit.NewDialogButton(tr("Add"), c.add)
	remove := kit.NewDialogButton(tr("Remove all…"), func() {
		p.u.Confirm(tr("Remove all results?"), tr("The results entered for this exercise will be deleted."), tr("Remove"), func() { c.keep(nil) })
	})
	content := container.NewVScroll(container.New(&kit.BesideBar{}, container.NewVBox(
		kit.Wrapped(tr("Enter the code of the exercise and, one after the other, the codes that the learners' computers show. They are kept on this computer only.")),
		widget.NewLabel(tr("Code of the exercise")), c.exercise,
		widget.NewLabel(tr("Code of a result")), container.NewBorder(nil, nil, nil, add, c.result),
		c.said, c.worst, c.questions.Content, c.learners.Content, container.NewHBox(remove),
	)))
	c.box = p.u.NewBox(tr("Class results"), content, p.u.Closing(tr("Close")))
	c.exercise.OnChanged = func(string) { c.read() }
	c.result.Keys = func(e *fyne.KeyEvent) bool {
		if e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter {
			c.add()
			return true
		}
		return p.u.BoxKey(e)
	}
	c.read()
	s, k := p.u.Window.Canvas().Size(), p.u.Look.Scale
	c.box.Resize(fyne.NewSize(min(720*k, s.Width-40), min(640*k, s.Height-40)))
	p.u.ShowBox(c.box, content)
	first := c.result
	if !c.known {
		first = c.exercise
	}
	p.u.Window.Canvas().Focus(first)
}

// read reads the exercise's code, and the results kept of it.
func (c *classResults) read() {
	p := c.page
	var err error
	c.of, err = class.ReadExercise(c.exercise.Text)
	if c.known = err == nil; c.known {
		c.asked, err = c.of.Questions()
		c.known = err == nil
	}
	c.list, c.codesRead = nil, nil
	if !c.known {
		words := ""
		if class.Tidy(c.exercise.Text) != "" {
			words = p.cannot(err)
		}
		c.say(words)
		c.show()
		return
	}
	c.say("")
	p.u.Prefs.SetString(prefClassExercise, strings.TrimSpace(c.exercise.Text))
	for _, code := range p.u.Prefs.StringList(prefClassResults) {
		if r, err := c.of.ReadResult(code); err == nil {
			c.list, c.codesRead = append(c.list, r), append(c.codesRead, code)
		}
	}
	c.show()
}

// add takes the result whose code was entered.
func (c *classResults) add() {
	p := c.page
	r, err := c.of.ReadResult(c.result.Text)
	code := class.Tidy(c.result.Text)
	switch {
	case !c.known:
		c.say(tr("Enter the code of the exercise first."))
		p.u.Window.Canvas().Focus(c.exercise)
		return
	case err != nil:
		c.say(p.cannot(err))
		return
	case r.Learner != 0 && slices.Contains(c.codesRead, code):
		c.say(tr("This result is already in the list."))
		return
	}
	c.result.SetText("")
	c.say("")
	c.keep(append(slices.Clone(c.codesRead), code))
}

// keep keeps these results of the exercise beside those of others.
func (c *classResults) keep(codes []string) {
	p := c.page
	var all []string
	for _, code := range p.u.Prefs.StringList(prefClassResults) {
		if !slices.Contains(c.codesRead, code) {
			all = append(all, code)
		}
	}
	all = append(all, codes...)
	p.u.Prefs.SetStringList(prefClassResults, all[max(0, len(all)-mostResults):])
	c.read()
}

// mostResults is how many results of all exercises are kept; the oldest go first.
const mostResults = 1000

func (c *classResults) say(words string) {
	c.said.SetText(words)
	c.said.Hidden = words == ""
}

// show shows how the class did.
func (c *classResults) show() {
	none := len(c.list) == 0
	c.questions.Content.Hidden, c.learners.Content.Hidden, c.worst.Hidden = none, none, none
	if none {
		return
	}
	rows := [][]string{{tr("Question"), tr("Kind"), tr("at once"), tr("second try"), tr("not known"), tr("not answered")}}
	tallies := c.of.Tallies(c.list)
	worst, most := 0, -1
	for i, t := range tallies {
		if failed := t.AtSecond + t.NotKnown; failed > most {
			worst, most = i, failed
		}
		rows = append(rows, []string{strconv.Itoa(i + 1), tr(c.asked[i].Kind.Name()), strconv.Itoa(t.AtFirst), strconv.Itoa(t.AtSecond), strconv.Itoa(t.NotKnown), strconv.Itoa(t.Open)})
	}
	c.questions.Set(rows)
	t := tallies[worst]
	answered := slices.ContainsFunc(tallies, func(t class.Tally) bool { return t.AtFirst > 0 })
	switch {
	case most == 0 && !answered:
		kit.SetText(c.worst, tr("No question was answered."))
	case most == 0:
		kit.SetText(c.worst, tr("Every answer given was correct at once."))
	default:
		kit.SetText(c.worst, with("Question {{.N}} ({{.Kind}}) failed most often: {{.Failed}} of {{.Of}} did not have it at once.",
			map[string]any{"N": worst + 1, "Kind": c.asked[worst].Kind.Name(), "Failed": most, "Of": most + t.AtFirst}))
	}
	rows = [][]string{{tr("Number"), tr("correct"), tr("answered"), tr("Questions that failed")}}
	for _, r := range class.Last(c.list) {
		name := "–"
		if r.Learner != 0 {
			name = strconv.Itoa(r.Learner)
		}
		var failed []string
		answered := 0
		for i, a := range r.Answers {
			if a == class.AtSecond || a == class.NotKnown {
				failed = append(failed, strconv.Itoa(i+1))
			}
			if a != class.Open {
				answered++
			}
		}
		rows = append(rows, []string{name, strconv.Itoa(r.Right()), strconv.Itoa(answered), strings.Join(failed, ", ")})
	}
	c.learners.Set(rows)
}
