package practice

import (
	"context"
	"errors"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/lesson/class"
	"pinphase.org/pinphase/timing/sheet"
	"pinphase.org/pinphase/timing/store"
	"pinphase.org/pinphase/widgets"
)

// practiceFile is where the learner's score is kept in the program's own folder.
const practiceFile = "practice.json"

// maxScore is more than a score takes, in bytes.
const maxScore = 1 << 20

// KeepIn reads the score kept in a file and keeps it there from now on. A damaged
// file is put aside and said; one that cannot be put aside is left alone. Until it is
// read nothing is asked, which goes by it; where it cannot be read in time, practice
// begins without it.
func (p *page) KeepIn(file string) {
	p.reading = true
	files := p.u.Files
	p.u.Background(func() func() {
		kept, inTime := kit.Within(kit.Patience, func() keptBefore { return readScore(files, file) })
		if !inTime {
			kept = keptBefore{err: os.ErrDeadlineExceeded, failed: os.ErrDeadlineExceeded}
		}
		return func() {
			p.reading = false
			p.record = kept.record
			p.file = file
			switch {
			case kept.failed != nil:
				p.file = ""
				p.say(tr("The score kept from earlier could not be read and is left as it is; a new one cannot be kept."))
			case kept.err != nil:
				p.say(with("The score kept from earlier could not be read; it starts from zero. The old one is kept as {{.Name}}.", map[string]any{"Name": kept.aside}))
			}
			p.Load()
		}
	})
}

// keptBefore is a score that was kept, or what became of its file.
type keptBefore struct {
	record lesson.Record
	err    error  // why it could not be read
	aside  string // where its file is kept then
	failed error  // why that is left where it is
}

// readScore reads a score; where there is none it is new.
func readScore(files store.Files, file string) (k keptBefore) {
	data, err := store.Read(files, file, maxScore)
	if errors.Is(err, fs.ErrNotExist) {
		return k
	}
	if err == nil {
		k.record, err = lesson.ReadRecord(data)
	}
	if err != nil {
		fyne.LogError("the practice score could not be read", err)
		k.record, k.err = lesson.Record{}, err
		k.aside, k.failed = store.Aside(files, file)
	}
	return k
}

// say says something about the kept score; "" takes it away.
func (p *page) say(words string) {
	p.notice.SetText(words)
	p.notice.Hidden = words == ""
	p.notice.Refresh()
}

// newScoreKeeper writes scores, the newest only.
func newScoreKeeper(u *desk.Desk) *kit.Latest[keptScore] {
	scores := kit.NewLatest(&u.InTurn, func(_ context.Context, k keptScore) func() {
		err := store.Mkdir(u.Files, filepath.Dir(k.file))
		if err == nil {
			_, err = store.Replace(u.Files, k.file, k.record.JSON(), 0o600)
		}
		return func() { k.page.scoreKept(err) }
	})
	u.Settles = append(u.Settles, scores.Settle)
	return scores
}

// keptScore is a score to be kept.
type keptScore struct {
	page   *page // is told how it went
	file   string
	record lesson.Record
}

// KeepScore hands over the score to be kept. Without a place for it practice goes on.
func (p *page) KeepScore() {
	if p.file != "" {
		p.scores.Give(keptScore{p, p.file, p.record})
	}
}

// scoreKept says why the score could not be kept, and no longer once it was.
func (p *page) scoreKept(err error) {
	if err != nil {
		p.say(with("The score cannot be kept: {{.Why}}. It lasts until the program ends.", map[string]any{"Why": kit.InFull(kit.Reason(err))}))
	} else if p.notice.Visible() && p.wasUnkept {
		p.say("")
	}
	p.wasUnkept = err != nil
}

// loadStanding says which question this is and how the learner does.
func (p *page) loadStanding() {
	q := p.current
	if q == nil {
		kit.SetText(p.standing, "")
		return
	}
	s := p.record.Of(q.Kind)
	data := map[string]any{"Kind": q.Kind.Name(), "Level": q.Level, "Levels": lesson.Levels, "Right": s.Right, "Asked": s.Asked, "N": p.number}
	if c := p.course; c != nil {
		data["Right"], data["Asked"], data["Count"] = c.right, c.asked, c.count
		kit.SetText(p.standing, p.marked(with("Question {{.N}} of {{.Count}} – {{.Kind}}, level {{.Level}} of {{.Levels}} – {{.Right}} of {{.Asked}} correct", data)))
		return
	}
	kit.SetText(p.standing, p.marked(with("{{.Kind}}, level {{.Level}} of {{.Levels}} – {{.Right}} of {{.Asked}} correct so far", data)))
}

