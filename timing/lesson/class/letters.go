package class

import (
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// alphabet are the signs of a code, by what each stands for.
const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

const bitsEach = 5

// times multiplies by x in the field of 32 elements, as polynomials over two elements
// modulo x⁵ + x² + 1. That polynomial is primitive (Lidl and Niederreiter, Finite
// Fields, table C; from memory: a test counts the powers of x), so that all 31 powers
// of x differ.
func times(v byte) byte {
	v <<= 1
	if v&32 != 0 {
		v ^= 32 | 5
	}
	return v
}

// sum is what the signs of a code weigh together: the last by 1, each before it by x
// times the weight of the one after it, and a 1 before the first, so that zeros that are
// missing or too many count. It is 0 for a code with its check letter.
func sum(signs []byte) byte {
	all := byte(1)
	for _, s := range signs {
		all = times(all) ^ s
	}
	return all
}

// write is the code of some bits, with its check letter.
func write(b bitList) string {
	var signs []byte
	for i := 0; i < len(b); i += bitsEach {
		var s byte
		for k := range bitsEach {
			s <<= 1
			if i+k < len(b) {
				s |= b[i+k]
			}
		}
		signs = append(signs, s)
	}
	signs = append(signs, times(sum(signs)))
	var words strings.Builder
	for i, s := range signs {
		if i > 0 && i%4 == 0 {
			words.WriteByte('-')
		}
		words.WriteByte(alphabet[s])
	}
	return words.String()
}

// Tidy is a code in capital letters without what makes no difference.
func Tidy(code string) string {
	return strings.NewReplacer("I", "1", "L", "1", "O", "0", "-", "", "–", "", ".", "").Replace(strings.Join(strings.Fields(strings.ToUpper(code)), ""))
}

// read is what [write] was given, filled up with zeros to whole signs.
func read(code string) (bitList, error) {
	var signs []byte
	for _, r := range Tidy(code) {
		at := strings.IndexRune(alphabet, r)
		if at < 0 {
			return nil, phrase.Errorf("%q does not occur in a code: it has digits and letters, without I, L, O and U", string(r))
		}
		signs = append(signs, byte(at))
	}
	switch {
	case len(signs) == 0:
		return nil, phrase.Errorf("no code was entered")
	case len(signs) > mostSigns:
		return nil, phrase.Errorf("the code has %d letters; the longest has %d", len(signs), mostSigns)
	case len(signs) < leastSigns || sum(signs) != 0:
		return nil, phrase.Errorf("the code is not correct: a letter is wrong, missing or in another place. Compare it letter by letter")
	}
	var b bitList
	for _, s := range signs[:len(signs)-1] {
		b.put(uint64(s), bitsEach)
	}
	return b, nil
}

// leastSigns and mostSigns are how long a code may be: the longest is the result of an
// exercise of [MostQuestions].
const (
	leastSigns = 5
	mostSigns  = (3+markBits+learnerBits+countBits+2*MostQuestions)/bitsEach + 2
)
