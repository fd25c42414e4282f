package trace

import (
	"encoding/binary"
	"math"
	"math/bits"
)

// longestCell is the longest cell that is read the quick way.
const longestCell = 64

// target is where the cells of a column go.
type target struct {
	values   *[blockRows]float64
	decimals uint
	end      byte // what stands behind its cells: the delimiter or, in the last column, a line feed
}

// quick reads rows into the block from place n on, as long as they are so many numbers
// with the delimiter between them. It returns how many it has read; the row it stops at
// is not consumed: [Reader.parse] looks at it. Both make the same numbers of a row.
//
// The usual cell, a minus or none, up to seven digits and up to seven behind the decimal
// sign, is read here without a loop and without a branch that depends on its sign or its
// digits. [Reader.odd] reads the others.
func (r *Reader) quick(b *Block, n int) (rows int) {
	if r.to < longestCell {
		return 0
	}
	point, unit, interval := r.format.point(), r.format.TimeUnit, r.format.IntervalS
	text, targets, clock := r.buf, r.targets, &r.targets[max(r.format.TimeColumn, 0)]
	first, last, least := n, r.last, r.least
	limit := uint(r.to - longestCell)
	i := uint(r.at) // where the next cell begins
rows:
	for n < blockRows {
		for c := range targets {
			if i > limit || i > bufferSize-longestCell {
				break rows
			}
			to := &targets[c]
			x, other := digitValues(binary.LittleEndian.Uint64(text[i:]))
			// What stands first is a digit or else a minus, with a digit behind it.
			sign := other & 0x80
			signed := sign<<1 - sign>>7
			strange := (x^'-'^'0')&signed | other&(sign<<8)
			x &^= signed
			other &^= 0x80

			usual := false
			if strange == 0 && other != 0 {
				whole := uint(bits.TrailingZeros64(other))
				next := i + whole/8
				m := x << ((71 - whole) & 63)
				if text[next] != point {
					to.values[n] = math.Float64frombits(math.Float64bits(float64(int64(added(m)))) | sign<<56)
					to.decimals = 0
					i, usual = next, true
				} else if y, other := digitValues(binary.LittleEndian.Uint64(text[next+1:])); other != 0 {
					if d := uint(bits.TrailingZeros64(other)) / 8; d != to.decimals {
						to.decimals = d
					}
					d := to.decimals & 7
					y <<= 8
					y <<= 56 - 8*d
					if whole/8-uint(sign>>7)+d <= 8 {
						m = added(m>>(8*d) | y)
					} else {
						m = added(m)*tens[d] + added(y)
					}
					// Up to 14 digits and a power of ten are floats exactly: the division rounds once.
					v := float64(int64(m)) / pow10[d]
					to.values[n] = math.Float64frombits(math.Float64bits(v) | sign<<56)
					i, usual = next+1+d, true
				}
			}
			if !usual {
				v, next, exp, ok := r.odd(text[:r.to], int(i))
				if !ok {
					break rows
				}
				to.values[n], to.decimals = v, uint(-exp)
				i = uint(next)
			}
			if text[i] != to.end {
				if c < len(targets)-1 {
					break rows
				}
				if i = r.rowEnd(i); i == 0 {
					break rows
				}
			}
			i++
		}
		t := b.Time[n] * unit
		if interval > 0 {
			t = float64(r.row+int64(n-first)) * interval
		}
		if t < last {
			break // time runs backwards
		}
		b.Time[n] = t
		last = t
		least = min(least, -int(clock.decimals))
		n++
		r.at = int(i)
	}
	r.last = last
	r.least = least
	r.row += int64(n - first)
	r.line += n - first
	return n - first
}

// unusual, as a number of decimals, is a cell that is not of the usual kind.
const unusual = 8

// odd reads a cell from row[i] on that is not of the usual kind: with more digits, an
// exponent, blanks before or behind it or quotation marks around it. It returns the
// place after it, and the power of ten of its last digit.
func (r *Reader) odd(row []byte, i int) (v float64, next, exp int, ok bool) {
	for i < len(row) && row[i] == ' ' {
		i++
	}
	quoted := i < len(row) && row[i] == '"'
	if quoted {
		i++
	}
	v, i, exp, ok = plain(row, i, r.format.point())
	if quoted && ok {
		ok = i < len(row) && row[i] == '"'
		i++
	}
	for r.format.Delimiter != ' ' && i < len(row) && row[i] == ' ' {
		i++
	}
	return v, i, exp, ok && i < len(row)
}

// rowEnd is the end of the row behind a last cell that ends at i with something
// else than a line feed: delimiters may follow, and a carriage return. It is 0 where
// anything else does.
func (r *Reader) rowEnd(i uint) uint {
	row := r.buf[:r.to]
	for i < uint(len(row)) && row[i] == r.format.Delimiter {
		i++
	}
	if i < uint(len(row)) && row[i] == '\r' {
		i++
	}
	if i < uint(len(row)) && row[i] == '\n' {
		return i
	}
	return 0
}
