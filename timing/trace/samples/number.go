package samples

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

// longestNumber is the longest number that is read here, with what stands behind it.
const longestNumber = 64

// plain reads a number that starts at b[i], with point as its decimal sign, and
// returns the place after it and the power of ten of its last digit. ok is false
// when it is not written plainly: then the whole cell must be looked at.
func plain(b []byte, i int, point byte) (v float64, next, exp int, ok bool) {
	if i > len(b) {
		return 0, i, 0, false
	}
	var text [longestNumber]byte
	copy(text[:], b[i:])
	v, size, exp, ok := number(&text, point)
	return v, i + size, exp, ok
}

// number reads the number at the beginning of a text and returns how long it is and the
// power of ten of its last digit. v is the nearest float64. ok is false when there is
// none, or one that would need a closer look: of more than 19 digits or far from 1.
func number(text *[longestNumber]byte, point byte) (v float64, size, exp int, ok bool) {
	minus := (uint64(text[0]^'-') - 1) >> 63 // no branch: of a signal's signs every second would be guessed wrong
	i := int(minus)
	if text[0] == '+' {
		i = 1
	}
	start := i
	m, i := digits(text, i, 0)
	count := i - start
	if text[i] == point {
		from := i + 1
		m, i = digits(text, from, m)
		exp = from - i
		count -= exp
	}
	if i > longestNumber-16 {
		return 0, i, 0, false
	}
	for j := start; count > maxDigits && (text[j] == '0' || text[j] == point); j++ {
		if text[j] == '0' { // zeros in front do not count
			count--
		}
	}
	if count == 0 || count > maxDigits {
		return 0, i, 0, false
	}
	if text[i]|0x20 == 'e' {
		i++
		down := text[i] == '-'
		if down || text[i] == '+' {
			i++
		}
		from, e := i, 0
		for i < longestNumber && text[i]-'0' <= 9 {
			e = min(e*10+int(text[i]-'0'), 9999)
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
	if m < 1<<53 && exp <= 0 && exp > -len(pow10) {
		v = float64(int64(m)) / pow10[-exp]
	} else if v, ok = decimal(m, exp); !ok {
		return 0, i, 0, false
	}
	return math.Float64frombits(math.Float64bits(v) | minus<<63), i, exp, i < longestNumber
}

// digits reads digits from place i on, behind those that m holds already, and returns the
// place after them. Behind longestNumber-16 it stops, with digits left or not.
func digits(text *[longestNumber]byte, i int, m uint64) (uint64, int) {
	for uint(i) <= longestNumber-16 {
		value, n := eight(binary.LittleEndian.Uint64(text[i:]))
		if n < 8 {
			return m*tens[n] + value, i + n
		}
		m = m*tens[8] + value
		i += 8
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
