package samples

import "math/bits"

// Eight characters of text are looked at as one number of 64 bits, the first of them
// in its lowest byte.

// zeros is eight times the character 0.
const zeros = 0x3030303030303030

// digitValues makes of each digit its value, and marks every byte that is none by its
// highest bit. A byte above a digit's carries, so that the marks can be trusted up to
// and with the first one, and a sign's does not.
func digitValues(w uint64) (x, other uint64) {
	x = w ^ zeros
	return x, (x + 0x7676767676767676 | x) & 0x8080808080808080
}

// added is the number that eight values of digits make, those of the highest place in
// the lowest byte: they are added up in pairs, fours and eights.
func added(x uint64) uint64 {
	const low = 0x000000ff000000ff
	x = x*10 + x>>8
	return ((x&low)*(100+1000000<<32) + (x>>16&low)*(1+10000<<32)) >> 32
}

// eight reads the digits at the beginning of eight characters: their value and how many
// there are. They are moved to the end, so that zeros stand before them.
func eight(w uint64) (value uint64, digits int) {
	x, other := digitValues(w)
	digits = bits.TrailingZeros64(other) / 8
	return added(x << uint(64-8*digits)), digits
}

// tens are powers of ten.
var tens = [9]uint64{1, 10, 100, 1000, 10000, 100000, 1000000, 10000000, 100000000}
