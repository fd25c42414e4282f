package finding

import (
	"math"

	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/piston"
	"pinphase.org/pinphase/timing/quantity"
)

// What the estimate rests on, in the order in which it is given. Standard
// uncertainties are what the probabilities are drawn over.
const (
	assumeDelay     phrase.Text = "Ignition delay: {{.Title}}, added up along the compression (Livengood and Wu 1955), to within a factor of {{.Factor}} (assumption). Source: {{.Source}}."
	assumeCetaneIn  phrase.Text = "Cetane {{.Cetane}} ± {{.U}}; the delay formula contains cetane."
	assumeCetaneOut phrase.Text = "Cetane {{.Cetane}} ± {{.U}}; the delay formula does not contain cetane, so its delay is multiplied by 75/(cetane + 25), drawn from not at all to twice as strongly (assumption)."
	assumeExponent  phrase.Text = "Compression: polytropic exponent {{.N}} ± {{.U}} for heat and leak together (Heywood 1988; not checked against the source). Without any loss it would be {{.Most}}."
	assumeOwn       phrase.Text = "Compression: polytropic exponent {{.N}} ± {{.U}} from the job. Without any loss it would be {{.Most}}."
	assumeGauge     phrase.Text = "Compression from the gauge, {{.Bar}} ± {{.U}} gauge pressure at {{.GaugeRPM}} rpm, used as the highest pressure: tight, with exponent {{.N}} at {{.RPM}} rpm. Without any loss it would be {{.Most}}."
	assumeLeak      phrase.Text = "Compression from the gauge, {{.Bar}} ± {{.U}} gauge pressure at {{.GaugeRPM}} rpm, used as the highest pressure: what an exponent of {{.Heat}} for heat does not explain has leaked. At {{.RPM}} rpm that is exponent {{.N}}, and {{.Leak}} % of the charge lost by TDC."
	assumeCarried   phrase.Text = "From {{.From}} to {{.To}} rpm the leak is converted as 1/rpm, the loss of heat as a power of the speed between {{.Low}} and {{.High}} (assumption)."
	assumeAir       phrase.Text = "Air when the intake valve closes: {{.Air}} outside and {{.Heat}} ± {{.U}} from walls and residual gas, at {{.KPa}} ± {{.Share}} % (assumption)."
	assumeNoAir     phrase.Text = "The air temperature was not given: {{.Air}} ± {{.U}} was assumed."
	assumeNoKPa     phrase.Text = "The air pressure was not given: {{.KPa}} was assumed."
	assumeNoCetane  phrase.Text = "Cetane was not given: {{.Cetane}} was assumed (EN 590 requires at least 51)."
	assumeNoCloses  phrase.Text = "When the intake closes was not given: {{.At}}° after BDC was assumed."
	assumeNoOpens   phrase.Text = "When the exhaust opens was not given: {{.At}}° before BDC was assumed."
	assumeCamAhead  phrase.Text = "The camshaft is {{.By}}° ahead: intake and exhaust are reckoned that much earlier than the job's times."
	assumeCamBehind phrase.Text = "The camshaft is {{.By}}° behind: intake and exhaust are reckoned that much later than the job's times."
	assumeSpeed     phrase.Text = "The crankshaft is assumed to turn evenly at {{.RPM}} rpm ± {{.U}} %; a starter slows at each compression, which leaves fuel more time."
	assumeNoHelp    phrase.Text = "No glow plug, heated air or starting fluid; the injector delivers a good spray."
	assumeDraws     phrase.Text = "Probabilities are drawn over all these uncertainties, the wheel error and the choice of delay formula: {{.Own}} % of the draws use {{.Title}}, the rest the others (assumption)."
)

