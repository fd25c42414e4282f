package finding

import (
	"errors"
	"math"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// ErrNoNumber is what [ParseNumber] answers to anything else.
var ErrNoNumber = errors.New("not a number")

// ParseNumber reads a finite number as people type it: with a decimal point or
// comma, an ASCII or a real minus sign, and spaces round it.
func ParseNumber(text string) (float64, error) {
	text = strings.NewReplacer("−", "-", ",", ".").Replace(strings.TrimSpace(text))
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) || strings.ContainsAny(text, "xXpP_") {
		return 0, ErrNoNumber
	}
	return v, nil
}

// mostDecimals are those of a result, which is rounded to a billionth.
const mostDecimals = 9

// Beside is an angle with at most so many decimals, for a place where a stroke, or
// the word before or after, stands beside it: it has as many more as it takes not to
// be rounded onto a dead centre that it is not at. 179.9999° is not written as the
// 180° at which the next stroke begins.
func Beside(v float64, decimals int) phrase.Num {
	atCentre := func(v float64) bool { return math.Mod(v, 180) == 0 }
	n := phrase.Num{Value: v, Decimals: decimals}
	for !atCentre(v) && n.Decimals < mostDecimals {
		rounded, err := strconv.ParseFloat(strconv.FormatFloat(v, 'f', n.Decimals, 64), 64)
		if err != nil || !atCentre(rounded) {
			break
		}
		n.Decimals++
	}
	return n
}
