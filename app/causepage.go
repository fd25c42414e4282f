package app

import (
	"errors"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// causePage says which mistake explains what was seen. At the left is what is
// known, every piece of it typed or ticked here or taken from elsewhere in the job;
// in the middle are the causes, the most probable first, and why; at the right is
// what to check next. Where there is little room one of the three is shown at a
// time.
type causePage struct {
	u       *desk
	form    *form             // of the evidence
	content *container.Scroll // for large text in a small window

	bar      colourBar // the colour beside the sentence
	sentence *widget.Label
	second   *widget.Label
	clash    *widget.Label // evidence that does not go together
	panes    *panes

	known  *evidencePane
	causes *causesPane
	next   *checksPane

	priors, minutes *ownNumbers

	session *session
	job     job.Job        // shown
	found   finding.Causes // of [causePage.ranked]
	ranked  job.Job
	valid   bool // there is a ranking
	work    ranking
}

// ranking is what is being worked out beside the main goroutine: one at a time, and
// the next for what is shown by then.
type ranking struct {
	number int // of what is wanted; results of another one are dropped
	busy   bool
	again  bool
	timer  *time.Timer
}

// causePause is how long nothing must change before the causes are weighed anew:
// a number that is typed should not be weighed figure by figure.
const causePause = 120 * time.Millisecond

var causeKind = pageKind{
	name: "cause", title: "Cause",
	holds: func(_ *desk, key string) bool { return evidenceIndex(key) >= 0 || strings.HasPrefix(key, "evidence.") },
	build: func(d *desk, _ page) page { return newCausePage(d) },
}

func newCausePage(u *desk) *causePage {
	p := &causePage{u: u, form: newBlankForm(u), bar: newColourBar(u.frame), sentence: prose(), second: prose(), clash: messageLabel()}
	p.sentence.SizeName = theme.SizeNameSubHeadingText
	p.sentence.TextStyle.Bold = true
	p.priors, p.minutes = newOwnNumbers(u.prefs, prefPriors), newOwnNumbers(u.prefs, prefMinutes)
	p.priors.sound(func(of map[string]float64) finding.CauseOptions { return finding.CauseOptions{Priors: of} })
	p.minutes.sound(func(of map[string]float64) finding.CauseOptions { return finding.CauseOptions{Minutes: of} })
	p.second.Hide()
	p.known = newEvidencePane(p)
	p.causes = newCausesPane(p)
	p.next = newChecksPane(p)
	p.panes = newPanes(
		pane{tr("What is known"), p.known.content, 0.33},
		pane{tr("Causes"), p.causes.content, 0.34},
		pane{tr("What next"), p.next.content, 0.33})
	words := container.New(&steady{}, container.New(&tight{}, p.sentence, p.second, p.clash))
	page := container.NewBorder(container.NewBorder(nil, nil, p.bar.Rectangle, nil, words), nil, nil, nil, p.panes.content)
	p.content = container.NewVScroll(container.New(&besideBar{}, page))
	return p
}

func (p *causePage) body() fyne.CanvasObject { return p.content }

func (p *causePage) remember() {}

func (p *causePage) moved() { p.next.moved() }

// options are the reader's own numbers.
func (p *causePage) options() finding.CauseOptions {
	return finding.CauseOptions{Priors: p.priors.of, Minutes: p.minutes.of}
}

// load shows the session's newest sound job: its evidence at once, and the causes
// as soon as they are weighed.
func (p *causePage) load() {
	if p.session != p.u.session {
		p.session, p.valid = p.u.session, false
		p.known.forget()
	}
	p.job = p.u.shown()
	p.known.load()
	if p.valid && p.ranked.Equal(p.job) {
		p.show()
		return
	}
	p.say()
	p.rankSoon()
}

// turnTo leads to a kind of evidence.
func (p *causePage) turnTo(kind string) { p.known.reveal(kind) }

// showField leads to the evidence of a fault's key.
func (p *causePage) showField(key string) {
	if typed, ok := strings.CutPrefix(key, "evidence."); ok { // and stands for nothing
		p.known.reveal(strings.TrimSuffix(typed, ".u"))
		return
	}
	i := evidenceIndex(key)
	if list := p.u.session.Job().Evidence; i < len(list) {
		if k, ok := cause.KindNamed(list[i].Kind); ok {
			p.known.reveal(k.Name)
		}
	}
}

// rankSoon has the causes weighed once nothing has changed for a moment.
func (p *causePage) rankSoon() {
	w := &p.work
	w.number++
	if w.timer != nil {
		w.timer.Stop()
	}
	if p.u.inTurn || !p.valid {
		p.rank()
		return
	}
	number := w.number
	w.timer = time.AfterFunc(causePause, func() {
		fyne.Do(func() {
			if number == w.number {
				p.rank()
			}
		})
	})
}

// rank weighs the causes of the job shown, beside the main goroutine.
func (p *causePage) rank() {
	w := &p.work
	if w.busy {
		w.again = true
		return
	}
	w.busy = true
	number, j, o := w.number, p.job, p.options()
	p.u.background(func() func() {
		c, err := finding.CausesOf(j, o)
		return func() {
			w.busy = false
			if number == w.number {
				p.take(j, c, err)
			}
			if w.again {
				w.again = false
				p.rank()
			}
		}
	})
}

// end gives up what is being worked out, before the window closes.
func (p *causePage) end() {
	p.work.number++
	p.work.again = false
	if p.work.timer != nil {
		p.work.timer.Stop()
	}
}

// take shows a ranking.
func (p *causePage) take(j job.Job, c finding.Causes, err error) {
	if err != nil {
		p.valid = false
		p.lack(err)
		return
	}
	p.found, p.ranked, p.valid = c, j, true
	p.show()
}

// show brings everything up to the ranking there is.
func (p *causePage) show() {
	p.say()
	p.causes.load()
	p.next.load()
}

// say puts what the evidence comes to on top.
func (p *causePage) say() {
	if !p.valid {
		setText(p.sentence, tr("The causes are being weighed…"))
		return
	}
	first, then := p.found.Lead()
	setText(p.sentence, say(first))
	var words []string
	if !p.ranked.Equal(p.job) {
		words = append(words, tr("Being weighed anew…"))
	}
	for _, s := range then {
		words = append(words, say(s))
	}
	setText(p.second, strings.Join(words, " "))
	p.second.Hidden = len(words) == 0
	clash := ""
	if k := p.found.Contradiction; k != nil {
		clash = say(k.Says)
	}
	showMessage(p.clash, clash)
	role := figure.Commanded
	if _, sure := p.found.Ranking.Leading(); len(p.found.Evidence) > 0 && sure >= p.found.SureFrom {
		role = figure.Actual
	}
	if clash != "" {
		role = figure.Warning
	}
	p.bar.show(role)
}

// lack says why nothing can be weighed.
func (p *causePage) lack(err error) {
	setText(p.sentence, tr("The causes cannot be weighed yet."))
	text := p.u.why(err)
	var faults job.Faults
	if errors.As(err, &faults) && len(faults) > 0 && strings.HasPrefix(faults[0].Key, "evidence[") {
		text = tr("Something among what is known cannot be right; it is named there.")
	}
	setText(p.second, text)
	p.second.Hidden = false
	showMessage(p.clash, "")
	p.bar.show(figure.Warning)
	p.causes.load()
	p.next.load()
}

// setOwn is told that the reader's own numbers have changed.
func (p *causePage) setOwn() {
	p.work.number++
	p.rank()
}
