package cause

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// checksPane is what to check next, the check that tells most for its minutes first,
// the plan that reckons with the most probable outcome of each, and the figures of
// the cause picked.
type checksPane struct {
	p       *page
	content *fyne.Container
	tabs    *container.AppTabs
	list    *fyne.Container
	scroll  *container.Scroll
	cards   map[string]*checkCard // by check
	none    *widget.Label
	key     *widget.Label // what a bar is
	plan    *widget.Label
	figures *causeFigures
	know    *widget.Label
	reset   *widget.Button
	opened  string // the check whose outcomes are shown; "" is the first
	closed  bool   // none is
}

func newChecksPane(p *page) *checksPane {
	c := &checksPane{p: p, list: container.NewVBox(), cards: map[string]*checkCard{}, none: kit.Prose(), key: kit.Prose(), plan: kit.Prose(), know: kit.Prose()}
	c.reset = widget.NewButton(tr("Reset all minutes"), func() {
		p.minutes.replace(map[string]float64{})
		p.setOwn()
	})
	c.reset.Hide()
	c.figures = newCauseFigures(p)
	c.key.SetText(tr("The longer the bar, the more the check tells for its minutes. Pick one to see what it takes and what it would mean."))
	c.key.SizeName = theme.SizeNameCaptionText
	c.scroll = container.NewVScroll(container.New(&kit.BesideBar{}, container.NewVBox(c.none, c.list, c.key, kit.Elastic(c.reset, 190))))
	c.tabs = container.NewAppTabs(
		container.NewTabItem(tr("Next"), c.scroll),
		container.NewTabItem(tr("Plan"), container.NewVScroll(c.plan)),
		container.NewTabItem(tr("Figures"), c.figures.content),
		container.NewTabItem(tr("Remarks"), container.NewVScroll(container.NewVBox(kit.Cautions(), c.know))),
	)
	c.tabs.OnSelected = func(*container.TabItem) { c.loadFigures() }
	c.content = container.NewStack(c.tabs)
	return c
}

// load shows the checks of the ranking there is.
func (c *checksPane) load() {
	p := c.p
	var next []finding.NextCheck
	if p.valid {
		next = p.found.Next
	}
	open := 0
	for i, n := range next {
		if n.Check == c.opened {
			open = i
		}
	}
	var objects []fyne.CanvasObject
	for i, n := range next {
		card := c.cards[n.Check]
		if card == nil {
			card = newCheckCard(c)
			c.cards[n.Check] = card
		}
		card.load(n, i == open && !c.closed)
		objects = append(objects, card.content)
	}
	if !slices.Equal(objects, c.list.Objects) {
		c.list.Objects = objects
		c.list.Refresh()
	}
	text := ""
	switch {
	case !p.valid:
	case len(next) == 0:
		text = say(p.found.PlanSays)
	}
	kit.SetText(c.none, text)
	kit.SetShown(c.none, text != "")
	kit.SetShown(c.key, len(next) > 0)
	kit.SetShown(c.reset, len(p.minutes.of) > 0)
	kit.SetText(c.plan, c.planWords())
	if p.valid {
		kit.SetText(c.know, lines(p.found.Notes)+"\n\n"+tr("Probabilities compare the causes that are listed; a cause that is not listed is left out. Your own settings, how often a cause occurs and how long a check takes, are kept on this computer and not in the job."))
	}
}

// figuresTab is the place of the figures among the tabs.
const figuresTab = 2

// loadFigures shows the figures of the cause picked, while they are looked at.
func (c *checksPane) loadFigures() {
	if c.tabs.SelectedIndex() == figuresTab {
		k, ok := c.p.causes.chosen()
		c.figures.showCause(k.Cause, ok)
	}
}

// moved turns the figures with the crank.
func (c *checksPane) moved() {
	if c.tabs.SelectedIndex() == figuresTab {
		c.figures.moved()
	}
}

