package finding

import (
	"errors"
	"math"
	"strconv"
	"strings"
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
