// Package known says how a value is known: measured, read from a recording, stated,
// assumed, supposed, or not at all. An answer is known as the weakest of what it
// stands on is.
package known

// Basis is how a value is known. The stronger is the greater, so that the weakest of
// several is the least.
type Basis int

// The bases. The zero value is Unknown: nobody has said how.
const (
	Unknown  Basis = iota
	Supposed       // a what-if, laid over a job for one question and kept nowhere
	Assumed        // a default, for want of anything better
	Stated         // typed as known
	Read           // from a recording of the sensors
	Measured       // on the part itself
)

var names = [...]string{"unknown", "supposed", "assumed", "stated", "read", "measured"}

// marks are told apart by their shape. A hollow one is what nobody has seen. All of
// them are in the font that screen and paper share.
var marks = [...]string{"?", "◇", "○", "□", "◆", "●"}

// String returns the basis as it stands in results for programs, which is also its
// English word.
func (b Basis) String() string { return names[b.within()] }

// Mark returns the sign that stands beside a value of this basis. It needs no colour.
func (b Basis) Mark() string { return marks[b.within()] }

func (b Basis) within() Basis {
	if b < Unknown || b > Measured {
		return Unknown
	}
	return b
}

// All returns every basis, the strongest first: the order of a legend.
func All() []Basis { return []Basis{Measured, Read, Stated, Assumed, Supposed, Unknown} }

// Weakest returns the weakest of several, and Measured of none: what stands on
// nothing is not weakened by anything.
func Weakest(of ...Basis) Basis {
	w := Measured
	for _, b := range of {
		w = min(w, b)
	}
	return w
}