// planWords are the steps of the plan.
func (c *checksPane) planWords() string {
	if !c.p.valid {
		return ""
	}
	text := []string{say(c.p.found.PlanSays)}
	for i, s := range c.p.found.Plan {
		text = append(text, with("{{.N}}. {{.Check}}, {{.Minutes}} minutes. If it shows {{.Shows}}: {{.Cause}}, {{.P}}.", map[string]any{
			"N": i + 1, "Check": upper(tr(s.Title)), "Minutes": phrase.Num{Value: s.Minutes, Decimals: 1}, "Shows": outcomeWords(s.Says),
			"Cause": causeName(s.Cause), "P": inHundred(s.Then)}))
	}
	return strings.Join(text, "\n\n")
}

// outcomeWords say what a check may show.
func outcomeWords(list []phrase.Sentence) string {
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = say(s)
	}
	return strings.Join(words, "; ")
}

// toggle opens a check's outcomes, or closes them.
func (c *checksPane) toggle(name string, isOpen bool) {
	c.opened, c.closed = name, isOpen
	c.load()
}

// record puts what a check has shown into the job, as far as it is words, and leads
// to the number that is to be typed.
func (c *checksPane) record(values []cause.Found) {
	number := ""
	u := c.p.u
	u.Edit("evidence", func(j *job.Job) {
		for _, f := range values {
			k, ok := cause.KindNamed(f.Kind)
			switch {
			case !ok:
			case k.Value == cause.Number:
				if number == "" {
					number = k.Name
				}
			case k.Value == cause.YesNo:
				putClue(j, k.Name, 0, f.Word == "yes")
			default:
				putClue(j, k.Name, 0, f.Word)
			}
		}
	})
	u.Session.Seal()
	if number != "" {
		c.p.known.reveal(number)
	}
}

// checkCard is one check: its name and minutes, and opened what it takes and what
// each outcome would mean.
type checkCard struct {
	c       *checksPane
	content *fyne.Container
	bar     *widgets.Bar // how much it tells for its minutes, against the best
	name    *widget.Label
	minutes *widgets.Field
	usual   *widget.Button
	gain    *widget.Label
	body    *fyne.Container
	takes   *widget.Label
	rows    *fyne.Container
	typed   *widget.Button
	check   finding.NextCheck
	open    bool
	shown   string // what rows were built for
}

func newCheckCard(c *checksPane) *checkCard {
	k := &checkCard{c: c, gain: kit.Prose(), takes: kit.Prose(), rows: container.NewVBox(), minutes: widgets.NewField(tr("minutes"), 1),
		bar: widgets.NewBar(), name: kit.Prose()}
	k.bar.OnChosen = func() { c.toggle(k.check.Check, k.open) }
	k.bar.OnKey = c.p.u.Key
	k.name.TextStyle.Bold = true
	k.minutes.OnChanged = func(text string) { k.readMinutes(text) }
	k.minutes.OnDone = k.done
	k.minutes.OnWheel = func(e *fyne.ScrollEvent) { c.scroll.Scrolled(e) }
	k.usual = widget.NewButton(tr("Default"), func() { k.setMinutes(nil) })
	k.typed = widget.NewButton(tr("Type what it showed"), func() {
		if len(k.check.Kinds) > 0 {
			c.p.known.reveal(k.check.Kinds[0])
		}
	})
	times := container.New(&kit.Flow{}, container.New(kit.Sized{Width: 150}, k.minutes), k.usual)
	k.body = container.NewVBox(container.New(&kit.Tight{}, k.name, k.gain), times, k.takes, k.rows, kit.Elastic(k.typed, 190))
	k.content = container.NewVBox(k.bar, k.body)
	return k
}