func (b lightBasis) assumptions(chosen piston.Correlation) []phrase.Sentence {
	var list []phrase.Sentence
	add := func(text phrase.Text, data map[string]any) {
		list = append(list, phrase.Sentence{Text: text, Data: data})
	}
	add(assumeDelay, map[string]any{"Title": chosen.Title, "Source": chosen.Source, "Factor": phrase.Num{Value: math.Exp(b.doubt.Scatter), Decimals: 2}})
	b.assumedCompression(add)
	add(assumeAir, map[string]any{"Air": celsius(b.airC, 1), "Heat": celsius(heatingC, 0).Wide(), "U": celsius(heatingU, 0).Wide(),
		"KPa": quantity.Air(100*b.charge.AtClosing.Bar, 1), "Share": phrase.Num{Value: 100 * airShareU}})
	if !b.given.air {
		add(assumeNoAir, map[string]any{"Air": celsius(b.airC, 1), "U": celsius(defaultAirU, 0).Wide()})
	}
	if !b.given.kpa {
		add(assumeNoKPa, map[string]any{"KPa": quantity.Air(defaultAirKPa, 1)})
	}
	cetane := assumeCetaneOut
	if chosen.HasCetane() {
		cetane = assumeCetaneIn
	}
	add(cetane, map[string]any{"Cetane": phrase.Num{Value: b.running.Cetane, Decimals: 1}, "U": phrase.Num{Value: b.doubt.Cetane}})
	if !b.given.cetane {
		add(assumeNoCetane, map[string]any{"Cetane": phrase.Num{Value: defaultCetane}})
	}
	if !b.given.closes {
		add(assumeNoCloses, map[string]any{"At": deg(b.charge.Closes + b.cam + 180)})
	}
	if !b.given.opens {
		add(assumeNoOpens, map[string]any{"At": deg(180 - b.charge.Opens - b.cam)})
	}
	if b.cam != 0 {
		text := assumeCamAhead
		if b.cam < 0 {
			text = assumeCamBehind
		}
		add(text, map[string]any{"By": deg(size(b.cam))})
	}
	add(assumeSpeed, map[string]any{"RPM": phrase.Num{Value: b.running.RPM}, "U": phrase.Num{Value: 100 * rpmShareU}})
	add(assumeNoHelp, nil)
	first := piston.Correlations()[0]
	add(assumeDraws, map[string]any{"Own": phrase.Num{Value: 100 * first.Share}, "Title": first.Title})
	return list
}

func (b lightBasis) assumedCompression(add func(phrase.Text, map[string]any)) {
	three := func(v float64) phrase.Num { return phrase.Num{Value: v, Decimals: 3} }
	if b.gauge == nil {
		text := assumeExponent
		if b.given.exponent {
			text = assumeOwn
		}
		add(text, map[string]any{"N": three(b.charge.Exponent), "U": phrase.Num{Value: b.doubt.Exponent, Decimals: 2}, "Most": three(b.isentropic)})
		return
	}
	text := assumeGauge
	if b.reading == piston.LeakReading {
		text = assumeLeak
	}
	add(text, map[string]any{
		"Bar": bar(b.gauge.Bar, 1).Plain(), "U": bar(b.doubt.GaugeBar, 2), "GaugeRPM": phrase.Num{Value: b.gauge.RPM}, "RPM": phrase.Num{Value: b.running.RPM},
		"N": three(b.charge.Exponent), "Heat": three(b.heat), "Most": three(b.isentropic), "Leak": phrase.Num{Value: 100 * leakShare(b.charge.LogLeak)},
	})
	if b.gauge.RPM != b.running.RPM {
		add(assumeCarried, map[string]any{"From": phrase.Num{Value: b.gauge.RPM}, "To": phrase.Num{Value: b.running.RPM},
			"Low": phrase.Num{Value: piston.HeatPowerLow, Decimals: 1}, "High": phrase.Num{Value: piston.HeatPowerHigh, Decimals: 1}})
	}
}

// leakShare is the share of the charge a leak takes by top dead centre.
func leakShare(logLeak float64) float64 { return 1 - math.Exp(-logLeak) }
