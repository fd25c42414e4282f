package finding

import (
	"context"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/piston"
)

// LightOptions are the reader's choices for a light-off estimate: what a slider
// holds goes before what the job says.
type LightOptions struct {
	Correlation      string // by name; "" is the default
	AirC, RPM, Ratio *float64
	WheelErrorDeg    *float64
}

// Light is whether fuel lights where injection is asked for and where it really
// lands. Angles are crank degrees before firing top dead centre, negative after
// it. It is an estimate that compares timings and promises no start.
type Light struct {
	Cases []LightCase `json:"cases"` // commanded, actual

	RPM           float64      `json:"rpm"`
	AirC          float64      `json:"air_c"`
	WheelErrorDeg float64      `json:"wheel_error_deg"`
	Basis         string       `json:"basis"`       // the weakest of what it stands on; see [known.Basis]
	Correlation   string       `json:"correlation"` // the one the cases are by
	Window        *LightWindow `json:"window"`      // null when nothing lights
	ByCorrelation []LightBy    `json:"by_correlation"`

	Exponent   float64 `json:"polytropic_exponent"`
	LeakShare  float64 `json:"leak_share"` // of the charge gone at top dead centre
	HottestK   float64 `json:"hottest_k"`
	HighestBar float64 `json:"highest_bar"`
	ClosesBTDC float64 `json:"cylinder_closes_btdc_deg"`
	OpensATDC  float64 `json:"cylinder_opens_atdc_deg"`

	Draws int    `json:"draws"` // 0: probabilities were not drawn
	Seed  uint64 `json:"seed"`

	Says        phrase.Sentence   `json:"-"` // what it comes to
	Notes       []phrase.Sentence `json:"-"` // what must be known beside it
	Assumptions []phrase.Sentence `json:"-"` // what it rests on
	Path        piston.Path       `json:"-"` // the gas at every angle
	basis       lightBasis
	table       piston.Integral
	job         job.Job
}

// LightCase is one start of injection by the chosen correlation.
type LightCase struct {
	Name         string   `json:"name"` // "commanded" or "actual"
	StartBTDCDeg float64  `json:"start_btdc_deg"`
	GasK         float64  `json:"gas_k"`   // at the start of injection; while a valve is open, at its closing or opening
	GasBar       float64  `json:"gas_bar"` // absolute
	DelayMS      *float64 `json:"delay_ms"`
	DelayDeg     *float64 `json:"delay_deg"`
	Lights       bool     `json:"lights"`
	LightsAt     *float64 `json:"lights_at_btdc_deg"`
	Probability  *float64 `json:"probability"`    // null before [Light.Drawn]
	ProbabilityU *float64 `json:"probability_se"` // standard error of so many draws

	Integral  float64   `json:"integral"`       // reached when the exhaust opens; 1 lights
	Wets      bool      `json:"only_wets"`      // injected before the air is warm enough: see [piston.SprayK]
	Closed    bool      `json:"valves_closed"`  // at the start of injection
	InWindow  bool      `json:"in_window"`      // see Light.Window
	KickBack  bool      `json:"kick_back"`      // lights long before top dead centre
	GasIs     string    `json:"gas_is"`         // with regard to the correlation's data
	LitBy     int       `json:"lit_by"`         // so many of all correlations
	ByAll     []LightBy `json:"by_correlation"` // each on its own
	lateLight bool
}

// LightBy is what one correlation says: of a case, or of the engine's window.
type LightBy struct {
	Correlation string       `json:"correlation"`
	Title       string       `json:"title"`
	Source      string       `json:"source,omitempty"`
	Lights      *bool        `json:"lights,omitempty"`
	DelayMS     *float64     `json:"delay_ms,omitempty"`
	LightsAt    *float64     `json:"lights_at_btdc_deg,omitempty"`
	GasIs       string       `json:"gas_is,omitempty"`
	Window      *LightWindow `json:"window,omitempty"`
}

// Gas is GasIs as a term.
func (l LightBy) Gas() phrase.Text {
	for p := piston.Inside; p <= piston.HigherPressure; p++ {
		if p.String() == l.GasIs {
			return p.Text()
		}
	}
	return ""
}

// LightWindow is the band of starts of injection that light, and the wheel
// errors that lead into it.
type LightWindow struct {
	EarlyBTDCDeg float64 `json:"early_btdc_deg"`
	LateBTDCDeg  float64 `json:"late_btdc_deg"`
	EarlyLimit   string  `json:"early_limit"` // "cold", "kick-back" or "closing"
	ErrorFromDeg float64 `json:"wheel_error_from_deg"`
	ErrorToDeg   float64 `json:"wheel_error_to_deg"`
}

// lateLight is how long after top dead centre fuel must have lit to push the
// piston well: common practice, no source.
const lateLight timing.Deg = 20

