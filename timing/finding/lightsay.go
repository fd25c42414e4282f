package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/phrase"
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
	lightSays phrase.Text = "At {{.RPM}} rpm and {{.Air}} {{.Window}}; yours starts {{.Where}}: {{.Verdict}}"

	lightWantsBefore phrase.Text = "this engine needs injection to start from {{.Early}}° to {{.Late}}° before TDC"
	lightWantsAt     phrase.Text = "this engine needs injection to start from {{.Early}}° before TDC to TDC"
	lightWantsAfter  phrase.Text = "this engine needs injection to start from {{.Early}}° before TDC to {{.Late}}° after TDC"
	lightWantsNone   phrase.Text = "no start of injection is sure to ignite"

	lightAtBefore phrase.Text = "{{.At}}° before TDC"
	lightAtAfter  phrase.Text = "{{.At}}° after TDC"

	lightShould   phrase.Text = "ignition is likely."
	lightMay      phrase.Text = "ignition is possible."
	lightUnlikely phrase.Text = "ignition is unlikely."
	lightTooEarly phrase.Text = "ignition is likely, but so early that the engine may kick back."
	lightTooCold  phrase.Text = "that is too early: the air is still cold and the fuel wets the walls."
)

// say makes the answer in a sentence, on its condition where there is one.
func (l *Light) say() {
	l.Says = l.basis.conditional(l.says())
	l.Says = supposingSays(l.job, l.Says, supposedWheel, supposedTeeth, supposedAir, supposedKPa, supposedRPM, supposedRatio)
}

func (l Light) says() phrase.Sentence {
	start := -l.basis.start(l.basis.actual) // round the firing TDC
	window := phrase.Sentence{Text: lightWantsNone}
	if w := l.Window; w != nil {
		late := timing.Deg(w.LateBTDCDeg)
		window = phrase.Sentence{Text: placed(late, lightWantsBefore, lightWantsAt, lightWantsAfter), Data: map[string]any{"Early": deg(timing.Deg(w.EarlyBTDCDeg)), "Late": deg(size(late))}}
	}
	where := phrase.Sentence{Text: placed(start, lightAtBefore, whereAt, lightAtAfter), Data: map[string]any{"At": deg(size(start))}}
	return phrase.Sentence{Text: lightSays, Data: map[string]any{"RPM": phrase.Num{Value: l.RPM}, "Air": celsius(l.AirC, 1), "Window": window, "Where": where,
		"Verdict": phrase.Sentence{Text: l.verdict(start)}}}
}

// placed is the text for an angle before TDC, at it or after it, as it will be
// written.
func placed(btdc timing.Deg, before, at, after phrase.Text) phrase.Text {
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
func (l Light) verdict(start timing.Deg) phrase.Text {
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
	lightPromise phrase.Text = "This compares two injection timings and does not promise a start."
	lightErrors  phrase.Text = "A wheel error between {{.From}}° and {{.To}}° leaves injection within the limits for ignition."
	lightKick    phrase.Text = "Fuel that ignites more than {{.Limit}}° before TDC can make the engine kick back while cranking (rule of thumb): injection earlier than {{.Early}}° before TDC does that here."
	lightKickNow phrase.Text = "Injected there it ignites {{.At}}° before TDC. Do not crank: the engine may kick back."
	lightColdEnd phrase.Text = "Earlier than {{.Early}}° before TDC the air is colder than {{.C}}: fuel only wets the cylinder. That is what limits the early side; colder air moves it later."
	lightSeenRPM phrase.Text = "The cranking speed is the one recorded as evidence, {{.RPM}} rpm."
	lightShare   phrase.Text = "Over all these uncertainties, the probability of ignition is {{.Asked}} % at the start commanded, {{.Lands}} % at the actual start."

	lightIfDrawn   phrase.Text = "If the sensor wheel is as drawn: {{.Says}}"
	ifDrawn        phrase.Text = "If the sensor wheel is as drawn: {{.Says}}"
	ifCarried      phrase.Text = "If the dowel was set out from that keyway: {{.Says}}"
	lightIfMost    phrase.Text = "If the sensor wheel is where it most probably is ({{.P}} %): {{.Says}}"
	lightDisputed  phrase.Text = "By the dowel alone, which other findings contradict: {{.Says}}"
	lightLate      phrase.Text = "It ignites only {{.At}}° after TDC, where it hardly pushes the piston: white smoke rather than a start (rule of thumb)."
	lightOpen      phrase.Text = "A valve is open when injection starts: the fuel goes where the air goes."
	lightSpread    phrase.Text = "By {{.Asked}} of {{.Of}} published delay formulas fuel ignites at the start commanded, by {{.Lands}} at the actual start. They differ severalfold while cranking: the spread is part of the answer."
	lightOutside   phrase.Text = "At the actual start of injection the gas is {{.Place}} of {{.Title}}: its delay there is a guess beyond what was measured."
	lightGaugeHigh phrase.Text = "The compression gauge's {{.Bar}} is more than air can reach here without losing any heat. Check the compression ratio, the valve timing and the gauge."
	lightGaugeLow  phrase.Text = "By the compression gauge {{.Leak}} % of the charge is lost past rings and valves by TDC at {{.RPM}} rpm. The volume of the gauge and its adapter is not allowed for; it makes the reading low and the loss look larger."
	lightGaugeRPM  phrase.Text = "A speed of the compression gauge is given without its reading; it was not used."
)

func (l Light) notes(chosen piston.Correlation) []phrase.Sentence {
	b, actual := l.basis, l.Cases[1]
	list := []phrase.Sentence{{Text: lightPromise}}
	add := func(text phrase.Text, data map[string]any) {
		list = append(list, phrase.Sentence{Text: text, Data: data})
	}
	if b.errs.basis == known.Assumed {
		add(noteAssumed, nil)
	}
	if b.seenRPM {
		add(lightSeenRPM, map[string]any{"RPM": phrase.Num{Value: b.running.RPM}})
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
		add(lightOutside, map[string]any{"Place": place.Text(), "Title": chosen.Title})
	}
	switch {
	case b.gauge != nil && b.reading == piston.BeyondAirtight:
		add(lightGaugeHigh, map[string]any{"Bar": bar(b.gauge.Bar, 1)})
	case b.gauge != nil && b.reading == piston.LeakReading:
		add(lightGaugeLow, map[string]any{"Leak": phrase.Num{Value: 100 * leakShare(b.charge.LogLeak)}, "RPM": phrase.Num{Value: b.running.RPM}})
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
func (l Light) share() phrase.Sentence {
	of := func(p float64) phrase.Num { return phrase.Num{Value: 100 * p} }
	return phrase.Sentence{Text: lightShare, Data: map[string]any{"Asked": of(*l.Cases[0].Probability), "Lands": of(*l.Cases[1].Probability)}}
}

// conditional puts the condition in front on which an answer about the injection that
// lands holds, where nobody has measured the wheel or what was seen leaves it open.
func (b lightBasis) conditional(says phrase.Sentence) phrase.Sentence {
	data := map[string]any{"Says": says}
	switch {
	case b.errs.doubt == disputed:
		return phrase.Sentence{Text: lightDisputed, Data: data}
	case b.errs.doubt == branching:
		data["P"] = b.errs.chance()
		return phrase.Sentence{Text: lightIfMost, Data: data}
	case b.errs.basis == known.Assumed && b.errs.wheel.Value != 0:
		return phrase.Sentence{Text: ifCarried, Data: data}
	case b.errs.basis == known.Assumed:
		return phrase.Sentence{Text: lightIfDrawn, Data: data}
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
