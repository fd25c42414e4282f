package wheel

import (
	"slices"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// Notation is a wheel as the trade writes its tooth counts: "60-2" has 60 positions with
// two missing in a row, "36-2-2-2" three such gaps, "24+1" 24 teeth and one more tooth,
// which is a wheel of its own on the camshaft. It says how many teeth there are, not
// where: see [Notation.Missing].
type Notation struct {
	Positions int
	Gaps      []int // how many teeth are missing in each gap; the last, which is before position 1, is one of the longest
	Extra     int   // teeth of the wheel on the camshaft, 0 for none said
}

// MaxNotated is the most positions that a notation may have.
const MaxNotated = 3600

const tooManyGone phrase.Text = "%q has more teeth missing than a wheel of %d positions can spare"

// ParseNotation reads a notation; a bare number is a wheel with all its teeth. A wheel has
// no end: whichever gap is written first, position 1 follows one of the longest, so that
// 36-2-1 and 36-1-2 are the same.
func ParseNotation(text string) (Notation, error) {
	text = strings.NewReplacer("–", "-", "−", "-", " ", "").Replace(text)
	wrong := func(why phrase.Text, args ...any) (Notation, error) {
		return Notation{}, phrase.Errorf(why, args...)
	}
	teeth, extra, plus := strings.Cut(text, "+")
	counts := strings.Split(teeth, "-")
	n := Notation{}
	for i, word := range counts {
		v, err := strconv.Atoi(word)
		if err != nil || v < 1 {
			return wrong("%q is not a tooth count: write it as in 60, 60-2, 36-2-2-2 or 24+1", text)
		}
		switch {
		case i == 0 && v > MaxNotated:
			return wrong("%q has %d positions; at most %d are accepted", text, v, MaxNotated)
		case i == 0:
			n.Positions = v
		case v > MaxNotated: // summed, a few of them would be no number any more
			return wrong(tooManyGone, text, n.Positions)
		default:
			n.Gaps = append(n.Gaps, v)
		}
	}
	if plus {
		v, err := strconv.Atoi(extra)
		if err != nil || v < 1 || v > 100 || strings.ContainsAny(extra, "+-") {
			return wrong("%q is not a tooth count: write it as in 60, 60-2, 36-2-2-2 or 24+1", text)
		}
		n.Extra = v
	}
	if len(n.Gaps) > 0 {
		for longest := slices.Max(n.Gaps); n.Gaps[len(n.Gaps)-1] < longest; {
			n.Gaps = append(n.Gaps[1:], n.Gaps[0])
		}
	}
	gone := 0
	for _, g := range n.Gaps {
		gone += g
	}
	// Each gap has a tooth at either end, or two of them were one.
	if gone+len(n.Gaps) > n.Positions {
		return wrong(tooManyGone, text, n.Positions)
	}
	if list := n.Missing(); len(list) > 0 && (list[0] < 2 || list[len(list)-1] > n.Positions) {
		return wrong("%q has gaps too unequal to be spaced evenly round the wheel: give %d alone, and list the positions that are missing", text, n.Positions)
	}
	return n, nil
}

// Missing are the positions without a tooth, with the gaps spaced as evenly as the
// positions let them: the last ends before position 1. Where a notation has several gaps,
// that is a guess which the wheel in hand decides.
func (n Notation) Missing() []int {
	var list []int
	for i, g := range n.Gaps {
		last := n.Positions * (i + 1) / len(n.Gaps)
		if i > 0 {
			last = max(last, list[len(list)-1]+1+g)
		}
		for p := last - g + 1; p <= last; p++ {
			list = append(list, p)
		}
	}
	return list
}

// Notated is the notation of a wheel: false where its gaps are not where the notation
// would have them.
func Notated(c Crank) (Notation, bool) {
	n := Notation{Positions: c.Positions}
	for _, g := range c.Gaps() {
		n.Gaps = append(n.Gaps, g.Missing)
	}
	missing := slices.Clone(c.Missing)
	slices.Sort(missing)
	return n, c.Positions > 0 && slices.Equal(missing, n.Missing())
}

// String writes the notation.
func (n Notation) String() string {
	text := strconv.Itoa(n.Positions)
	for _, g := range n.Gaps {
		text += "-" + strconv.Itoa(g)
	}
	if n.Extra > 0 {
		text += "+" + strconv.Itoa(n.Extra)
	}
	return text
}