// LightOf returns the estimate without its probabilities: one path of the gas
// and five integrals along it, quick enough for every frame of a slider's drag.
// It needs bore, stroke, rod, compression ratio, start of injection and cranking
// speed; for the rest it states what it assumed.
func LightOf(j job.Job, o LightOptions) (Light, error) {
	if j.Supposed == nil {
		j = Suppose(j, WhatIf{WheelErrorDeg: o.WheelErrorDeg, AirC: o.AirC, CrankingRPM: o.RPM, CompressionRatio: o.Ratio})
	}
	b, err := basisOf(j, o)
	if err != nil {
		return Light{}, err
	}
	chosen, ok := piston.CorrelationNamed(o.Correlation)
	if !ok {
		chosen = piston.Correlations()[0]
	}
	p := b.charge.Path()
	_, hottest := p.Hottest()
	l := Light{
		Basis: b.known(j).String(), RPM: b.running.RPM, AirC: b.airC, WheelErrorDeg: round(float64(b.wheel.Value)), Correlation: chosen.Name,
		Exponent: round(b.charge.Exponent), LeakShare: round(leakShare(b.charge.LogLeak)),
		HottestK: round(hottest.K), HighestBar: round(hottest.Bar),
		ClosesBTDC: round(-float64(b.charge.Closes)), OpensATDC: round(float64(b.charge.Opens)),
		Path: p, basis: b, Cases: []LightCase{{Name: "commanded"}, {Name: "actual"}},
	}
	starts := []timing.Deg{b.commanded, b.actual}
	for _, c := range piston.Correlations() {
		table := p.Integral(c, b.running)
		window := b.window(p, table)
		if c.Name == chosen.Name {
			l.table, l.Window = table, window
		}
		l.ByCorrelation = append(l.ByCorrelation, LightBy{Correlation: c.Name, Title: c.Title, Source: c.Source, Window: window})
		for i := range l.Cases {
			l.Cases[i].by(b, p, table, c, starts[i])
		}
	}
	for i := range l.Cases {
		l.Cases[i].settle(b, p, l.table, chosen, starts[i], l.Window)
	}
	l.explain(chosen)
	l.job = j
	l.Notes = append(l.Notes, doubtful(j)...)
	l.say()
	return l, nil
}

// window is one correlation's, nil when nothing lights.
func (b lightBasis) window(p piston.Path, t piston.Integral) *LightWindow {
	w, ok := p.Window(t)
	if !ok {
		return nil
	}
	early, late := float64(-w.Early), float64(-w.Late)
	return &LightWindow{
		EarlyBTDCDeg: round(early), LateBTDCDeg: round(late), EarlyLimit: w.Limit.String(),
		ErrorFromDeg: round(late - float64(b.commanded)), ErrorToDeg: round(early - float64(b.commanded)),
	}
}

// by adds what one correlation says of the case.
func (c *LightCase) by(b lightBasis, p piston.Path, t piston.Integral, k piston.Correlation, btdc timing.Deg) {
	start := b.start(btdc)
	at, lights := p.Lights(t, start)
	one := LightBy{Correlation: k.Name, Title: k.Title, Lights: &lights, GasIs: k.InRange(p.At(start)).String()}
	if lights {
		one.LightsAt, one.DelayMS = number(-float64(at)), number(b.milliseconds(at-start))
		c.LitBy++
	}
	c.ByAll = append(c.ByAll, one)
}

func number(v float64) *float64 {
	v = round(v)
	return &v
}

// milliseconds is how long an angle lasts.
func (b lightBasis) milliseconds(d timing.Deg) float64 { return float64(d) / (0.006 * b.running.RPM) }

// settle fills the case in by the chosen correlation.
func (c *LightCase) settle(b lightBasis, p piston.Path, t piston.Integral, k piston.Correlation, btdc timing.Deg, w *LightWindow) {
	start := b.start(btdc)
	gas := p.At(start)
	c.StartBTDCDeg, c.GasK, c.GasBar = round(float64(btdc)), round(gas.K), round(gas.Bar)
	c.Integral, c.Closed, c.GasIs = round(t.Reached(start)), p.Holds(start), k.InRange(gas).String()
	at, lights := p.Lights(t, start)
	c.Wets = p.Wets(start)
	c.Lights = lights
	if lights {
		c.LightsAt, c.DelayDeg = number(-float64(at)), number(float64(at-start))
		c.DelayMS = number(b.milliseconds(at - start))
		c.KickBack = at < -piston.KickBack
		c.lateLight = at > lateLight
	}
	before := round(-float64(start))
	c.InWindow = lights && w != nil && before <= w.EarlyBTDCDeg && before >= w.LateBTDCDeg
}

// Drawn returns the estimate with the probability that each case lights, drawn
// over what is not known: see the assumptions. The same seed gives the same
// probabilities. It ends early with the context's error.
func (l Light) Drawn(ctx context.Context, draws int, seed uint64) (Light, error) {
	tally, err := l.uncertain().Sampler().Chances(ctx, draws, seed)
	if err != nil {
		return Light{}, err
	}
	l.Cases = append([]LightCase(nil), l.Cases...)
	for i := range l.Cases {
		p, u := tally.Chance(i)
		l.Cases[i].Probability, l.Cases[i].ProbabilityU = number(p), number(u)
	}
	l.Draws, l.Seed = tally.Draws, seed
	l.Notes = append(l.Notes[:len(l.Notes):len(l.Notes)], l.share())
	l.say()
	return l, nil
}

func (l Light) uncertain() piston.Uncertain {
	b := l.basis
	return piston.Uncertain{
		Charge: b.charge, Running: b.running, Doubt: b.doubt, Gauge: b.gauge, Heat: b.heat, Isentropic: b.isentropic,
		Starts: []piston.Start{{At: b.start(b.commanded)}, {At: b.start(b.actual), U: b.wheel.U}},
	}
}
