package cause

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/widgets"
)

// causesPane is the causes, the most probable first, and of the one that is picked
// why, and how probable it was before anything was seen.
type causesPane struct {
	p       *page
	content *fyne.Container
	scroll  *container.Scroll
	bars    []*widgets.Bar
	rows    *fyne.Container
	key     *widget.Label // what the mark on a bar is
	all     *widget.Button
	every   bool // also those that are hardly probable

	picked string // by name; "" is the first
	what   *widget.Label
	why    *widget.Label
	prior  *priorEditor
}

// Causes are listed that are at least so probable, and at least so many of them.
const (
	worthListing = 0.01
	leastListed  = 6
)

func newCausesPane(p *page) *causesPane {
	c := &causesPane{p: p, rows: container.NewVBox(), what: kit.Prose(), why: kit.Prose(), key: kit.Prose()}
	c.key.SetText(tr("A bar shows how probable the cause is, alone or with another; two faults at once count in the bars of both. The upright line is the probability before anything was seen."))
	c.key.SizeName = theme.SizeNameCaptionText
	c.all = widget.NewButton("", func() {
		c.every = !c.every
		c.load()
	})
	c.all.Importance = widget.LowImportance
	c.what.TextStyle.Bold = true
	c.prior = newPriorEditor(p)
	c.scroll = container.NewVScroll(container.New(&kit.BesideBar{}, container.NewVBox(c.rows, c.all, c.key)))
	split := container.NewVSplit(c.scroll, container.NewVScroll(container.New(&kit.BesideBar{}, container.NewVBox(c.what, c.why, c.prior.content))))
	split.Offset = 0.5
	c.content = container.NewStack(split)
	return c
}

// load shows the ranking there is.
func (c *causesPane) load() {
	p := c.p
	if !p.valid {
		c.rows.RemoveAll()
		c.bars = nil
		c.all.Hide()
		c.loadPicked()
		return
	}
	shown, hidden := c.listed()
	for len(c.bars) < len(shown) {
		b := widgets.NewBar()
		at := len(c.bars)
		b.OnKey = func(e *fyne.KeyEvent) { c.typed(at, e) }
		c.bars = append(c.bars, b)
		c.rows.Add(b)
	}
	for len(c.bars) > len(shown) {
		last := len(c.bars) - 1
		c.rows.Remove(c.bars[last])
		c.bars = c.bars[:last]
	}
	for i, k := range shown {
		c.bars[i].SetShare(upper(causeName(k.Cause)), inHundred(k.InAll), k.InAll, k.Prior)
		name := k.Cause
		c.bars[i].OnChosen = func() { c.pick(name) }
	}
	switch {
	case c.every:
		c.all.SetText(tr("Only the likely ones"))
	case hidden > 0:
		c.all.SetText(with("All others too ({{.N}})", map[string]any{"N": hidden}))
	}
	kit.SetShown(c.all, hidden > 0 || c.every)
	c.loadPicked()
}

// listed are the causes to show, those left out together in one, and how many are
// left out.
func (c *causesPane) listed() (list []finding.CauseFound, hidden int) {
	all := c.p.found.Causes
	if c.every {
		return all, 0
	}
	others := finding.CauseFound{} // it has no name
	for i, k := range all {
		if k.Probability >= worthListing || i < leastListed && len(k.Meaning) == 1 || k.Cause == c.picked {
			list = append(list, k)
			continue
		}
		others.Probability += k.Probability
		others.InAll += k.Probability
		others.Prior += k.Prior
		hidden++
	}
	if hidden > 0 {
		list = append(list, others)
	}
	return list, hidden
}

// causeName is a cause in the reader's language: one fault, or two; "" is all that
// are not listed.
func causeName(name string) string {
	return say(finding.CauseTitle(name))
}

// inHundred says a probability as everything else does.
func inHundred(p float64) string {
	return with("{{.P}} %", map[string]any{"P": finding.Percent(p)})
}

// typed goes from bar to bar.
func (c *causesPane) typed(at int, e *fyne.KeyEvent) {
	to := at
	switch e.Name {
	case fyne.KeyDown:
		to++
	case fyne.KeyUp:
		to--
	case fyne.KeyHome:
		to = 0
	case fyne.KeyEnd:
		to = len(c.bars) - 1
	default:
		c.p.u.Key(e)
		return
	}
	if to >= 0 && to < len(c.bars) {
		c.p.u.Window.Canvas().Focus(c.bars[to])
		c.bars[to].OnChosen()
	}
}

// pick shows why a cause is as probable as it is.
func (c *causesPane) pick(name string) {
	if name == "" {
		c.every = true
		c.load()
		return
	}
	c.picked = name
	c.loadPicked()
}

// chosen is the cause picked, the first where none is or it is gone.
func (c *causesPane) chosen() (k finding.CauseFound, ok bool) {
	if !c.p.valid || len(c.p.found.Causes) == 0 {
		return finding.CauseFound{}, false
	}
	for _, k := range c.p.found.Causes {
		if k.Cause == c.picked {
			return k, true
		}
	}
	return c.p.found.Causes[0], true
}

// loadPicked shows the cause picked.
func (c *causesPane) loadPicked() {
	k, ok := c.chosen()
	if !ok {
		kit.SetText(c.what, "")
		kit.SetText(c.why, "")
		c.prior.load("", false)
		c.p.next.loadFigures()
		return
	}
	shown, _ := c.listed()
	for i, b := range c.bars {
		b.SetSelected(i < len(shown) && shown[i].Cause == k.Cause)
	}
	c.p.next.loadFigures()
	var meaning []string
	for _, m := range k.Meaning {
		meaning = append(meaning, say(m))
	}
	if len(meaning) == 0 {
		meaning = append(meaning, upper(causeName(k.Cause)))
	}
	kit.SetText(c.what, strings.Join(append(meaning, say(k.Chance())), " "))
	kit.SetText(c.why, c.reasons(k))
	c.prior.load(k.Cause, len(k.Meaning) == 1)
}

// reasons are what speaks for a cause, what against it, and what hardly matters.
func (c *causesPane) reasons(k finding.CauseFound) string {
	list := k.ByStrength()
	if len(list) == 0 {
		return tr("Nothing that was seen speaks for it or against it yet.")
	}
	headings := map[int]string{1: tr("What speaks for it"), -1: tr("What speaks against it"), 0: tr("What hardly matters")}
	var text []string
	for _, way := range []int{1, -1, 0} {
		var part []string
		for _, w := range list {
			if w.Speaks == way {
				part = append(part, map[int]string{1: "+ ", -1: "− ", 0: "· "}[way]+say(w.Says))
			}
		}
		if len(part) > 0 {
			text = append(text, headings[way]+"\n"+strings.Join(part, "\n"))
		}
	}
	return strings.Join(text, "\n\n")
}
