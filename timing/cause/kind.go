package cause

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

// Value is what sort of value a kind of evidence has.
type Value int

// The sorts of value.
const (
	Number Value = iota
	YesNo
	Word
)

// Kind is a kind of evidence: its name and values, and how probable each value is
// in a state. [Kinds] is the table of them.
type Kind struct {
	Name    string            // as the job file has it
	Title   phrase.Text       // what was seen, in words
	Value   Value             // sort of value
	Unit    phrase.Text       // of a number: "°", "bar", "rpm", "teeth"
	Min     float64           // smallest and
	Max     float64           // largest number that is taken
	Whole   bool              // whole numbers only
	U       float64           // standard uncertainty of a number given without one
	Words   []string          // those of a word, as the job file has them; for yes or no, no comes first
	Shown   []phrase.Text     // the same words, for people
	Aliases map[string]string // other words for the same, in small letters
	judged  bool              // a number of which "good" and "not good" may be said as well: the more the better
	Misread float64           // how probable it is that the reading is worth nothing
	Slip    float64           // how probable it is that a count is out by one, either way
	Rule    string            // the likelihood, in words
	Source  string

	number func(*Engine, *State) expected
	period func(*Engine) timing.Deg // after which a number reads the same; nil: it does not
	told   func(*Engine) timing.Deg // that of a number beyond half the period: more was known then; nil: the same
	word   func(*Engine, *State, int) float64
	look   bool // a part looked at: the first word says that it is right
	parts  bool // a word that says which part was replaced: it changes the priors
}

// Kinds returns the kinds of evidence, in the order in which to offer them.
func Kinds() []Kind { return append([]Kind(nil), kinds...) }

// Evidence is one thing that was seen: a number with its standard uncertainty, a
// yes or no, or a word.
type Evidence struct {
	Kind  string
	Value any     // float64, bool or string
	U     float64 // of a number; 0: the kind's own
}

// Index returns which of the kind's words a value is; no is 0 and yes 1. Other words
// for the same are taken too, and letters may be large.
func (k *Kind) Index(value any) (int, bool) {
	switch v := value.(type) {
	case bool:
		if k.Value != YesNo {
			return 0, false
		}
		if v {
			return 1, true
		}
		return 0, true
	case string:
		v = strings.ToLower(strings.TrimSpace(v))
		if k.judged {
			i := slices.Index(judgements[:], k.alias(v))
			return i, i >= 0
		}
		if k.Value == YesNo {
			i := slices.Index([]string{"no", "yes", "false", "true"}, v)
			return i % 2, i >= 0
		}
		if k.Value != Word {
			return 0, false
		}
		i := slices.Index(k.Words, k.alias(v))
		if i < 0 { // what people read is taken too
			i = slices.IndexFunc(k.Shown, func(t phrase.Text) bool { return strings.EqualFold(string(t), v) })
		}
		return i, i >= 0
	}
	return 0, false
}

// Settled returns a value as the tables have it: yes and no as true and false,
// another word for the same as the word that counts. What the kind does not take
// stays as it is.
func (k *Kind) Settled(value any) any {
	i, ok := k.Index(value)
	switch {
	case !ok:
		return value
	case k.Value == YesNo:
		return i == 1
	case k.judged:
		return judgements[i]
	}
	return k.Words[i]
}

// judgements are what may be said of a number that nobody has read.
var judgements = [2]string{"good", "not good"}

// judgementTexts are the same for people.
var judgementTexts = [2]phrase.Text{"good", "not good"}

// Text is a value of the kind that is a word, for people; "" for any other.
func (k *Kind) Text(value any) phrase.Text {
	i, ok := k.Index(value)
	switch {
	case !ok:
		return ""
	case k.Value == YesNo:
		return [2]phrase.Text{"no", "yes"}[i]
	case k.judged:
		return judgementTexts[i]
	}
	return k.Shown[i]
}

// Judgements returns the words that the kind takes in place of a number, nil where
// it takes none.
func (k *Kind) Judgements() []string {
	if k.judged {
		return judgements[:]
	}
	return nil
}

