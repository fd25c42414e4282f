package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/piston"
)

// explain fills in the sentences but for the first, which [Light.say] makes.
func (l *Light) explain(chosen piston.Correlation) {
	l.Notes = l.notes(chosen)
	l.Assumptions = l.basis.assumptions(chosen)
}

// The finding, and what stands in it: the band of starts that it wants, where
// injection lands, and what can be said of that.
const (
	lightSays = "At {{.RPM}} rpm and {{.Air}} {{.Window}}; yours lands {{.Where}}: {{.Verdict}}"

	lightWantsBefore = "this engine wants injection from {{.Early}}° to {{.Late}}° before TDC"
	lightWantsAt     = "this engine wants injection from {{.Early}}° before TDC to TDC"
	lightWantsAfter  = "this engine wants injection from {{.Early}}° before TDC to {{.Late}}° after TDC"
	lightWantsNone   = "this engine lights from no start of injection"

	lightAtBefore = "{{.At}}° before TDC"
	lightAtAfter  = "{{.At}}° after TDC"

	lightShould   = "it should light."
	lightMay      = "it may light or not."
	lightUnlikely = "ignition there is unlikely."
	lightTooEarly = "it lights too early and may kick back."
	lightTooCold  = "that is too early, the air is still cold and the fuel wets the walls."
)

var lightSayTexts = []string{lightSays, lightWantsBefore, lightWantsAt, lightWantsAfter, lightWantsNone, lightAtBefore, lightAtAfter,
	lightShould, lightMay, lightUnlikely, lightTooEarly, lightTooCold}

// say makes the answer in a sentence, on its condition where there is one.
func (l *Light) say() {
	l.Says = l.basis.conditional(l.says())
	l.Says = supposingSays(l.job, l.Says, supposedWheel, supposedTeeth, supposedAir, supposedKPa, supposedRPM, supposedRatio)
}

func (l Light) says() Sentence {
	start := -l.basis.start(l.basis.actual) // round the firing TDC
	window := Sentence{Text: lightWantsNone}
	if w := l.Window; w != nil {
		late := timing.Deg(w.LateBTDCDeg)
		window = Sentence{placed(late, lightWantsBefore, lightWantsAt, lightWantsAfter), map[string]any{"Early": deg(timing.Deg(w.EarlyBTDCDeg)), "Late": deg(size(late))}}
	}
	where := Sentence{placed(start, lightAtBefore, whereAt, lightAtAfter), map[string]any{"At": deg(size(start))}}
	return Sentence{lightSays, map[string]any{"RPM": Num{l.RPM, 0}, "Air": celsius(l.AirC, 1), "Window": window, "Where": where,
		"Verdict": Sentence{Text: l.verdict(start)}}}
}

// placed is the text for an angle before TDC, at it or after it, as it will be
// written.
func placed(btdc timing.Deg, before, at, after string) string {
	switch {
	case deg(btdc).String() == "0":
		return at
	case btdc < 0:
		return after
	}
	return before
}

// How probable lighting must be at least for "it should light", and at most for
// "ignition is unlikely"; between, it may light or not. Without draws, the shares of
// the correlations that light it stand for it. Our choice.
const shouldLight, unlikelyLight = 0.8, 0.25

// verdict is what can be said of the injection that lands: that it should light, or
// that it is unlikely to, only where the estimate, all of the wheel error's 95 %
// interval and the probability agree.
func (l Light) verdict(start timing.Deg) string {
	actual := l.Cases[1]
	p := actual.litShare()
	if actual.Probability != nil {
		p = *actual.Probability
	}
	likely, unlikely := p >= shouldLight, p <= unlikelyLight
	half := timing.Deg(1.96) * l.basis.wheel.U
	inside, outside := false, true // all of the interval in the window, or none of it
	if w := l.Window; w != nil {
		early, late := timing.Deg(w.EarlyBTDCDeg), timing.Deg(w.LateBTDCDeg)
		inside = start+half <= early && start-half >= late
		outside = start-half > early || start+half < late
	}
	switch {
	case actual.Lights && actual.KickBack && outside:
		return lightTooEarly
	case actual.Lights && inside && likely:
		return lightShould
	case actual.Wets && l.Window != nil && outside && unlikely:
		return lightTooCold
	case !actual.Lights && outside && unlikely:
		return lightUnlikely
	}
	return lightMay
}

// The notes, in the order in which they are given.
const (
	lightPromise = "This compares two timings and promises no start."
	lightErrors  = "A wheel error between {{.From}}° and {{.To}}° leaves injection in the window."
	lightKick    = "Fuel that lights more than {{.Limit}}° before TDC can throw a cranked engine back (common practice): injection earlier than {{.Early}}° before TDC does that here."
	lightKickNow = "Injected there it lights {{.At}}° before TDC. Do not crank: the engine may kick back."
	lightColdEnd = "Earlier than {{.Early}}° before TDC the air is colder than {{.C}}: fuel only wets the cylinder. That is what limits the early side; colder air moves it later."
	lightSeenRPM = "The cranking speed is the one that was seen, {{.RPM}} rpm."
	lightShare   = "Over all that is in doubt, {{.Asked}} of 100 such engines would light where injection is asked for, {{.Lands}} of 100 where it lands."

	lightIfDrawn   = "If the sensor wheel is as drawn: {{.Says}}"
	lightIfCarried = "If the dowel was set out from that keyway: {{.Says}}"
	lightIfMost    = "If the sensor wheel is where it most probably is ({{.P}} %): {{.Says}}"
	lightDisputed  = "By the dowel alone, which what was seen speaks against: {{.Says}}"
	lightLate      = "It lights only {{.At}}° after TDC, where it hardly pushes the piston: white smoke rather than a start (common practice)."
	lightOpen      = "Injection lands while a valve is open: the fuel goes where the air goes."
	lightSpread    = "Of {{.Of}} published correlations {{.Asked}} light it where injection is asked for, {{.Lands}} where it lands. They differ severalfold at cranking: the spread is part of the answer."
	lightOutside   = "Where injection lands the gas is {{.Place}} of {{.Title}}: its delay there is a guess beyond what was measured."
	lightGaugeHigh = "The compression gauge's {{.Bar}} is more than air can reach here without losing any heat. Check the compression ratio, the valve times and the gauge."
	lightGaugeLow  = "By the compression gauge {{.Leak}} % of the charge is lost past rings and valves by TDC at {{.RPM}} rpm. The volume of the gauge and its adapter is not allowed for; it makes the reading low and the loss look larger."
	lightGaugeRPM  = "A speed of the compression gauge is given without its reading; it was not used."
)

