// Package cause is the page that says which mistake explains what was seen, and what to
// check next.
package cause

import (
	"context"
	"errors"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// page says which mistake explains what was seen. At the left is what is
// known, every piece of it typed or ticked here or taken from elsewhere in the job;
// in the middle are the causes, the most probable first, and why; at the right is
// what to check next. Where there is little room one of the three is shown at a
// time.
type page struct {
	u       *desk.Desk
	form    *form.Form        // of the evidence
	content *container.Scroll // for large text in a small window

	bar      kit.ColourBar // the colour beside the sentence
	sentence *widget.Label
	second   *widget.Label
	clash    *widget.Label // evidence that does not go together
	panes    *kit.Panes

	known  *evidencePane
	causes *causesPane
	next   *checksPane

	priors, minutes *ownNumbers

	session *desk.Session
	job     job.Job        // shown
	found   finding.Causes // of [causePage.ranked]
	ranked  job.Job
	valid   bool // there is a ranking
	ranking *kit.Latest[weighing]
}

// weighing is a job whose causes are to be weighed.
type weighing struct {
	job     job.Job
	options finding.CauseOptions
}

// causePause is how long nothing must change before the causes are weighed anew:
// a number that is typed should not be weighed figure by figure.
const causePause = 120 * time.Millisecond

var Kind = desk.PageKind{
	Name: "cause", Title: phrase.Text("Cause"),
	Holds: func(_ *desk.Desk, key string) bool {
		return evidenceIndex(key) >= 0 || strings.HasPrefix(key, "evidence.")
	},
	Build: func(d *desk.Desk, _ desk.Page) desk.Page { return newPage(d) },
}

func newPage(u *desk.Desk) *page {
	p := &page{u: u, form: form.NewBlankForm(u), bar: kit.NewColourBar(u.Frame), sentence: kit.Prose(), second: kit.Prose(), clash: kit.MessageLabel()}
	p.sentence.SizeName = theme.SizeNameSubHeadingText
	p.sentence.TextStyle.Bold = true
	p.priors, p.minutes = newOwnNumbers(u.Prefs, prefPriors), newOwnNumbers(u.Prefs, prefMinutes)
	p.priors.sound(func(of map[string]float64) finding.CauseOptions { return finding.CauseOptions{Priors: of} })
	p.minutes.sound(func(of map[string]float64) finding.CauseOptions { return finding.CauseOptions{Minutes: of} })
	p.ranking = kit.NewLatest(&u.InTurn, p.rank)
	p.second.Hide()
	p.known = newEvidencePane(p)
	p.causes = newCausesPane(p)
	p.next = newChecksPane(p)
	p.panes = kit.NewPanes(
		kit.Pane{Title: tr("What is known"), O: p.known.content, Share: 0.33},
		kit.Pane{Title: tr("Causes"), O: p.causes.content, Share: 0.34},
		kit.Pane{Title: tr("What next"), O: p.next.content, Share: 0.33})
	words := container.New(&kit.Steady{}, container.New(&kit.Tight{}, p.sentence, p.second, p.clash))
	page := container.NewBorder(container.NewBorder(nil, nil, p.bar.Rectangle, nil, words), nil, nil, nil, p.panes.Content)
	p.content = container.NewVScroll(container.New(&kit.BesideBar{}, page))
	return p
}

func (p *page) Body() fyne.CanvasObject { return p.content }

func (p *page) Remember() {}

func (p *page) Moved() { p.next.moved() }

// options are the reader's own numbers.
func (p *page) options() finding.CauseOptions {
	return finding.CauseOptions{Priors: p.priors.of, Minutes: p.minutes.of}
}

// Load shows the session's newest sound job: its evidence at once, and the causes
// as soon as they are weighed.
func (p *page) Load() {
	if p.session != p.u.Session {
		p.session, p.valid = p.u.Session, false
		p.ranking.CallOff() // it is of another job
		p.known.forget()
	}
	p.job = p.u.Known()
	p.known.load()
	if p.valid && p.ranked.Equal(p.job) {
		p.show()
		return
	}
	p.say()
	p.rankSoon()
}

// TurnTo leads to a kind of evidence.
func (p *page) TurnTo(kind string) { p.known.reveal(kind) }

// ShowField leads to the evidence of a fault's key.
func (p *page) ShowField(key string) {
	if typed, ok := strings.CutPrefix(key, "evidence."); ok { // and stands for nothing
		p.known.reveal(strings.TrimSuffix(typed, ".u"))
		return
	}
	i := evidenceIndex(key)
	if list := p.u.Session.Job().Evidence; i < len(list) {
		if k, ok := cause.KindNamed(list[i].Kind); ok {
			p.known.reveal(k.Name)
		}
	}
}

// rankSoon has the causes weighed once nothing has changed for a moment, and at once
// where none are shown yet.
func (p *page) rankSoon() {
	pause := time.Duration(0)
	if p.valid {
		pause = causePause
	}
	p.ranking.GiveAfter(pause, weighing{p.job, p.options()})
}

// rank weighs the causes on another goroutine.
func (p *page) rank(_ context.Context, w weighing) (show func()) {
	c, err := finding.CausesOf(w.job, w.options)
	return func() { p.take(w.job, c, err) }
}

// End gives up what is being worked out, before the window closes.
func (p *page) End() { p.ranking.End() }

// take shows a ranking.
func (p *page) take(j job.Job, c finding.Causes, err error) {
	if err != nil {
		p.valid = false
		p.lack(err)
		return
	}
	p.found, p.ranked, p.valid = c, j, true
	p.show()
}

// show brings everything up to the ranking there is.
func (p *page) show() {
	p.say()
	p.causes.load()
	p.next.load()
}

// say puts what the evidence comes to on top.
func (p *page) say() {
	if !p.valid {
		kit.SetText(p.sentence, tr("Calculating the causes…"))
		return
	}
	kit.SetText(p.sentence, say(p.found.Says))
	var words []string
	if p.u.Supposes() {
		words = append(words, tr("These are the causes of what is known: the what-if does not count here."))
	}
	if !p.ranked.Equal(p.job) {
		words = append(words, tr("Recalculating…"))
	}
	for _, s := range p.found.Then {
		words = append(words, say(s))
	}
	kit.SetText(p.second, strings.Join(words, " "))
	p.second.Hidden = len(words) == 0
	clash := ""
	if k := p.found.Contradiction; k != nil {
		clash = say(k.Says)
	}
	kit.ShowMessage(p.clash, clash)
	role := figure.Commanded
	if _, sure := p.found.Ranking.Leading(); len(p.found.Evidence) > 0 && sure >= p.found.SureFrom {
		role = figure.Actual
	}
	if clash != "" {
		role = figure.Warning
	}
	p.bar.Show(role)
}

// lack says why nothing can be weighed.
func (p *page) lack(err error) {
	kit.SetText(p.sentence, tr("The causes cannot be calculated yet."))
	text := p.u.Why(err)
	var faults job.Faults
	if errors.As(err, &faults) && len(faults) > 0 && strings.HasPrefix(faults[0].Key, "evidence[") {
		text = tr("An entry under “What is known” is not possible; it is marked there.")
	}
	kit.SetText(p.second, text)
	p.second.Hidden = false
	kit.ShowMessage(p.clash, "")
	p.bar.Show(figure.Warning)
	p.causes.load()
	p.next.load()
}

// setOwn is told that the reader's own numbers have changed.
func (p *page) setOwn() {
	p.ranking.CallOff() // it goes by the numbers before
	p.ranking.Give(weighing{p.job, p.options()})
}
