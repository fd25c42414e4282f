package finding

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/quantity"
)

// deg is an angle for a sentence: tenths of a degree are what can be measured.
func deg(d timing.Deg) Num { return Num{float64(d), 1} }

// Values that have units of their own, for a sentence: the reader's unit is put
// behind the number.
func mm(v float64, decimals int) quantity.Amount      { return quantity.Length(v, decimals) }
func bar(v float64, decimals int) quantity.Amount     { return quantity.Pressure(v, decimals) }
func celsius(v float64, decimals int) quantity.Amount { return quantity.Temperature(v, decimals) }

// fine is an angle in a derivation, where hundredths keep the sum visible.
func fine(d timing.Deg) Num { return Num{float64(d), 2} }

func size(d timing.Deg) timing.Deg { return timing.Deg(math.Abs(float64(d))) }

// explain fills in what the shift means, what must be known beside it, and how
// it was reached. single is an engine of one cylinder.
func (s *Shift) explain(single bool, e errorsOf, commanded, actual timing.Deg, stroke timing.Stroke) {
	s.Says = says(single, e.assumed, e.wheel.Value, actual, stroke)
	s.Notes = e.notes()
	s.Steps = e.steps(commanded, actual)
}

// says is the finding in one sentence. Whole sentences are kept for each case,
// because a translation cannot be put together from halves. A wheel error that
// is nothing in tenths of a degree is no error here; one that is only assumed to be
// none is said with that condition first.
func says(single, assumed bool, wheelError, actual timing.Deg, stroke timing.Stroke) Sentence {
	data := map[string]any{"At": Beside(float64(size(actual)), 1), "Stroke": strokeWord(stroke), "By": deg(size(wheelError))}
	place := "before"
	switch {
	case deg(actual).String() == "0":
		place = "at"
	case actual < 0:
		place = "after"
	}
	way := direction(wheelError)
	if deg(wheelError).String() == "0" {
		way = "none"
		if assumed {
			way = "assumed"
		}
	}
	return Sentence{Text: saying[key{single, place, way}], Data: data}
}

// strokeWord names a stroke in a sentence: "power stroke", one word in some
// languages.
func strokeWord(s timing.Stroke) Term { return Term(s.String() + " stroke") }

type key struct {
	single    bool
	place     string // of TDC
	direction string
}

var saying = map[key]string{
	{false, "before", "assumed"}:  "If the sensor wheel is as drawn, every injection lands where the controller asks for it: {{.At}}° before TDC, on the {{.Stroke}}.",
	{false, "at", "assumed"}:      "If the sensor wheel is as drawn, every injection lands where the controller asks for it: at TDC.",
	{false, "after", "assumed"}:   "If the sensor wheel is as drawn, every injection lands where the controller asks for it: {{.At}}° after TDC, on the {{.Stroke}}.",
	{true, "before", "assumed"}:   "If the sensor wheel is as drawn, injection lands where the controller asks for it: {{.At}}° before TDC, on the {{.Stroke}}.",
	{true, "at", "assumed"}:       "If the sensor wheel is as drawn, injection lands where the controller asks for it: at TDC.",
	{true, "after", "assumed"}:    "If the sensor wheel is as drawn, injection lands where the controller asks for it: {{.At}}° after TDC, on the {{.Stroke}}.",
	{false, "before", "none"}:     "Every injection lands where the controller asks for it: {{.At}}° before TDC, on the {{.Stroke}}.",
	{false, "at", "none"}:         "Every injection lands where the controller asks for it: at TDC.",
	{false, "after", "none"}:      "Every injection lands where the controller asks for it: {{.At}}° after TDC, on the {{.Stroke}}.",
	{false, "before", "retarded"}: "Every injection lands {{.At}}° before TDC, on the {{.Stroke}}: {{.By}}° later than the controller believes.",
	{false, "at", "retarded"}:     "Every injection lands at TDC: {{.By}}° later than the controller believes.",
	{false, "after", "retarded"}:  "Every injection lands {{.At}}° after TDC, on the {{.Stroke}}: {{.By}}° later than the controller believes.",
	{false, "before", "advanced"}: "Every injection lands {{.At}}° before TDC, on the {{.Stroke}}: {{.By}}° earlier than the controller believes.",
	{false, "at", "advanced"}:     "Every injection lands at TDC: {{.By}}° earlier than the controller believes.",
	{false, "after", "advanced"}:  "Every injection lands {{.At}}° after TDC, on the {{.Stroke}}: {{.By}}° earlier than the controller believes.",
	{true, "before", "none"}:      "Injection lands where the controller asks for it: {{.At}}° before TDC, on the {{.Stroke}}.",
	{true, "at", "none"}:          "Injection lands where the controller asks for it: at TDC.",
	{true, "after", "none"}:       "Injection lands where the controller asks for it: {{.At}}° after TDC, on the {{.Stroke}}.",
	{true, "before", "retarded"}:  "Injection lands {{.At}}° before TDC, on the {{.Stroke}}: {{.By}}° later than the controller believes.",
	{true, "at", "retarded"}:      "Injection lands at TDC: {{.By}}° later than the controller believes.",
	{true, "after", "retarded"}:   "Injection lands {{.At}}° after TDC, on the {{.Stroke}}: {{.By}}° later than the controller believes.",
	{true, "before", "advanced"}:  "Injection lands {{.At}}° before TDC, on the {{.Stroke}}: {{.By}}° earlier than the controller believes.",
	{true, "at", "advanced"}:      "Injection lands at TDC: {{.By}}° earlier than the controller believes.",
	{true, "after", "advanced"}:   "Injection lands {{.At}}° after TDC, on the {{.Stroke}}: {{.By}}° earlier than the controller believes.",
}

// Texts returns every text of this package that may be shown, so that
// translations can be checked for completeness: sentences, the words that stand
// in them, and the cautions.
func Texts() []string {
	var list []string
	for _, t := range saying {
		list = append(list, t)
	}
	for s := timing.Power; s <= timing.Compression; s++ {
		list = append(list, s.String(), string(strokeWord(s)))
	}
	list = append(append(append(append(list, noteTexts...), stepTexts...), verdictTexts...), budgetTexts()...)
	list = append(append(append(list, tdcTexts...), repeatTexts...), photoTexts()...)
	list = append(append(append(list, gearsTexts...), marksTexts...), causeWords()...)
	list = append(append(list, allTraceTexts()...), signalTexts()...)
	list = append(append(append(list, evidenceWords()...), leadTexts()...), supposedTexts...)
	return append(append(list, lightTexts()...), Cautions...)
}
