package phrase

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/quantity"
)

// Num is a number in a sentence, shown with at most so many decimals.
type Num struct {
	Value    float64
	Decimals int
}

// String writes the number with a real minus sign and without trailing zeros.
func (n Num) String() string {
	s := strconv.FormatFloat(math.Abs(n.Value), 'f', n.Decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if n.Value < 0 && s != "0" {
		s = "−" + s
	}
	return s
}

// Operand is a number behind the sign of a sum, in brackets when it is negative:
// "10 + (−28)".
type Operand Num

// String writes the number as [Num] does.
func (o Operand) String() string {
	s := Num(o).String()
	if strings.HasPrefix(s, "−") {
		return "(" + s + ")"
	}
	return s
}

// Value is a number shown as exactly as it is known.
type Value struct {
	V    float64
	Unit quantity.Unit // in which it is kept, "" for none
	Bare bool          // the unit stands elsewhere, as in "4 to 5 mm"
}

// MM makes a length.
func MM(v float64) Value { return Value{V: v, Unit: quantity.MM} }

// Plain returns the value for a place where its unit stands elsewhere.
func (v Value) Plain() Value {
	v.Bare = true
	return v
}

// String writes the value with up to ten digits: "12.5 mm", "−3°".
func (v Value) String() string { return v.Written(fmt.Sprintf("%.10g", v.V)) }

// Written puts the unit behind a number.
func (v Value) Written(number string) string {
	switch {
	case v.Bare || v.Unit == "":
		return number
	case v.Unit == "°":
		return number + "°"
	}
	return number + " " + string(v.Unit)
}
