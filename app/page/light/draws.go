package light

import (
	"context"
	"time"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
)

const (
	// pause is how long nothing must change before what takes longer than a frame
	// is worked out.
	pause = 200 * time.Millisecond

	lightSeed      = 1
	lightDrawCount = 100_000
)

// lightDraws is the work done beside the main goroutine for the estimate shown,
// and how far it has come. It belongs to the main goroutine.
type lightDraws struct {
	number int  // of the estimate; results for another one are dropped
	done   bool // the estimate has its chances
	timer  *time.Timer
	cancel context.CancelFunc
}

// stop gives up what is being worked out.
func (p *page) stop() {
	d := &p.draws
	d.number++
	if d.timer != nil {
		d.timer.Stop()
		d.timer = nil
	}
	if d.cancel != nil {
		d.cancel()
		d.cancel = nil
	}
}

// End gives up everything for good, before the window closes.
func (p *page) End() {
	p.stop()
	p.valid = false
}

// afterPause has what is still lacking worked out once nothing has changed for a
// moment.
func (p *page) afterPause() {
	if !p.valid || p.draws.done && !p.side.lacksFine(p) {
		return
	}
	p.stop()
	number := p.draws.number
	if p.u.InTurn {
		return // tests call rest themselves
	}
	p.draws.timer = time.AfterFunc(pause, func() {
		fyne.Do(func() {
			if number == p.draws.number {
				p.rest()
			}
		})
	})
}

// rest works out the chances and the fine map of what is shown.
func (p *page) rest() {
	if p.valid {
		p.beside(p.work())
	}
}

// work is what rest has to do beside the main goroutine. It goes by values that
// nobody changes and without translations, which are the main goroutine's: the
// map's words come from the coarse one.
func (p *page) work() func() func() {
	p.stop()
	ctx, cancel := context.WithCancel(context.Background())
	p.draws.cancel = cancel
	number, estimate, j, o := p.draws.number, p.estimate, p.of, p.options()
	draw, fine := !p.draws.done, p.side.lacksFine(p)
	return func() func() {
		var drawn finding.Light
		var err, mapErr error
		if draw {
			drawn, err = estimate.Drawn(ctx, lightDrawCount, lightSeed)
		}
		var in figure.LightMapInput
		if fine && ctx.Err() == nil {
			in, mapErr = chart.LightMap(j, chart.LightOptions{Of: o, Step: fineStep, Units: voice().Units()})
		}
		return func() {
			if number != p.draws.number {
				return // something else is shown by now
			}
			cancel()
			p.draws.cancel = nil
			if draw && err == nil {
				p.estimate, p.draws.done = drawn, true
				p.say()
			}
			if fine && mapErr == nil && p.side.valid && p.side.by == p.estimate.Correlation {
				p.side.take(p, in, j, true)
			}
		}
	}
}

// chances are the probabilities in a sentence, or that they are on their way.
func (p *page) chances() string {
	c := p.estimate.Cases
	if c[0].Probability == nil || c[1].Probability == nil {
		return tr("Probability of ignition: being calculated…")
	}
	lands := phrase.Text("Probability of ignition, all delay formulas weighted: {{.Asked}} as commanded, {{.Lands}} as it actually is.")
	if p.u.Supposes() {
		lands = "Probability of ignition, all delay formulas weighted: {{.Asked}} as commanded, {{.Lands}} with the what-if."
	}
	return with(lands,
		map[string]any{"Asked": chance(c[0]), "Lands": chance(c[1])})
}

// chance writes a probability with the error that so many draws leave in it.
func chance(c finding.LightCase) string {
	percent := func(v float64) phrase.Num { return phrase.Num{Value: 100 * v, Decimals: 1} }
	switch p := *c.Probability; {
	case p > 0.999:
		return tr("over 99.9 %")
	case p < 0.001:
		return tr("under 0.1 %")
	default:
		return with("{{.P}} ± {{.U}} %", map[string]any{"P": percent(p), "U": percent(*c.ProbabilityU)})
	}
}