// marked adds what is out of the ordinary about the question.
func (p *page) marked(standing string) string {
	q := p.current
	if q.MadeUp && !p.made {
		standing += " – " + tr("made-up engine")
	}
	if p.record.WasMissed(*q) && !p.done {
		standing += " – " + tr("missed before")
	}
	return standing
}

// cannot says why there is no question.
func (p *page) cannot(err error) string {
	switch {
	case errors.Is(err, lesson.ErrNoKind):
		return tr("Choose at least one kind of question.")
	case errors.Is(err, lesson.ErrUnsuited):
		return tr("The chosen kinds do not suit this engine. Choose others, or invented engines.")
	}
	return p.u.Why(err)
}

// practiceScore is the score, kind by kind.
type practiceScore struct {
	content fyne.CanvasObject
	table   *kit.Grid
	anew    *kit.KeyButton
}

func (s *practiceScore) build(p *page) {
	s.table = kit.NewGrid(4)
	s.anew = kit.NewKeyButton(tr("Reset score…"), func() {
		p.u.Inquire(kit.Question{
			Title: tr("Reset the score?"), Words: tr("The score so far will be deleted."),
			Answers: []kit.Reply{{Text: tr("Keep"), Then: nil}, {Text: tr("Reset"), Then: func() {
				p.record = lesson.Record{}
				p.KeepScore()
				p.show()
			}}},
		})
	})
	s.content = container.NewScroll(container.NewVBox(s.table.Content,
		container.New(kit.Sized{Width: 240}, kit.Wrapped(tr("Two right answers in a row raise the level. A wrong one lowers it, unless the second try is right. What was missed comes back later. Only the first try counts as right."))),
		container.NewHBox(s.anew)))
}

func (s *practiceScore) load(p *page) {
	rows := [][]string{{tr("Kind"), tr("level"), tr("correct"), tr("in a row")}}
	for _, k := range lesson.Kinds() {
		skill := p.record.Of(k)
		right := "–"
		if skill.Asked > 0 {
			right = with("{{.Right}} of {{.Asked}}", map[string]any{"Right": skill.Right, "Asked": skill.Asked})
		}
		rows = append(rows, []string{tr(k.Name()), strconv.Itoa(p.record.Level(k)), right, strconv.Itoa(skill.Streak)})
	}
	s.table.Set(rows)
}

// practiceChoice is what is asked: kinds, engines, and an instructor's seed.
type practiceChoice struct {
	content  fyne.CanvasObject
	checks   map[lesson.Kind]*kit.Check
	engines  *kit.OneOf
	seed     *widgets.Field
	count    *widgets.Field
	begin    *kit.KeyButton
	print    *kit.KeyButton
	variants *kit.Select // of an exercise on paper
	diagram  *kit.Check  // it has a cycle diagram to fill in
	class    classChoice
	setting  bool
}

// usualCount is how many questions an exercise has when nobody says.
const usualCount = 20

