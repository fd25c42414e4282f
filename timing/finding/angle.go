package finding

import "strings"

// sides are how people write an angle from top dead centre, in the languages of the
// program; -1 is before it.
var sides = []struct {
	words string
	sign  float64
}{
	{"btdc", -1}, {"before tdc", -1}, {"v. ot", -1}, {"v.ot", -1}, {"vor ot", -1}, {"a. pms", -1}, {"a.pms", -1}, {"antes del pms", -1},
	{"atdc", 1}, {"after tdc", 1}, {"n. ot", 1}, {"n.ot", 1}, {"nach ot", 1}, {"d. pms", 1}, {"d.pms", 1}, {"después del pms", 1}, {"despues del pms", 1},
}

// ParseAngle reads an angle from top dead centre as people type it: a number as
// [ParseNumber] takes it, with a degree sign or without, or one with its side, as in
// "38 btdc", which is -38.
func ParseAngle(text string) (float64, error) {
	text = strings.ToLower(strings.TrimSpace(text))
	sign := 0.0
	for _, s := range sides {
		if rest, ok := strings.CutSuffix(text, s.words); ok {
			text, sign = strings.TrimSpace(rest), s.sign
			break
		}
	}
	v, err := ParseNumber(strings.TrimSuffix(text, "°"))
	switch {
	case err != nil:
		return 0, err
	case sign != 0 && v < 0:
		return 0, ErrNoNumber // before and minus both
	case sign != 0:
		v *= sign
	}
	return v, nil
}
