package trace

import (
	"bytes"
	"math"
	"strconv"
	"strings"
)

// powers of ten that a float64 holds exactly.
var pow10 = [23]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// plain reads a number that starts at b[i], with point as its decimal sign, and
// returns the place after it and the power of ten of its last digit. ok is false
// when it is not written plainly: then the whole cell must be looked at. Up to 15
// digits the result is the nearest float64: both the digits and the power of ten
// are exact, and one operation rounds once.
func plain(b []byte, i int, point byte) (v float64, next, exp int, ok bool) {
	negative := false
	if i < len(b) && (b[i] == '-' || b[i] == '+') {
		negative = b[i] == '-'
		i++
	}
	var m uint64
	start := i
	for i < len(b) && b[i]-'0' <= 9 {
		m = m*10 + uint64(b[i]-'0')
		i++
	}
	digits := i - start
	if i < len(b) && b[i] == point {
		i++
		from := i
		for i < len(b) && b[i]-'0' <= 9 {
			m = m*10 + uint64(b[i]-'0')
			i++
		}
		exp = from - i
		digits -= exp
	}
	if digits == 0 || digits > 15 {
		return 0, i, 0, false
	}
	if i < len(b) && (b[i] == 'e' || b[i] == 'E') {
		i++
		down := false
		if i < len(b) && (b[i] == '-' || b[i] == '+') {
			down = b[i] == '-'
			i++
		}
		from, e := i, 0
		for i < len(b) && b[i]-'0' <= 9 && i-from < 4 {
			e = e*10 + int(b[i]-'0')
			i++
		}
		if i == from {
			return 0, i, 0, false
		}
		if down {
			e = -e
		}
		exp += e
	}
	v = float64(m)
	switch {
	case exp == 0:
	case exp < 0 && exp >= -22:
		v /= pow10[-exp]
	case exp > 0 && exp <= 22:
		v *= pow10[exp]
	default:
		return 0, i, 0, false
	}
	if negative {
		v = -v
	}
	return v, i, exp, true
}

// cell reads a cell that is not written plainly: quoted, padded, with a thousand
// digits, empty, or with a word for a value that was out of range, which is NaN.
// ok is false for anything else.
func cell(b []byte, point byte) (v float64, ok bool) {
	b = bytes.Trim(b, " \t\r\"")
	if v, next, _, ok := plain(b, 0, point); ok && next == len(b) {
		return v, true
	}
	s := string(b)
	switch strings.ToLower(strings.TrimLeft(s, "+-−")) {
	case "", "nan", "n/a", "na", "inf", "infinity", "∞", "1.#inf", "1.#ind", "1.#qnan", "1,#inf", "1,#ind", "1,#qnan", "---", "--", "ovr", "overflow":
		return math.NaN(), true
	}
	if len(s) > 400 || strings.ContainsAny(s, "xXpP_") {
		return 0, false
	}
	s = strings.Replace(s, "−", "-", 1)
	if point == ',' {
		if strings.Contains(s, ".") {
			return 0, false
		}
		s = strings.Replace(s, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, false
	}
	return v, true
}
