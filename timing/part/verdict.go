package part

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/part/uncertainty"
)

// Kind is what a part turns out to be.
type Kind int

// The kinds. NotSure is no case of its own: no kind is probable enough.
const (
	AsDrawn     Kind = iota // keyway and dowel are where the drawing has them
	Mirrored                // the dowel alone, or the whole drawing, is on the other side
	KeywayWrong             // the keyway is off the throw; the dowel was set out rightly, from either
	OtherError              // anything else: the dowel at any angle, or two mistakes at once
	NotSure
)

// String returns the kind as it stands in JSON.
func (k Kind) String() string {
	return [...]string{"as_drawn", "mirrored", "keyway_wrong", "other", "not_surely_known"}[k]
}

// Sure is how probable a kind must be to be called surely known; the same 95 %
// as all intervals.
const Sure = 0.95

// Place is where a feature is on the real part.
type Place int

// The places.
const (
	Right     Place = iota // where the drawing has it; a dowel: from the keyway as it is
	Opposite               // mirrored to the other side of its datum
	FromThrow              // a dowel set out rightly from the throw although the keyway is not
	Elsewhere              // at any angle
)

// String returns the place as it stands in JSON.
func (p Place) String() string {
	return [...]string{"as_drawn", "mirrored", "right_from_throw", "elsewhere"}[p]
}

// Case is one way in which a part can be made, and how probable it is.
type Case struct {
	Keyway, Dowel Place
	Probability   float64
}

// Kind returns which kind the case belongs to.
func (c Case) Kind() Kind {
	switch {
	case c.Keyway == Right && c.Dowel == Right:
		return AsDrawn
	case c.Dowel == Opposite && c.Keyway != Elsewhere:
		return Mirrored
	case c.Keyway != Right && (c.Dowel == Right || c.Dowel == FromThrow):
		return KeywayWrong
	}
	return OtherError
}

// beliefs is how probable each case is before anything is measured. Common
// practice, no source: most parts are right; a hole drilled on the wrong side is
// the classic way to be wrong; a keyway is cut wrong more seldom, for it is cut
// with the throws; any angle of a feature that is elsewhere is as likely as the
// next. The probabilities add up to 1.
var beliefs = []Case{
	{Keyway: Right, Dowel: Right, Probability: 0.80},
	{Keyway: Right, Dowel: Opposite, Probability: 0.08},
	{Keyway: Opposite, Dowel: Opposite, Probability: 0.01}, // the whole drawing read from the wrong end
	{Keyway: Elsewhere, Dowel: FromThrow, Probability: 0.02},
	{Keyway: Elsewhere, Dowel: Right, Probability: 0.02},
	{Keyway: Opposite, Dowel: Right, Probability: 0.01},
	{Keyway: Right, Dowel: Elsewhere, Probability: 0.05},
	{Keyway: Elsewhere, Dowel: Opposite, Probability: 0.002},
	{Keyway: Elsewhere, Dowel: Elsewhere, Probability: 0.008},
}

// makingU is how far a feature made where it was meant to be still misses, as a
// standard uncertainty: fits and marking out, tenths of a degree at the radii of
// a crankshaft's nose. Common practice, no source.
const makingU timing.Deg = 0.3

// Verdict is how probable each kind of part is, given what was measured. The
// four sum to 1.
type Verdict struct {
	AsDrawn, Mirrored, KeywayWrong, Other float64
	Cases                                 []Case // in the order of the table of beliefs
	HasDowel, HasKeyway                   bool   // which features were measured

	known []knowledge // of each case
}

// knowledge is where keyway and dowel are if one case holds, as errors in
// degrees: of the keyway from the throw, of the dowel from the keyway.
type knowledge struct{ keyway, dowel spread }

// Judge weighs the cases by Bayes' rule. A feature that was not measured, or has
// no drawing to compare with, is nil; what it leaves open stays open.
func Judge(dowel, keyway *Comparison) Verdict {
	v := Verdict{HasDowel: dowel != nil, HasKeyway: keyway != nil}
	d, k := siteOf(dowel), siteOf(keyway)
	sum := 0.0
	for _, c := range beliefs {
		weight, known := c.weigh(d, k)
		c.Probability *= weight
		sum += c.Probability
		v.Cases = append(v.Cases, c)
		v.known = append(v.known, known)
	}
	of := map[Kind]float64{}
	for i := range v.Cases {
		v.Cases[i].Probability /= sum
		of[v.Cases[i].Kind()] += v.Cases[i].Probability
	}
	v.AsDrawn, v.Mirrored, v.KeywayWrong, v.Other = of[AsDrawn], of[Mirrored], of[KeywayWrong], of[OtherError]
	return v
}