// Takes says which values the kind takes: "true or false", "a number, from 0 to 100
// bar".
func (k *Kind) Takes() phrase.Sentence {
	switch {
	case k.Value == YesNo:
		return phrase.Sentence{Text: "true or false"}
	case k.Value == Word:
		return quoted(k.words())
	case k.Whole:
		return phrase.Of("a whole number, %s", k.limits())
	}
	if k.judged {
		return phrase.Of("a number, %s; u where not given %g; or %s", k.limits(), k.U, quoted(judgements[:]))
	}
	return phrase.Of("a number, %s; u where not given %g", k.limits(), k.U)
}

// CheckValue says what is wrong with a value of the kind, and what would be right;
// false for a sound one.
func (k *Kind) CheckValue(value any) (wrong phrase.Sentence, is bool) {
	number, isNumber := value.(float64)
	switch k.Value {
	case YesNo:
		if _, ok := k.Index(value); !ok {
			return phrase.Of("is %s; %s takes %s", shown(value), k.Name, k.Takes()), true
		}
	case Word:
		if _, ok := value.(string); !ok {
			return phrase.Of("is %s; %s takes one of the words %s", shown(value), k.Name, quoted(k.words())), true
		}
		if _, ok := k.Index(value); !ok {
			return phrase.Of("%s is not known for %s; it is %s", shown(value), k.Name, quoted(k.words())), true
		}
	default:
		_, said := k.Index(value)
		switch {
		case said:
		case !isNumber:
			return phrase.Of("is %s; %s takes a number, %s", shown(value), k.Name, k.limits()), true
		case math.IsNaN(number) || math.IsInf(number, 0) || number < k.Min || number > k.Max:
			return phrase.Of("is %s; %s must be %s", shown(value), k.Name, k.limits()), true
		case k.Whole && number != math.Trunc(number):
			return phrase.Of("is %s; %s must be a whole number, %s", shown(value), k.Name, k.limits()), true
		}
	}
	return phrase.Sentence{}, false
}

// CheckU says what is wrong with a standard uncertainty given for the kind; false when
// nothing is.
func (k *Kind) CheckU(u float64) (wrong phrase.Sentence, is bool) {
	switch {
	case k.Value != Number || k.Whole:
		return phrase.Of("does not apply to %s, which is not a measurement; leave it out", k.Name), true
	case !(u >= 0 && u <= k.Max-k.Min):
		return phrase.Of("is %g; a standard uncertainty must be from 0 to %g", u, k.Max-k.Min), true
	}
	return phrase.Sentence{}, false
}

// words are the words that are taken, with the codes that stand for them; other
// words for the same are not listed.
func (k *Kind) words() []string {
	list := slices.Clone(k.Words)
	var others []string
	for a := range k.Aliases {
		if strings.HasPrefix(a, "p0") {
			others = append(others, strings.ToUpper(a))
		}
	}
	slices.Sort(others)
	return append(list, others...)
}

// limits are the least and the greatest number that is taken, in the unit that the
// job file has.
func (k *Kind) limits() phrase.Sentence {
	switch k.Unit {
	case "":
		return phrase.Of("from %g to %g", k.Min, k.Max)
	case "°":
		return phrase.Of("from %g to %g°", k.Min, k.Max)
	}
	return phrase.Of("from %g to %g %s", k.Min, k.Max, k.Unit)
}

func shown(value any) string {
	if s, ok := value.(string); ok {
		if r := []rune(s); len(r) > 40 {
			s = string(r[:40]) + "..."
		}
		return fmt.Sprintf("%q", s)
	}
	return fmt.Sprint(value)
}

// quoted lists words: "a", "b" or "c".
func quoted(words []string) phrase.Sentence {
	list := make([]string, len(words))
	for i, w := range words {
		list[i] = fmt.Sprintf("%q", w)
	}
	if len(list) == 1 {
		return phrase.Plain(list[0])
	}
	return phrase.Of("%s or %s", strings.Join(list[:len(list)-1], ", "), list[len(list)-1])
}

// seen is a piece of evidence made ready to be weighed.
type seen struct {
	kind   *Kind
	at     float64
	u      float64
	word   int
	period float64 // 0: none
	flat   float64 // density of a misreading
	judged bool    // word is one of judgements, in place of a number
}

