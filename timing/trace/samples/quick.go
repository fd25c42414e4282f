package samples

import (
	"encoding/binary"
	"math"
	"math/bits"
)

// target is where the cells of a column go.
type target struct {
	values   *[BlockRows]float64
	end      byte // what stands behind its cells: the delimiter or, in the last column, a line feed
	exp      int  // power of ten of the last digit of its last cell
	decimals uint // how many its last cell had, and its next one is thought to have
}

// quick reads rows into the block from place n on, as long as they are so many numbers
// with the delimiter between them. It returns how many it has read; the row it stops at
// is not consumed: [table.parse] looks at it. Both make the same numbers of a row.
//
// What makes it quick: a cell of up to seven digits and up to fifteen decimals is read
// without a loop, eight characters at a time, and without a branch that depends on its sign
// or its digits. Where the next cell begins must be known before it can be read. Of the two
// things that say so, how many digits stand before the decimal sign is looked up; how many
// stand behind it is taken from the cell above and only checked, so that the processor
// goes on before it is known.
func (r *table) quick(b *Block, n int) (rows int) {
	if r.to < longestNumber {
		return 0
	}
	sign, unit, interval := r.format.point(), r.format.TimeUnit, r.format.IntervalS
	text, targets, clock := r.buf, r.targets, &r.targets[max(r.format.TimeColumn, 0)]
	first, last, least := n, r.last, r.least
	limit := uint(r.to - longestNumber)
	i := uint(r.at) // where the next cell begins
rows:
	for n < BlockRows {
		for c := 0; c < len(targets); c++ {
			if i > limit || i > bufferSize-longestNumber {
				break rows
			}
			to := &targets[c]
			x, other := digitValues(binary.LittleEndian.Uint64(text[i:]))
			// What stands first is a digit or else a minus, with a digit behind it.
			minus := other & 0x80
			signed := minus<<1 - minus>>7
			strange := (x^'-'^'0')&signed | other&(minus<<8)
			x &^= signed
			other &^= 0x80

			// The cell's digits as one number, and where it ends; i if it is none of those above.
			m, next := x, i
			if strange == 0 && other != 0 {
				whole := uint(bits.TrailingZeros64(other))
				point := i + whole/8
				m <<= (71 - whole) & 63
				if text[point] != sign {
					m = added(m)
					to.decimals = 0
					next = point
				} else {
					whole = whole/8 - uint(minus>>7)
					y, other := digitValues(binary.LittleEndian.Uint64(text[point+1:]))
					if other != 0 {
						if d := uint(bits.TrailingZeros64(other)) / 8; d != to.decimals {
							to.decimals = d
						}
						d := to.decimals & 7
						y = y << 8 << (56 - 8*d)
						next = point + 1 + d
						if whole+d <= 8 && text[next] == to.end { // nearly every cell
							v := float64(int64(added(m>>(8*d)|y))) / pow10[d]
							to.values[n] = math.Float64frombits(math.Float64bits(v) | minus<<56)
							to.exp = -int(d)
							i = next + 1
							continue
						}
						m = added(m)*tens[d] + added(y)
					} else if z, other := digitValues(binary.LittleEndian.Uint64(text[point+9:])); other != 0 {
						if d := 8 + uint(bits.TrailingZeros64(other))/8; d != to.decimals {
							to.decimals = d
						}
						d := to.decimals & 7
						if whole+8+d <= maxDigits {
							m = (added(m)*tens[8]+added(y))*tens[d] + added(z<<8<<(56-8*d))
							next = point + 9 + d
						}
					}
				}
			}
			if next > i {
				exp, behind := -int(to.decimals), next+1
				if text[next] != to.end {
					if e, ok := exponent(binary.LittleEndian.Uint32(text[next:])); ok {
						exp += e
						next += 4
						behind = next + 1
					}
					if text[next] != to.end {
						behind = 0
						if c == len(targets)-1 {
							behind = r.rowEnd(next)
						}
					}
				}
				if behind > 0 {
					v := 0.0
					if m < 1<<53 && uint(-exp) < uint(len(pow10)) {
						v = float64(int64(m)) / pow10[-exp] // the usual case of decimal
					} else {
						var ok bool
						if v, ok = decimal(m, exp); !ok {
							break rows
						}
					}
					to.values[n] = math.Float64frombits(math.Float64bits(v) | minus<<56)
					to.exp = exp
					i = behind
					continue
				}
			}
			if text[i] == ' ' {
				for i <= limit && text[i] == ' ' {
					i++
				}
				c-- // the same cell, behind the blanks
				continue
			}
			v, size, exp, ok := number((*[longestNumber]byte)(text[i:]), sign)
			next = i + uint(size)
			if !ok || text[next] != to.end {
				if v, next, exp, ok = r.padded(text, i); !ok {
					break rows
				}
			}
			to.values[n], to.exp = v, exp
			i = next + 1
			if text[next] != to.end {
				if c < len(targets)-1 {
					break rows
				}
				if i = r.rowEnd(next); i == 0 {
					break rows
				}
			}
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
		least = min(least, clock.exp)
		n++
		r.at = int(i)
	}
	r.last = last
	r.least = least
	r.row += int64(n - first)
	r.line += n - first
	return n - first
}

// padded reads a cell from place i on that has blanks before or behind it or stands in
// quotation marks. It returns the place after it, and the power of ten of its last digit.
func (r *table) padded(text *[bufferSize]byte, i uint) (v float64, next uint, exp int, ok bool) {
	limit := min(uint(r.to), bufferSize) - longestNumber
	for i <= limit && text[i] == ' ' {
		i++
	}
	quoted := text[i] == '"'
	if quoted {
		i++
	}
	if i > limit {
		return 0, i, 0, false
	}
	v, size, exp, ok := number((*[longestNumber]byte)(text[i:]), r.format.point())
	i += uint(size)
	if quoted && ok {
		ok = text[i] == '"'
		i++
	}
	for r.format.Delimiter != ' ' && i < uint(r.to)-1 && text[i] == ' ' {
		i++
	}
	return v, i, exp, ok && i < uint(r.to)
}

// rowEnd is where the next row begins behind a last cell that ends at i with something
// else than a line feed: delimiters may follow, and a carriage return. It is 0 where
// anything else does.
func (r *table) rowEnd(i uint) uint {
	row := r.buf[:r.to]
	for i < uint(len(row)) && row[i] == r.format.Delimiter {
		i++
	}
	if i < uint(len(row)) && row[i] == '\r' {
		i++
	}
	if i < uint(len(row)) && row[i] == '\n' {
		return i + 1
	}
	return 0
}

// exponent reads an exponent of two digits with its sign, E+00 or e-05.
func exponent(w uint32) (e int, ok bool) {
	tens, ones := w>>16&0xff-'0', w>>24-'0'
	sign := w >> 8 & 0xff
	down := int(sign>>1&1) - 1 // '+' is 0x2b and '-' 0x2d: 0 and -1
	e = int(10*tens + ones)
	return (e ^ down) - down, w&0xff|0x20 == 'e' && tens <= 9 && ones <= 9 && (sign == '+' || sign == '-')
}
