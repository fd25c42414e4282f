package chart

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// LightOptions are the reader's choices for the light-off figures.
type LightOptions struct {
	Of       finding.LightOptions
	Cursor   *timing.Deg // of the cylinder's own angle round its firing TDC
	Step     float64     // of the map, in degrees of wheel error and twice as many °C; 0 is 2.5, quick enough for a drag
	Say      Say
	Units    quantity.Units // of temperature and pressure
	Supposed bool           // the job is a what-if, and says so itself
}

// The words of the light-off figures.
const (
	wordLight         phrase.Text = "Fuel ignition of {{.Title}}"
	wordLightDesc     phrase.Text = "Gas temperature and pressure over the crank angle, the range of injection that ignites, and both injections. {{.Finding}}"
	wordTemperature   phrase.Text = "gas temperature, {{.Unit}}"
	wordPressure      phrase.Text = "gas pressure, {{.Unit}} absolute"
	wordWindow        phrase.Text = "injection here ignites"
	wordStart         phrase.Text = "start of injection"
	wordLightsUp      phrase.Text = "ignites"
	wordLightAngle    phrase.Text = "crank degrees from firing TDC, − before"
	wordAsked         phrase.Text = "commanded"
	wordLands         phrase.Text = "actual"
	wordWouldLand     phrase.Text = "would start"
	wordSupposing     phrase.Text = "What if: a wheel error of {{.Error}}°. {{.Finding}}"
	wordLightsBefore  phrase.Text = "ignites {{.At}}° before TDC, after {{.MS}} ms"
	wordLightsAt      phrase.Text = "ignites at TDC, after {{.MS}} ms"
	wordLightsAfter   phrase.Text = "ignites {{.At}}° after TDC, after {{.MS}} ms"
	wordDark          phrase.Text = "does not ignite"
	wordNoWindow      phrase.Text = "no start ignites"
	wordMap           phrase.Text = "Ignition map of {{.Title}}"
	wordMapDesc       phrase.Text = "Whether fuel ignites, by wheel error and air temperature. {{.Finding}}"
	wordMapAir        phrase.Text = "air, {{.Unit}}"
	wordMapError      phrase.Text = "wheel error in degrees, + ahead: injection early"
	wordMapAll        phrase.Text = "ignites by every delay formula"
	wordMapSome       phrase.Text = "by some"
	wordMapNone       phrase.Text = "by none"
	wordMapLimit      phrase.Text = "limit by {{.Title}}"
	wordMapKick       phrase.Text = "may kick back"
	wordMapPoint      phrase.Text = "this engine"
	wordMapRightPoint phrase.Text = "with its wheel correct"
)

// Light returns the light-off figure's input for a job.
func Light(j job.Job, o LightOptions) (figure.LightOffInput, error) {
	l, err := finding.LightOf(j, o.Of)
	if err != nil {
		return figure.LightOffInput{}, err
	}
	o.Supposed = o.Supposed || j.Supposed != nil
	return LightOf(l, j.Title, o), nil
}

// LightOf returns the figure's input for an estimate that has been made, under
// a heading.
func LightOf(l finding.Light, heading string, o LightOptions) figure.LightOffInput {
	say := o.Say
	finds, lands := say.Sentence(l.Says), wordLands
	if w := o.Of.WheelErrorDeg; w != nil {
		finds = say.with(wordSupposing, map[string]any{"Error": phrase.Num{Value: *w, Decimals: 1}, "Finding": finds})
	}
	if o.Of.WheelErrorDeg != nil || o.Supposed {
		lands = wordWouldLand
	}
	celsius, bar := o.Units.For(quantity.Celsius), o.Units.For(quantity.Bar)
	in := figure.LightOffInput{
		Heading: heading,
		Finding: finds,
		Title:   say.with(wordLight, map[string]any{"Title": heading}),
		Desc:    say.with(wordLightDesc, map[string]any{"Finding": finds}),
		Window:  span(l.Window),
		Cursor:  o.Cursor,
		Words: figure.LightWords{
			Temperature: say.with(wordTemperature, map[string]any{"Unit": string(celsius)}), Pressure: say.with(wordPressure, map[string]any{"Unit": string(bar)}),
			CelsiusUnit: string(celsius), BarUnit: string(bar), Comma: say.comma(),
			Window: say.text(wordWindow), Starts: say.text(wordStart), Flame: say.text(wordLightsUp), Angle: say.text(wordLightAngle), TDC: say.text(wordTDC),
		},
	}
	in.From, in.To = shown(l)
	const step = 0.5
	for at := in.From; at <= in.To; at += step {
		if g := l.Path.At(at); l.Path.Holds(at) {
			in.Gas = append(in.Gas, figure.GasPoint{At: at, C: quantity.Convert(g.K-273.15, quantity.Celsius, celsius), Bar: quantity.Convert(g.Bar, quantity.Bar, bar)})
		}
	}
	for i, c := range l.Cases {
		b := figure.LightBar{Label: say.text(wordAsked), Role: figure.Commanded, Start: timing.Deg(-c.StartBTDCDeg), Says: caseSays(c, say), Warn: !c.Lights || c.KickBack}
		if i > 0 {
			b.Label, b.Role = say.text(lands), figure.Actual
		}
		if c.LightsAt != nil {
			at := timing.Deg(-*c.LightsAt)
			b.Lights = &at
		}
		in.Bars = append(in.Bars, b)
	}
	for _, k := range l.ByCorrelation {
		in.Spreads = append(in.Spreads, figure.LightSpread{Label: k.Title, Window: span(k.Window), None: say.text(wordNoWindow)})
	}
	return in
}

