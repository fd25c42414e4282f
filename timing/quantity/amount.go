package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Amount is a value in the unit it is kept in, for a sentence that shows it with
// at most so many decimals. Shown in another unit it has as many decimals as
// tell about the same.
type Amount struct {
	Value    float64
	Unit     Unit
	Decimals int
	Spread   bool // a difference or an uncertainty, not a place on a scale
	Bare     bool // the unit stands elsewhere, as in "4 to 5 mm"
}

// Length is an amount of millimetres.
func Length(mm float64, decimals int) Amount { return Amount{Value: mm, Unit: MM, Decimals: decimals} }

// Pressure is an amount of bar.
func Pressure(bar float64, decimals int) Amount {
	return Amount{Value: bar, Unit: Bar, Decimals: decimals}
}

// Air is an amount of kilopascals.
func Air(kPa float64, decimals int) Amount { return Amount{Value: kPa, Unit: KPa, Decimals: decimals} }

// Temperature is an amount of degrees Celsius.
func Temperature(c float64, decimals int) Amount {
	return Amount{Value: c, Unit: Celsius, Decimals: decimals}
}

// Plain returns the amount without its unit.
func (a Amount) Plain() Amount {
	a.Bare = true
	return a
}

// Wide returns the amount as a difference or an uncertainty.
func (a Amount) Wide() Amount {
	a.Spread = true
	return a
}

// In returns the amount in the reader's units.
func (a Amount) In(u Units) Amount {
	show := u.Show
	if a.Spread {
		show = u.ShowSpread
	}
	v, to := show(a.Value, a.Unit)
	a.Decimals = max(0, a.Decimals+finer(a.Unit, to))
	a.Value, a.Unit = v, to
	return a
}

// finer is how many decimals more a value needs in a larger unit, fewer in a
// smaller one, to tell about the same.
func finer(from, to Unit) int {
	if from == Celsius || from == Fahrenheit {
		return 0
	}
	return int(math.Ceil(-math.Log10(factor(from, to)) - 1e-9))
}

// Number returns the amount's number with a real minus sign, a decimal point and
// no trailing zeros.
func (a Amount) Number() string {
	s := strconv.FormatFloat(math.Abs(a.Value), 'f', a.Decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if a.Value < 0 && s != "0" {
		s = "−" + s
	}
	return s
}

// String writes the amount with its unit: "12.5 mm".
func (a Amount) String() string {
	if a.Bare || a.Unit == "" {
		return a.Number()
	}
	if a.Unit == "°" {
		return a.Number() + "°"
	}
	return a.Number() + " " + string(a.Unit)
}