var lightNoteTexts = []string{
	lightPromise, lightErrors, lightKick, lightKickNow, lightColdEnd, lightSeenRPM, lightShare, lightIfDrawn, lightIfCarried, lightIfMost, lightDisputed, lightLate, lightOpen, lightSpread, lightOutside,
	lightGaugeHigh, lightGaugeLow, lightGaugeRPM,
}

func (l Light) notes(chosen piston.Correlation) []Sentence {
	b, actual := l.basis, l.Cases[1]
	list := []Sentence{{Text: lightPromise}}
	add := func(text string, data map[string]any) { list = append(list, Sentence{text, data}) }
	if b.errs.basis == known.Assumed {
		add(noteAssumed, nil)
	}
	if b.seenRPM {
		add(lightSeenRPM, map[string]any{"RPM": Num{b.running.RPM, 0}})
	}
	if actual.KickBack {
		add(lightKickNow, map[string]any{"At": deg(timing.Deg(*actual.LightsAt))})
	}
	if !actual.Closed {
		add(lightOpen, nil)
	}
	if actual.lateLight {
		add(lightLate, map[string]any{"At": deg(timing.Deg(-*actual.LightsAt))})
	}
	if w := l.Window; w != nil {
		add(lightErrors, map[string]any{"From": deg(timing.Deg(w.ErrorFromDeg)), "To": deg(timing.Deg(w.ErrorToDeg))})
		early := deg(timing.Deg(w.EarlyBTDCDeg))
		switch w.EarlyLimit {
		case piston.ByKickBack.String():
			add(lightKick, map[string]any{"Limit": deg(piston.KickBack), "Early": early})
		case piston.ByCold.String():
			add(lightColdEnd, map[string]any{"Early": early, "C": celsius(piston.SprayK-273.15, 0)})
		}
	}
	add(lightSpread, map[string]any{"Of": len(actual.ByAll), "Asked": l.Cases[0].LitBy, "Lands": actual.LitBy})
	if place := chosen.InRange(piston.Gas{K: actual.GasK, Bar: actual.GasBar}); place != piston.Inside {
		add(lightOutside, map[string]any{"Place": Term(place.String()), "Title": chosen.Title})
	}
	switch {
	case b.gauge != nil && b.reading == piston.BeyondAirtight:
		add(lightGaugeHigh, map[string]any{"Bar": bar(b.gauge.Bar, 1)})
	case b.gauge != nil && b.reading == piston.LeakReading:
		add(lightGaugeLow, map[string]any{"Leak": Num{100 * leakShare(b.charge.LogLeak), 0}, "RPM": Num{b.running.RPM, 0}})
	}
	if b.idleGaugeRPM {
		add(lightGaugeRPM, nil)
	}
	return list
}

// litShare is how much of the choice of a correlation goes to those that light it.
func (c LightCase) litShare() float64 {
	sum := 0.0
	for _, k := range piston.Correlations() {
		for _, by := range c.ByAll {
			if by.Correlation == k.Name && *by.Lights {
				sum += k.Share
			}
		}
	}
	return sum
}

// share is how often it lights, in numbers that can be weighed.
func (l Light) share() Sentence {
	of := func(p float64) Num { return Num{Value: 100 * p} }
	return Sentence{lightShare, map[string]any{"Asked": of(*l.Cases[0].Probability), "Lands": of(*l.Cases[1].Probability)}}
}

// conditional puts the condition in front on which an answer about the injection that
// lands holds, where nobody has measured the wheel or what was seen leaves it open.
func (b lightBasis) conditional(says Sentence) Sentence {
	data := map[string]any{"Says": says}
	switch {
	case b.errs.doubt == disputed:
		return Sentence{lightDisputed, data}
	case b.errs.doubt == branching:
		data["P"] = b.errs.chance()
		return Sentence{lightIfMost, data}
	case b.errs.basis == known.Assumed && b.errs.wheel.Value != 0:
		return Sentence{lightIfCarried, data}
	case b.errs.basis == known.Assumed:
		return Sentence{lightIfDrawn, data}
	}
	return says
}

// known is the weakest of what the estimate stands on: the wheel error, and what the
// job says or has to be assumed of air, fuel and valves.
func (b lightBasis) known(j job.Job) known.Basis {
	list := []known.Basis{b.errs.basis}
	for _, given := range []bool{b.given.air, b.given.kpa, b.given.cetane, b.given.closes, b.given.opens} {
		if given {
			list = append(list, known.Stated)
		} else {
			list = append(list, known.Assumed)
		}
	}
	if j.Supposed != nil {
		list = append(list, known.Supposed)
	}
	return known.Weakest(list...)
}