// shown is the range of angles worth showing: both injections and the window
// with some air, no more than a turn.
func shown(l finding.Light) (from, to timing.Deg) {
	lo, hi := -60.0, 60.0
	for _, c := range l.Cases {
		lo, hi = min(lo, -c.StartBTDCDeg-10), max(hi, -c.StartBTDCDeg+20)
	}
	if w := l.Window; w != nil {
		lo, hi = min(lo, -w.EarlyBTDCDeg-10), max(hi, -w.LateBTDCDeg+10)
	}
	lo, hi = max(math.Floor(lo/10)*10, -180), min(math.Ceil(hi/10)*10, 180)
	return timing.Deg(lo), timing.Deg(hi)
}

// span is a window as angles round TDC.
func span(w *finding.LightWindow) *timing.Span {
	if w == nil {
		return nil
	}
	return &timing.Span{From: timing.Deg(-w.EarlyBTDCDeg), To: timing.Deg(-w.LateBTDCDeg)}
}

// caseSays is what stands beside an injection.
func caseSays(c finding.LightCase, say Say) string {
	if c.LightsAt == nil {
		return say.text(wordDark)
	}
	n := phrase.Num{Value: math.Abs(*c.LightsAt), Decimals: 1}
	data := map[string]any{"At": n, "MS": phrase.Num{Value: *c.DelayMS, Decimals: 1}}
	switch {
	case n.String() == "0":
		return say.with(wordLightsAt, data)
	case *c.LightsAt < 0:
		return say.with(wordLightsAfter, data)
	}
	return say.with(wordLightsBefore, data)
}

// LightMap returns the map of starting: wheel error up, air temperature across.
func LightMap(j job.Job, o LightOptions) (figure.LightMapInput, error) {
	l, err := finding.LightOf(j, o.Of)
	if err != nil {
		return figure.LightMapInput{}, err
	}
	errors, air, err := mapAxes(l, o.Step)
	if err != nil {
		return figure.LightMapInput{}, err
	}
	s, err := finding.SweepOf(j, o.Of, errors, &air)
	if err != nil {
		return figure.LightMapInput{}, err
	}
	say := o.Say
	title := ""
	for _, k := range l.ByCorrelation {
		if k.Correlation == l.Correlation {
			title = k.Title
		}
	}
	in := figure.LightMapInput{
		Heading: j.Title,
		Title:   say.with(wordMap, map[string]any{"Title": j.Title}),
		Desc:    say.with(wordMapDesc, map[string]any{"Finding": say.Sentence(l.Says)}),
		X:       air.Values, Y: errors.Values,
		Points: []figure.MapPoint{
			{X: l.AirC, Y: 0, Role: figure.Commanded, Hollow: true, Label: say.text(wordMapRightPoint)},
			{X: l.AirC, Y: l.WheelErrorDeg, Role: figure.Actual, Label: say.text(wordMapPoint)},
		},
		Words: figure.LightMapWords{
			XTitle: say.with(wordMapAir, map[string]any{"Unit": string(o.Units.For(quantity.Celsius))}), Comma: say.comma(), YTitle: say.text(wordMapError), All: say.text(wordMapAll), Some: say.text(wordMapSome),
			None: say.text(wordMapNone), KickBack: say.text(wordMapKick), Limit: say.with(wordMapLimit, map[string]any{"Title": title}),
		},
	}
	for _, c := range air.Values {
		v, _ := o.Units.Show(c, quantity.Celsius)
		in.XSeen = append(in.XSeen, v)
	}
	for _, row := range s.Cells {
		cells := make([]figure.LightOn, len(row))
		for i, c := range row {
			cells[i] = figure.LightOn{Lit: c.LitBy, Of: len(l.ByCorrelation), Chosen: c.Lights, KickBack: c.KickBack}
		}
		in.Cells = append(in.Cells, cells)
	}
	return in, nil
}

// mapAxes are what the map spans: from -40 to 30 degrees of wheel error and from
// -25 to 40 °C, further where this engine lies.
func mapAxes(l finding.Light, step float64) (errors, air finding.SweepAxis, err error) {
	outer := func(v, step, lo, hi, least, most float64) (float64, float64) {
		return max(min(lo, math.Floor(v/step)*step-step), least), min(max(hi, math.Ceil(v/step)*step+step), most)
	}
	lo, hi := outer(l.WheelErrorDeg, 5, -40, 30, -180, 180)
	if !(step > 0) {
		step = 2.5
	}
	if hi-lo > 120 {
		step *= 2
	}
	if errors, err = finding.NewSweep("wheel_error_deg", lo, hi, step); err != nil {
		return errors, air, err
	}
	lo, hi = outer(l.AirC, 5, -25, 40, -90, 150)
	air, err = finding.NewSweep("air_c", lo, hi, 2*step)
	return errors, air, err
}
