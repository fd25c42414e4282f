package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/piston"
)

// explain fills in the sentences.
func (l *Light) explain(chosen piston.Correlation) {
	l.Says = l.says()
	l.Notes = l.notes(chosen)
	l.Assumptions = l.basis.assumptions(chosen)
}

// lightKey picks the finding's sentence.
type lightKey struct {
	window  string // where its late end lies with regard to TDC: "before", "at", "after"; "none"
	place   string // where injection lands
	verdict string // "lights", "dark", "kick" or "cold"
}

// lightSaying are the findings, whole sentences for each case; they are put
// together from the same parts here only, in English.
var lightSaying = func() map[lightKey]string {
	windows := map[string]string{
		"before": "lights with injection from {{.Early}}° to {{.Late}}° before TDC",
		"at":     "lights with injection from {{.Early}}° before TDC to TDC",
		"after":  "lights with injection from {{.Early}}° before TDC to {{.Late}}° after TDC",
		"none":   "lights from no start of injection",
	}
	places := map[string]string{"before": "{{.At}}° before TDC", "at": "at TDC", "after": "{{.At}}° after TDC"}
	verdicts := map[string]string{
		"lights": "it should light.",
		"dark":   "it will not light.",
		"kick":   "it lights too early and may kick back.",
		"cold":   "that is too early, the air is still cold.",
	}
	list := map[lightKey]string{}
	for w, window := range windows {
		for at, place := range places {
			for v, verdict := range verdicts {
				if early := v == "kick" || v == "cold"; early && (at != "before" || w == "none") {
					continue // nothing after TDC comes too early
				}
				list[lightKey{w, at, v}] = "At {{.RPM}} rpm and {{.Air}} this engine " + window + "; yours lands " + place + ": " + verdict
			}
		}
	}
	return list
}()

func (l Light) says() Sentence {
	actual := l.Cases[1]
	start := -l.basis.start(l.basis.actual) // round the firing TDC
	k := lightKey{"none", place(start), "dark"}
	data := map[string]any{"RPM": Num{l.RPM, 0}, "Air": celsius(l.AirC, 1), "At": deg(size(start))}
	if w := l.Window; w != nil {
		late := timing.Deg(w.LateBTDCDeg)
		k.window = place(late)
		data["Early"], data["Late"] = deg(timing.Deg(w.EarlyBTDCDeg)), deg(size(late))
	}
	switch {
	case actual.Lights && (actual.InWindow || l.Window == nil || k.place != "before"):
		k.verdict = "lights"
	case actual.Lights && actual.KickBack:
		k.verdict = "kick"
	case actual.Lights:
		k.verdict = "cold"
	}
	return Sentence{lightSaying[k], data}
}

// place says on which side of TDC an angle before it lies, as it will be
// written.
func place(btdc timing.Deg) string {
	switch {
	case deg(btdc).String() == "0":
		return "at"
	case btdc < 0:
		return "after"
	}
	return "before"
}

// The notes, in the order in which they are given.
const (
	lightPromise   = "This compares two timings and promises no start."
	lightErrors    = "A wheel error between {{.From}}° and {{.To}}° leaves injection in the window."
	lightKick      = "Fuel that lights more than {{.Limit}}° before TDC can throw a cranked engine back (common practice): injection earlier than {{.Early}}° before TDC does that here."
	lightKickNow   = "Injected there it lights {{.At}}° before TDC. Do not crank: the engine may kick back."
	lightColdEnd   = "Earlier than {{.Early}}° before TDC the air is colder than {{.C}}: fuel only wets the cylinder."
	lightLate      = "It lights only {{.At}}° after TDC, where it hardly pushes the piston: white smoke rather than a start (common practice)."
	lightOpen      = "Injection lands while a valve is open: the fuel goes where the air goes."
	lightSpread    = "Of {{.Of}} published correlations {{.Asked}} light it where injection is asked for, {{.Lands}} where it lands. They differ severalfold at cranking: the spread is part of the answer."
	lightOutside   = "Where injection lands the gas is {{.Place}} of {{.Title}}: its delay there is a guess beyond what was measured."
	lightGaugeHigh = "The compression gauge's {{.Bar}} is more than air can reach here without losing any heat. Check the compression ratio, the valve times and the gauge."
	lightGaugeLow  = "By the compression gauge {{.Leak}} % of the charge is lost past rings and valves by TDC at {{.RPM}} rpm. The volume of the gauge and its adapter is not allowed for; it makes the reading low and the loss look larger."
	lightGaugeRPM  = "A speed of the compression gauge is given without its reading; it was not used."
)

var lightNoteTexts = []string{
	lightPromise, lightErrors, lightKick, lightKickNow, lightColdEnd, lightLate, lightOpen, lightSpread, lightOutside,
	lightGaugeHigh, lightGaugeLow, lightGaugeRPM,
}

func (l Light) notes(chosen piston.Correlation) []Sentence {
	b, actual := l.basis, l.Cases[1]
	list := []Sentence{{Text: lightPromise}}
	add := func(text string, data map[string]any) { list = append(list, Sentence{text, data}) }
	if b.assumedWheel {
		add(noteAssumed, nil)
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