// weigh returns how probable the readings are if the case holds, and what it and
// they together say of the part.
func (c Case) weigh(dowel, keyway site) (float64, knowledge) {
	if c.Dowel == Opposite && dowel.sameOpposite() || c.Keyway == Opposite && keyway.sameOpposite() {
		return 0, knowledge{spread{flat: true}, spread{flat: true}}
	}
	meantKeyway := keyway.meant(c.Keyway)
	if c.Dowel == FromThrow {
		// Whatever the keyway is ahead, the dowel is behind it.
		if dowel.read != nil {
			meantKeyway = meantKeyway.and(dowel.read.negative().wider(dowel.made))
		}
		weight, k := keyway.against(meantKeyway)
		if dowel.read != nil {
			weight /= float64(timing.Turn) // the dowel alone may read anything; with the keyway, they agree
		}
		meantDowel := spread{flat: true}
		if keyway.read != nil {
			meantDowel = keyway.read.negative().wider(dowel.made)
		}
		_, d := dowel.against(meantDowel)
		return weight, knowledge{k, d}
	}
	a, k := keyway.against(meantKeyway)
	b, d := dowel.against(dowel.meant(c.Dowel))
	return a * b, knowledge{k, d}
}

// Kind returns the most probable kind, or NotSure where it is less probable than
// [Sure]; and its probability.
func (v Verdict) Kind() (Kind, float64) {
	k, p := v.Leading()
	if p < Sure {
		return NotSure, p
	}
	return k, p
}

// Leading returns the most probable kind and its probability.
func (v Verdict) Leading() (Kind, float64) {
	best := AsDrawn
	of := v.kinds()
	for k := range of {
		if of[k] > of[best] {
			best = Kind(k)
		}
	}
	return best, of[best]
}

func (v Verdict) kinds() [4]float64 {
	return [4]float64{v.AsDrawn, v.Mirrored, v.KeywayWrong, v.Other}
}

// OnOtherSide returns how probable it is that the dowel is on the other side of
// its keyway, whatever the keyway is.
func (v Verdict) OnOtherSide() float64 { return v.dowel(Opposite) }

// IsMirrored tells whether the dowel was measured and to be on the other side of
// its keyway is more probable than to be where the drawing has it, and than to be
// elsewhere.
func (v Verdict) IsMirrored() bool {
	p := v.OnOtherSide()
	return v.HasDowel && p > v.dowel(Right) && p > v.dowel(Elsewhere)+v.dowel(FromThrow)
}

func (v Verdict) dowel(at Place) float64 {
	sum := 0.0
	for _, c := range v.Cases {
		if c.Dowel == at {
			sum += c.Probability
		}
	}
	return sum
}

// site is a feature's drawing and reading in the terms of the verdict: as an
// error, in degrees.
type site struct {
	opposite float64 // the error of a feature on the other side
	made     float64 // how far one made right may miss, with the drawing's own uncertainty
	read     *spread // nil: not measured
}

func siteOf(c *Comparison) site {
	if c == nil {
		return site{made: float64(makingU)}
	}
	e := timing.Difference(c.Drawing.Value, c.Measured.Value, timing.Turn)
	return site{
		opposite: float64(timing.WrapSigned(-2*c.Drawing.Value, timing.Turn)),
		made:     math.Hypot(float64(makingU), float64(c.Drawing.U)),
		read:     &spread{at: float64(e), sd: float64(c.Measured.U), dof: c.DOF},
	}
}

// sameOpposite tells whether the other side of the datum is where the drawing has
// the feature, to within what making leaves open in 95 of 100 parts: a dowel on
// the keyway's line cannot be on the wrong side of it.
func (s site) sameOpposite() bool {
	return s.read != nil && math.Abs(s.opposite) <= uncertainty.Coverage(0.95, 0)*s.made
}

// meant is where a feature is, before it is measured, if it is at the place. The
// other side of a drawing that is not known may be anywhere.
func (s site) meant(p Place) spread {
	switch {
	case p == Right:
		return spread{sd: s.made}
	case p == Opposite && s.read != nil:
		return spread{at: s.opposite, sd: s.made}
	}
	return spread{flat: true}
}

// against returns how probable the site's reading is where the feature is
// thought to be, 1 without a reading, and where it then is.
func (s site) against(meant spread) (float64, spread) {
	if s.read == nil {
		return 1, meant
	}
	return meant.density(*s.read), meant.and(*s.read)
}