// ready returns the evidence as seen. A kind or value that is not known is an
// error: [Kind.CheckValue] says which.
func (ev Evidence) ready(e *Engine) (seen, error) {
	k, ok := KindNamed(ev.Kind)
	if !ok {
		return seen{}, phrase.Errorf("there is no kind of evidence %q", ev.Kind)
	}
	if what, wrong := k.CheckValue(ev.Value); wrong {
		return seen{}, phrase.Errorf("the value of %s %s", ev.Kind, what)
	}
	s := seen{kind: k}
	if k.Value != Number {
		s.word, _ = k.Index(ev.Value)
		s.flat = 1 / float64(max(len(k.Words), 2))
		return s, nil
	}
	if s.word, s.judged = k.Index(ev.Value); s.judged {
		s.flat = 0.5
		return s, nil
	}
	s.at, s.u = ev.Value.(float64), ev.U
	if s.u <= 0 {
		s.u = k.U
	}
	s.settle(e)
	return s, nil
}

// widest is the longest period a number of the kind can have.
func (k *Kind) widest(e *Engine) timing.Deg {
	if k.told != nil {
		return k.told(e)
	}
	return k.period(e)
}

func (s *seen) settle(e *Engine) {
	_, span := s.kind.span(e)
	if s.kind.period != nil {
		s.period = float64(s.kind.period(e))
		if math.Abs(s.at) > s.period/2 {
			s.period = float64(s.kind.widest(e))
		}
		span = s.period
	}
	s.flat = 1 / span
}

// span returns from where on and over how much a number of the kind may lie that
// somebody takes for a reading of this engine: a misreading is any of these. What lies
// outside is taken for the nearest.
func (k *Kind) span(e *Engine) (lo, span float64) {
	switch {
	case k.Whole:
		return -4.5, 9
	case k.period != nil:
		span = float64(k.period(e))
		if span > float64(timing.Turn) {
			return -span / 3, span // half a cycle out is in one piece then
		}
		return -span / 2, span
	case k.Unit == "bar" && k.Max > 100:
		return k.Min, 3 * e.RailBar
	case k.Unit == "bar":
		return k.Min, 3 * e.CompressionBar
	case k.Unit == "rpm":
		return k.Min, 2 * e.CrankingRPM
	}
	return k.Min, k.Max - k.Min
}

// likelihood is how probable what was seen is in a state; of a number, the
// density.
func (s *seen) likelihood(e *Engine, st *State) float64 {
	k := s.kind
	if k.Value != Number {
		return (1-k.Misread)*k.word(e, st, s.word) + k.Misread*s.flat
	}
	x := k.number(e, st)
	if s.judged {
		return (1-k.Misread)*x.can*k.judgement(e, x, s.word) + k.Misread*s.flat
	}
	sd := math.Hypot(x.sd, s.u)
	d := s.density(x.at, sd)
	if k.Slip > 0 {
		d = (1-k.Slip)*d + k.Slip/2*(s.density(x.at-1, sd)+s.density(x.at+1, sd))
	}
	return (1-k.Misread)*x.can*d + k.Misread*s.flat
}

// judgement is how probable it is that somebody calls a number good (0) or not (1)
// that should read x: good is what lies no further below a sound engine's than two
// and a half of its standard deviations.
func (k *Kind) judgement(e *Engine, x expected, word int) float64 {
	sound := k.number(e, &State{})
	least := sound.at - 2.5*math.Hypot(sound.sd, k.U)
	p := distuv.UnitNormal.CDF((x.at - least) / math.Hypot(x.sd, k.U))
	if word == 0 {
		return p
	}
	return 1 - p
}

// density is the normal density of what was read about a number.
func (s *seen) density(at, sd float64) float64 {
	z := s.off(at) / sd
	if z >= 9 {
		return 0
	}
	return math.Exp(-z*z/2) / (sd * math.Sqrt(2*math.Pi))
}

// off is by how much what was read misses a number, the short way round.
func (s *seen) off(at float64) float64 {
	d := math.Abs(s.at - at)
	if s.period > 0 {
		d = math.Mod(d, s.period)
		d = min(d, s.period-d)
	}
	return d
}
