package trace

import (
	"bytes"
	"encoding/binary"
	"math"
	"strconv"
	"strings"
)

// maxDigits is how many digits of a number always fit 64 bits.
const maxDigits = 19

// unknownExp stands for the power of ten of a last digit that was not looked at: finer
// than any clock.
const unknownExp = -30

// plain reads a number that starts at b[i], with point as its decimal sign, and
// returns the place after it and the power of ten of its last digit. ok is false
// when it is not written plainly: then the whole cell must be looked at. The result is
// the nearest float64, see [decimal].
func plain(b []byte, i int, point byte) (v float64, next, exp int, ok bool) {
	negative := false
	if i < len(b) && (b[i] == '-' || b[i] == '+') {
		negative = b[i] == '-'
		i++
	}
	start := i
	m, i := digits(b, i, 0)
	count := i - start
	if i < len(b) && b[i] == point {
		from := i + 1
		m, i = digits(b, from, m)
		exp = from - i
		count -= exp
	}
	for j := start; count > maxDigits && (b[j] == '0' || b[j] == point); j++ {
		if b[j] == '0' { // zeros in front do not count
			count--
		}
	}
	if count == 0 || count > maxDigits {
		return 0, i, 0, false
	}
	if i < len(b) && b[i]|0x20 == 'e' {
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
	if v, ok = decimal(m, exp); !ok {
		return 0, i, 0, false
	}
	if negative {
		v = -v
	}
	return v, i, exp, true
}

// digits reads digits from b[i] on, behind those that m holds already, and returns the
// place after them.
func digits(b []byte, i int, m uint64) (uint64, int) {
	for len(b)-i >= 8 {
		value, size := eight(binary.LittleEndian.Uint64(b[i:]))
		m = m*tens[size] + value
		i += size
		if size < 8 {
			return m, i
		}
	}
	for i < len(b) && b[i]-'0' <= 9 {
		m = m*10 + uint64(b[i]-'0')
		i++
	}
	return m, i
}

// cell reads a cell that is not written plainly: quoted, padded, with a thousand
// digits, empty, or with a word for a value that was out of range, which is NaN. exp is
// the power of ten of its last digit. ok is false for anything else.
func cell(b []byte, point byte) (v float64, exp int, ok bool) {
	b = bytes.Trim(b, " \t\r\"")
	if v, next, exp, ok := plain(b, 0, point); ok && next == len(b) {
		return v, exp, true
	}
	s := string(b)
	switch strings.ToLower(strings.TrimLeft(s, "+-−")) {
	case "", "nan", "n/a", "na", "inf", "infinity", "∞", "1.#inf", "1.#ind", "1.#qnan", "1,#inf", "1,#ind", "1,#qnan", "---", "--", "ovr", "overflow":
		return math.NaN(), 0, true
	}
	if len(s) > 400 || strings.ContainsAny(s, "xXpP_") {
		return 0, 0, false
	}
	s = strings.Replace(s, "−", "-", 1)
	if point == ',' {
		if strings.Contains(s, ".") {
			return 0, 0, false
		}
		s = strings.Replace(s, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, 0, false
	}
	return v, unknownExp, true
}