// load shows a check.
func (k *checkCard) load(n finding.NextCheck, open bool) {
	k.check = n
	best := k.c.p.found.Next[0].Worth
	k.bar.SetShare(upper(tr(n.Title)), with("{{.Minutes}} min", map[string]any{"Minutes": phrase.Num{Value: n.Minutes, Decimals: 1}}), n.Worth/best, -1)
	k.bar.SetSelected(open)
	k.open = open
	if k.body.Hidden == open {
		k.body.Hidden = !open
		k.content.Refresh()
	}
	if !open {
		return
	}
	kit.SetText(k.name, upper(tr(n.Title)))
	kit.SetText(k.gain, say(n.Gain()))
	if shown := number(n.Minutes, 1); !k.minutes.Focused() && !form.SameNumber(k.minutes.Text(), shown) {
		k.minutes.SetFault("")
		k.minutes.SetText(shown)
	}
	_, own := k.c.p.minutes.of[n.Check]
	kit.Able(k.usual, own)
	takes := []string{with("Tools: {{.Tools}}.", map[string]any{"Tools": tr(n.Tools)})}
	for _, a := range n.Cautions {
		takes = append(takes, with("Caution: {{.What}}", map[string]any{"What": tr(a)}))
	}
	kit.SetText(k.takes, strings.Join(takes, "\n"))
	k.loadOutcomes(n)
}

// loadOutcomes shows what each outcome would mean.
func (k *checkCard) loadOutcomes(n finding.NextCheck) {
	var objects []fyne.CanvasObject
	built := n.Check
	for _, o := range n.Outcomes {
		shows := outcomeWords(o.Says)
		text := with("{{.Shows}} ({{.P}}). Then: {{.Cause}}, {{.Then}}.", map[string]any{"Shows": upper(shows), "P": inHundred(o.Probability), "Cause": causeName(o.Cause), "Then": inHundred(o.Then)})
		built += "\n" + text
		shown := tr("It showed this")
		if hasNumber(o.Values) { // what was expected is not what was read
			shown = tr("Type it")
		}
		b := widget.NewButton(shown, func() { k.c.record(o.Values) })
		objects = append(objects, container.NewBorder(nil, nil, nil, container.NewVBox(b), kit.Wrapped(text)))
	}
	if n.Rest > 0.005 {
		text := with("Something else ({{.P}}).", map[string]any{"P": inHundred(n.Rest)})
		built += "\n" + text
		objects = append(objects, kit.Wrapped(text))
	}
	if built != k.shown {
		k.shown = built
		heading := widget.NewLabel(tr("What each outcome would mean"))
		heading.TextStyle.Bold = true
		k.rows.Objects = append([]fyne.CanvasObject{heading}, objects...)
		k.rows.Refresh()
	}
}

// hasNumber tells whether a number is among what a check shows.
func hasNumber(values []cause.Found) bool {
	return slices.ContainsFunc(values, func(f cause.Found) bool {
		k, ok := cause.KindNamed(f.Kind)
		return ok && k.Value == cause.Number
	})
}

// readMinutes says why what was typed cannot be minutes; ok tells whether it can
// be, or nothing was typed.
func (k *checkCard) readMinutes(text string) (n job.Number, ok bool) {
	n, err := form.ReadNumber(text, "")
	message := ""
	switch {
	case err != nil:
		message = err.Error()
	case n.Given && (n.Value <= 0 || n.Value > 10000):
		message = tr("The minutes must be more than 0 and at most 10 000.")
	}
	k.minutes.SetFault(message)
	return n, message == ""
}

// done takes the reader's own minutes.
func (k *checkCard) done() {
	n, ok := k.readMinutes(k.minutes.Text())
	switch {
	case !ok:
	case !n.Given:
		k.setMinutes(nil)
	case n.Value != k.check.Minutes:
		k.setMinutes(&n.Value)
	}
}

func (k *checkCard) setMinutes(v *float64) {
	k.c.opened = k.check.Check // which may now stand elsewhere
	k.c.p.minutes.set(k.check.Check, v)
	k.c.p.setOwn()
}
