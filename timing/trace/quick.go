package trace

import (
	"encoding/binary"
	"math"
	"math/bits"
)

// quickBytes is the longest row that is read the quick way.
const quickBytes = 256

// quick reads rows into the block from place n on, as long as they are written plainly:
// so many cells with the delimiter right between them, of up to 15 digits with at most a
// minus sign and a decimal sign and seven decimals. It returns how many it has read; the
// row it stops at is not consumed: [Reader.parse] looks at it. Of plain rows both make
// the same numbers.
func (r *Reader) quick(b *Block, n int) (rows int) {
	delimiter, point, unit, interval := r.format.Delimiter, r.format.point(), r.format.TimeUnit, r.format.IntervalS
	column, values, first := r.column, b.Values, n
	last := len(column) - 1
	for ; n < blockRows && r.to-r.at >= quickBytes; n++ {
		row := (*[quickBytes]byte)(r.buf[r.at:])
		i, t, least := 0, 0.0, 0
		for c, to := range column {
			if i > quickBytes-32 {
				return n - first
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
				value, size := eight(binary.LittleEndian.Uint64(row[i:]))
				if size == 8 {
					return n - first
				}
				m = m*tens[size] + value
				i += size
				decimals = size
				digits += size
			}
			if digits == 0 || digits > 15 {
				return n - first
			}
			end := row[i]
			i++
			if c < last {
				if end != delimiter {
					return n - first
				}
			} else {
				if end == '\r' {
					end = row[i]
					i++
				}
				if end != '\n' {
					return n - first
				}
			}
			// Both are exact, so that the division rounds once.
			v := float64(int64(m)) / pow10[decimals]
			v = math.Float64frombits(math.Float64bits(v) | uint64(minus)<<63)
			switch {
			case to >= 0:
				values[to][n] = v
			case to == -1:
				t = v * unit
				least = decimals
			}
		}
		if interval > 0 {
			t = float64(r.row) * interval
		}
		if t < r.last {
			return n - first // time runs backwards
		}
		r.at += i
		r.line++
		r.row++
		r.last = t
		r.least = min(r.least, -least)
		b.Time = append(b.Time, t)
	}
	return n - first
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
