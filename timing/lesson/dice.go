package lesson

import (
	"hash/fnv"
	"math/bits"
	"math/rand/v2"
)

// dice are numbers that follow from a seed alone. The generator is PCG-DXSM
// (O'Neill, PCG: A Family of Simple Fast Space-Efficient Statistically Good
// Algorithms for Random Number Generation, 2014), whose sequence the standard
// library fixes; how a number below n is made of it is fixed here, so that a
// printed sheet can be printed again.
type dice struct{ from *rand.PCG }

// newDice returns the dice of a seed for one purpose.
func newDice(seed uint64, purpose string) dice {
	h := fnv.New64a()
	h.Write([]byte(purpose))
	return dice{rand.NewPCG(seed, h.Sum64())}
}

// below returns a whole number in [0, n). n must be above 0.
func (d dice) below(n int) int {
	high, _ := bits.Mul64(d.from.Uint64(), uint64(n)) // uneven by less than n in 2^64
	return int(high)
}

// between returns a whole number in [from, to].
func (d dice) between(from, to int) int { return from + d.below(to-from+1) }

// step returns a multiple of by in [from, to], all of them whole.
func (d dice) step(from, to, by int) int { return from + by*d.below((to-from)/by+1) }

func (d dice) coin() bool { return d.below(2) == 0 }

// sign returns 1 or -1.
func (d dice) sign() int { return 2*d.below(2) - 1 }

// seed returns a seed for something else.
func (d dice) seed() uint64 { return d.from.Uint64() }

// oneOf returns one of a list that is not empty.
func oneOf[T any](d dice, of ...T) T { return of[d.below(len(of))] }

// shuffle puts a list into any order (Fisher and Yates; Knuth, The Art of
// Computer Programming, vol. 2, 3.4.2, algorithm P).
func shuffle[T any](d dice, list []T) {
	for i := len(list) - 1; i > 0; i-- {
		k := d.below(i + 1)
		list[i], list[k] = list[k], list[i]
	}
}
