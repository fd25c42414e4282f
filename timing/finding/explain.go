package finding

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// deg is an angle for a sentence: tenths of a degree are what can be measured.
func deg(d timing.Deg) phrase.Num { return phrase.Num{Value: float64(d), Decimals: 1} }

// Values that have units of their own, for a sentence: the reader's unit is put
// behind the number.
func mm(v float64, decimals int) quantity.Amount      { return quantity.Length(v, decimals) }
func bar(v float64, decimals int) quantity.Amount     { return quantity.Pressure(v, decimals) }
func celsius(v float64, decimals int) quantity.Amount { return quantity.Temperature(v, decimals) }

// fine is an angle in a derivation, where hundredths keep the sum visible.
func fine(d timing.Deg) phrase.Num { return phrase.Num{Value: float64(d), Decimals: 2} }

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
func strokeWord(s timing.Stroke) phrase.Text { return s.InSentence() }