func (c *practiceChoice) build(p *page) {
	c.checks = map[lesson.Kind]*kit.Check{}
	rows := container.NewVBox(kit.Heading(tr("Kinds of questions")))
	for _, k := range lesson.Kinds() {
		check := kit.NewCheck(tr(k.Name()), func(on bool) {
			if !c.setting {
				p.chooseKind(k, on)
				p.begin()
				p.side.Set(2)
				p.loadSide()
			}
		})
		c.checks[k] = check
		rows.Add(check)
	}
	c.engines = kit.NewOneOf(func(i int) {
		p.made = i == 1
		p.u.Prefs.SetBool(prefPracticeMade, p.made)
		c.class.stale()
		p.begin()
		p.side.Set(2)
		p.loadSide()
	}, tr("Engine of the open job"), tr("Invented engines")).InColumn() // a row that scrolls would take the mouse wheel from the page
	c.seed, c.count = widgets.NewField("", 1), widgets.NewField("", 1)
	c.count.SetText(strconv.Itoa(usualCount))
	c.seed.SetPlaceHolder(tr("a whole number"))
	start := func() { c.start(p) }
	for _, f := range []*widgets.Field{c.seed, c.count} {
		f.OnChanged = func(string) {
			f.SetFault("")
			c.class.stale()
		}
		f.OnDone = func() {
			if f.Focused() {
				start()
			}
		}
	}
	c.begin = kit.NewKeyButton(tr("Begin the exercise"), start)
	rows.Add(kit.Heading(tr("Engines")))
	rows.Add(c.engines.Content)
	rows.Add(kit.Heading(tr("An exercise for a class")))
	rows.Add(kit.Wrapped(tr("The same number, count, kinds and engines give the same questions on every computer, whoever answers them.")))
	draw := kit.NewKeyButton(tr("Pick at random"), func() {
		c.seed.SetText(strconv.Itoa(rand.IntN(10000)))
		c.seed.SetFault("")
		c.class.stale()
	})
	rows.Add(practiceRow(tr("Number of the exercise"), container.NewBorder(nil, nil, nil, container.NewVBox(draw), c.seed)))
	rows.Add(practiceRow(tr("How many questions"), c.count))
	var several []string
	for n := range sheet.MostVariants {
		several = append(several, strconv.Itoa(n+1))
	}
	c.variants = kit.NewSelect(several, nil)
	c.variants.SetSelectedIndex(0)
	c.print = kit.NewKeyButton(tr("Print with answers…"), func() { c.toPrint(p) })
	handOut := c.buildClass(p)
	rows.Add(container.NewHBox(c.begin))
	c.diagram = kit.NewCheck(tr("with a cycle diagram to fill in"), nil)
	rows.Add(practiceRow(tr("Variants on paper"), c.variants))
	rows.Add(c.diagram)
	rows.Add(container.NewHBox(c.print))
	rows.Add(handOut)
	scroll := container.NewVScroll(container.New(&kit.BesideBar{}, rows))
	for _, f := range []*widgets.Field{c.seed, c.count, c.class.code, c.class.learner} {
		f.OnWheel = func(e *fyne.ScrollEvent) { scroll.Scrolled(e) }
	}
	c.content = scroll
}

func practiceRow(label string, f fyne.CanvasObject) fyne.CanvasObject {
	return container.New(&kit.Tight{}, kit.Wrapped(label), f)
}

func (c *practiceChoice) load(p *page) {
	c.setting = true
	for k, check := range c.checks {
		on := false
		for _, o := range p.kinds {
			on = on || o == k
		}
		check.SetChecked(on)
	}
	c.setting = false
	c.engines.Set(map[bool]int{false: 0, true: 1}[p.made])
	c.loadClass(p)
}

// numbers reads the exercise's number and how many questions it has; what is wrong
// stands at its field.
func (c *practiceChoice) numbers() (seed uint64, count int, ok bool) {
	seed, err := strconv.ParseUint(strings.TrimSpace(c.seed.Text()), 10, 64)
	ok = true
	if err != nil {
		c.seed.SetFault(tr("Type a whole number, such as 7."))
		ok = false
	}
	count, err = strconv.Atoi(strings.TrimSpace(c.count.Text()))
	if err != nil || count < 1 || count > class.MostQuestions {
		c.count.SetFault(with("Type a whole number from 1 to {{.Most}}.", map[string]any{"Most": class.MostQuestions}))
		ok = false
	}
	return seed, min(max(count, 1), math.MaxInt32), ok
}

// start begins an exercise.
func (c *practiceChoice) start(p *page) {
	if seed, count, given, ok := c.chosen(p); ok {
		p.beginWith(&practice{count: count, given: given}, seed)
	}
}

// practiceKinds returns the kinds of questions to ask: all of them until some were
// chosen.
func practiceKinds(p desk.Prefs) []lesson.Kind {
	var list []lesson.Kind
	for _, name := range p.StringList(prefPracticeKinds) {
		if k, ok := lesson.ParseKind(name); ok {
			list = append(list, k)
		}
	}
	if len(list) == 0 {
		return lesson.Kinds()
	}
	return list
}

// setPracticeKinds keeps them.
func setPracticeKinds(p desk.Prefs, kinds []lesson.Kind) {
	var names []string
	for _, k := range kinds {
		names = append(names, string(k))
	}
	p.SetStringList(prefPracticeKinds, names)
}
