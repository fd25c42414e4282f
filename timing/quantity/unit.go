package quantity

import (
	"math"
	"strconv"
)

// Unit is a unit by the sign written behind a number.
type Unit string

// The units there are. Others pass through everything here as they are.
const (
	MM         Unit = "mm"
	Inch       Unit = "in"
	Bar        Unit = "bar"
	KPa        Unit = "kPa"
	PSI        Unit = "psi"
	Celsius    Unit = "°C"
	Fahrenheit Unit = "°F"
)

// linear are the units that are a multiple of a common one: millimetres for
// lengths, kilopascals for pressures.
var linear = map[Unit]struct {
	base Unit
	size float64
}{
	MM:   {MM, 1},
	Inch: {MM, 25.4},
	KPa:  {KPa, 1},
	Bar:  {KPa, 100},
	PSI:  {KPa, 4.4482216152605 / 0.64516}, // N over 1e-3 m²
}

// Known tells whether a unit is one of a length, a pressure or a temperature.
func Known(u Unit) bool {
	_, ok := linear[u]
	return ok || u == Celsius || u == Fahrenheit
}

// Convert returns a value in another unit of the same kind. Between units of
// different kinds the value comes back as it is.
func Convert(v float64, from, to Unit) float64 {
	switch {
	case from == to:
		return v
	case from == Celsius && to == Fahrenheit:
		return math.Round((1.8*v+32)*1e9)/1e9 + 0 // what is left of 32 taken from 32 is 0
	case from == Fahrenheit && to == Celsius:
		return (v - 32) / 1.8
	}
	return v * factor(from, to)
}

// ConvertDifference returns a difference or an uncertainty in another unit, for
// which the zero of a temperature scale does not count.
func ConvertDifference(v float64, from, to Unit) float64 {
	switch {
	case from == Celsius && to == Fahrenheit:
		return 1.8 * v
	case from == Fahrenheit && to == Celsius:
		return v / 1.8
	}
	return v * factor(from, to)
}

func factor(from, to Unit) float64 {
	f, known := linear[from]
	t, also := linear[to]
	if !known || !also || f.base != t.base {
		return 1
	}
	return f.size / t.size
}

// Significant digits of a value brought into another unit: those kept are so
// many, and those shown so much fewer, that the noise of binary fractions never
// shows and 1 in stays 1 in; both are far more than anything is measured to.
const (
	keptDigits    = 14
	shownDigits   = 10
	roundedDigits = 6
)

// tidy rounds to so many significant digits.
func tidy(v float64, digits int) float64 {
	if v == 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return v
	}
	r, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', digits, 64), 64) // what was just written
	return r
}
