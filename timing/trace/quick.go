package trace

import (
	"encoding/binary"
	"math"
	"math/bits"
)

// quickBytes is the longest row that is read the quick way.
const quickBytes = 256

// quick reads the next row into place n of the block where it is written plainly: so
// many cells with the delimiter right between them, of up to 15 digits with at most a
// minus sign and a decimal sign and seven decimals. ok is false for any other row, and then nothing is
// consumed: [Reader.parse] looks at it. Of plain rows it makes the same numbers.
func (r *Reader) quick(b *Block, n int) (t float64, ok bool) {
	if r.to-r.at < quickBytes {
		return 0, false
	}
	row := (*[quickBytes]byte)(r.buf[r.at:])
	delimiter, point := r.format.Delimiter, r.format.point()
	i, last, least := 0, len(r.column)-1, 0
	for c, to := range r.column {
		if i > quickBytes-32 {
			return 0, false
		}
		minus := 0
		if row[i] == '-' {
			minus = 1
		}
		i += minus
		from := i
		m := uint64(0)
		for i < quickBytes-16 && row[i]-'0' <= 9 {
			m = m*10 + uint64(row[i]-'0')
			i++
		}
		digits, decimals := i-from, 0
		if row[i] == point {
			i++
			// Up to eight decimals in one go: see [eight].
			value, n := eight(binary.LittleEndian.Uint64(row[i:]))
			if n == 8 {
				return 0, false
			}
			m = m*tens[n] + value
			i += n
			decimals = n
			digits += n
		}
		if digits == 0 || digits > 15 {
			return 0, false
		}
		end := row[i]
		i++
		if c < last {
			if end != delimiter {
				return 0, false
			}
		} else {
			if end == '\r' {
				end = row[i]
				i++
			}
			if end != '\n' {
				return 0, false
			}
		}
		// Both are exact, so that the division rounds once.
		v := float64(int64(m)) / pow10[decimals]
		v = math.Float64frombits(math.Float64bits(v) | uint64(minus)<<63)
		switch {
		case to >= 0:
			b.Values[to][n] = v
		case to == -1:
			t = v * r.format.TimeUnit
			least = decimals
		}
	}
	r.at += i
	r.line++
	r.least = min(r.least, -least)
	return t, true
}

// tens are powers of ten.
var tens = [8]uint64{1, 10, 100, 1000, 10000, 100000, 1000000, 10000000}

// eight reads the digits at the beginning of eight bytes of text, the first being the
// lowest byte: their value and how many there are. The digits are moved to the end, so
// that zeros stand before them, and added up in pairs, fours and eights.
func eight(w uint64) (value uint64, digits int) {
	x := w ^ 0x3030303030303030 // a digit becomes 0 to 9
	other := (x + 0x7676767676767676 | x) & 0x8080808080808080
	// The carry of a byte above 9 reaches only bytes behind it.
	n := bits.TrailingZeros64(other) / 8
	x <<= uint(64 - 8*n)
	x = x*10 + x>>8
	const low = 0x000000ff000000ff
	value = ((x&low)*(100+1000000<<32) + (x>>16&low)*(1+10000<<32)) >> 32
	return value, n
}
