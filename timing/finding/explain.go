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
	s.Says = e.says(single, actual, stroke)
	s.Notes = e.notes()
	s.Steps = e.steps(commanded, actual)
}

// strokeWord names a stroke in a sentence: "power stroke", one word in some
// languages.
func strokeWord(s timing.Stroke) Term { return Term(s.String() + " stroke") }

// Texts returns every text of this package that may be shown, so that
// translations can be checked for completeness: sentences, the words that stand
// in them, and the cautions.
func Texts() []string {
	list := headTexts()
	for s := timing.Power; s <= timing.Compression; s++ {
		list = append(list, s.String(), string(strokeWord(s)))
	}
	list = append(append(append(append(list, noteTexts...), stepTexts...), verdictTexts...), budgetTexts()...)
	list = append(append(append(list, tdcTexts...), repeatTexts...), photoTexts()...)
	list = append(append(append(list, gearsTexts...), marksTexts...), causeWords()...)
	list = append(append(list, allTraceTexts()...), signalTexts()...)
	list = append(append(append(append(list, evidenceWords()...), leadTexts()...), supposedTexts...), whatIfTexts...)
	return append(append(list, lightTexts()...), Cautions...)
}
