package quantity

// Units are the units a reader sees and types. An empty one leaves every value
// in the unit it is kept in: millimetres, bar for gauges and cylinders and
// kilopascals for the air, degrees Celsius.
type Units struct {
	Length      Unit // MM or Inch
	Pressure    Unit // Bar, KPa or PSI
	Temperature Unit // Celsius or Fahrenheit
}

// The units to choose from, the first as things are kept.
var (
	Lengths      = []Unit{MM, Inch}
	Pressures    = []Unit{"", Bar, KPa, PSI}
	Temperatures = []Unit{Celsius, Fahrenheit}
)

// For returns the unit in which the reader sees what is kept in the given one.
func (u Units) For(kept Unit) Unit {
	chosen := Unit("")
	switch kept {
	case MM:
		chosen = u.Length
	case Bar, KPa:
		chosen = u.Pressure
	case Celsius:
		chosen = u.Temperature
	}
	if chosen == "" {
		return kept
	}
	return chosen
}

// Show returns a value kept in a unit as the reader sees it, and in which unit.
// It is what was typed, if it was typed in that unit; else it is rounded to
// six digits.
func (u Units) Show(v float64, kept Unit) (float64, Unit) { return u.show(v, kept, Convert) }

func (u Units) show(v float64, kept Unit, convert func(float64, Unit, Unit) float64) (float64, Unit) {
	to := u.For(kept)
	if to == kept {
		return v, kept
	}
	shown := convert(v, kept, to)
	for digits := 1; digits <= shownDigits; digits++ {
		if typed := tidy(shown, digits); tidy(convert(typed, to, kept), keptDigits) == v {
			return typed, to
		}
	}
	return tidy(shown, roundedDigits), to
}

// Keep returns what the reader typed for a value that is kept in a unit.
func (u Units) Keep(typed float64, kept Unit) float64 {
	from := u.For(kept)
	if from == kept {
		return typed
	}
	return tidy(Convert(typed, from, kept), keptDigits)
}

// ShowSpread and KeepSpread are [Units.Show] and [Units.Keep] for a difference
// or an uncertainty.
func (u Units) ShowSpread(v float64, kept Unit) (float64, Unit) {
	return u.show(v, kept, ConvertDifference)
}

// KeepSpread is described at [Units.ShowSpread].
func (u Units) KeepSpread(typed float64, kept Unit) float64 {
	from := u.For(kept)
	if from == kept {
		return typed
	}
	return tidy(ConvertDifference(typed, from, kept), keptDigits)
}
