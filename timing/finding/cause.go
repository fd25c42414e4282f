package finding

import (
	"math"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// CauseOptions are the reader's own numbers; see [cause.Options].
type CauseOptions = cause.Options

// Causes is what the job's evidence makes of every cause, and what to check next.
type Causes struct {
	Evidence      []Clue            `json:"evidence"`
	Causes        []CauseFound      `json:"causes"` // the most probable first; they add up to 1
	Contradiction *Contradiction    `json:"contradiction"`
	Next          []NextCheck       `json:"next_checks"` // the one that tells most for its minutes first
	Plan          []PlanStep        `json:"plan"`
	SureFrom      float64           `json:"sure_from"`
	Says          phrase.Sentence   `json:"-"` // the most probable cause
	Then          []phrase.Sentence `json:"-"` // how sure that is, and what to do
	PlanSays      phrase.Sentence   `json:"-"` // what the plan reckons with, or why there is none
	Notes         []phrase.Sentence `json:"-"`
	Ranking       *cause.Ranking    `json:"-"`
	Engine        cause.Engine      `json:"-"`
	given         []cause.Evidence
}

// CauseFound is one cause: a fault, or two faults at once.
type CauseFound struct {
	Cause       string            `json:"cause"`
	Probability float64           `json:"probability"`                       // that this and nothing else is wrong; they add up to 1
	InAll       float64           `json:"probability_alone_or_with_another"` // of a pair and of the rest the same again
	Prior       float64           `json:"prior"`                             // before any evidence
	Explains    []string          `json:"explains"`
	Against     []string          `json:"against"`  // evidence that speaks against it
	Reasons     []ReasonFound     `json:"reasons"`  // one for each piece of evidence
	Predicts    map[string]any    `json:"predicts"` // by kind of evidence, and wheel_error_deg and cam_error_deg; null where it cannot be said
	Meaning     []phrase.Sentence `json:"-"`        // what the cause is, a sentence for each fault
}

// ReasonFound is what one piece of evidence does for a cause.
type ReasonFound struct {
	Key    string          `json:"key"`
	Kind   string          `json:"kind"`
	Factor float64         `json:"factor"` // so many times as probable as before, against all others
	Speaks int             `json:"-"`      // 1: for the cause, -1: against it, 0: hardly either way
	Says   phrase.Sentence `json:"-"`
}

// Contradiction is evidence that no cause explains together.
type Contradiction struct {
	Evidence []string        `json:"evidence"` // keys; none when more than two are needed for it
	Says     phrase.Sentence `json:"-"`
}

// NextCheck is a check that could be made next.
type NextCheck struct {
	Check         string         `json:"check"`
	Title         phrase.Text    `json:"-"` // Check, for people
	GainBits      float64        `json:"gain_bits"`
	Minutes       float64        `json:"minutes"`
	BitsPerMinute float64        `json:"bits_per_minute"`
	Worth         float64        `json:"-"`     // what the list is ordered by
	Kinds         []string       `json:"kinds"` // of evidence that it brings
	Tools         phrase.Text    `json:"tools"`
	Cautions      []phrase.Text  `json:"cautions"`
	Outcomes      []OutcomeFound `json:"outcomes"`         // the most probable first
	Rest          float64        `json:"rest_probability"` // that none of these comes; with them it adds up to 1
}

// OutcomeFound is what a check may show and what that would mean.
type OutcomeFound struct {
	Shows       string            `json:"shows"`
	Probability float64           `json:"probability"`
	Cause       string            `json:"then_cause"` // the fault that would then be the most probable
	Then        float64           `json:"then_probability"`
	Says        []phrase.Sentence `json:"-"` // Shows, a sentence for each kind
	Values      []cause.Found     `json:"-"` // Shows, for programs
}

// PlanStep is one step of a plan that reckons with the most probable outcome of
// each check.
type PlanStep struct {
	Title   phrase.Text       `json:"-"` // Check, for people
	Check   string            `json:"check"`
	Minutes float64           `json:"minutes"`
	Shows   string            `json:"if_it_shows"`
	Cause   string            `json:"then_cause"`
	Then    float64           `json:"then_probability"`
	Says    []phrase.Sentence `json:"-"` // Shows, a sentence for each kind
	Values  []cause.Found     `json:"-"` // Shows, for programs
}

// rest is the name under which pairs of faults that are hardly probable are put
// together.
const rest = "any other two together"

// Below this a pair of faults is not listed by itself.
const leastPair = 0.002

// planSteps is how far a plan looks ahead.
const planSteps = 5

// CausesOf ranks the causes by the job's evidence. Who shows them has in the result:
//
//	Says, Then       the answer in a sentence, and what to do with it
//	Notes            what was assumed, contradictions first
//	Evidence         what counts as seen, with the job's key that it comes from
//	Causes           the most probable first: Meaning, Chance, ByStrength, Predicts
//	ErrorsIf(name)   how far wheel, cam and valves are ahead then, for the figures
//	Next             the checks: minutes, tools, cautions, Gain, Outcomes[].Says and
//	                 what is not named (Rest)
//	Plan, PlanSays   the checks one after the other, until one cause is sure
//
// Own priors and minutes are in the options, by the names that [cause.Faults] and
// [cause.Checks] have; [CheckCauseOptions] says what is wrong with them. The kinds of
// evidence are in [EvidenceKinds]; a job may name them otherwise, and
// [cause.KindNamed] and [cause.Kind.Settled] say what then counts.
//
// What is wrong with the evidence is reported as [job.Faults].
func CausesOf(j job.Job, o CauseOptions) (Causes, error) {
	j = j.AsItIs() // a what-if is no evidence
	if faults := CheckEvidence(j); faults != nil {
		return Causes{}, faults
	}
	dowel, keyway, err := features(j)
	if err != nil {
		return Causes{}, err
	}
	e, err := causeEngine(j, dowel)
	if err != nil {
		return Causes{}, err
	}
	c := Causes{Evidence: clues(j, dowel, keyway), Engine: e, SureFrom: cause.Sure}
	for _, clue := range c.Evidence {
		c.given = append(c.given, clue.evidence())
	}
	if len(o.Priors) == 0 && len(o.Minutes) == 0 && o.PairShare == nil {
		c.Ranking, err = rank(e, c.given)
	} else {
		c.Ranking, err = cause.Rank(e, c.given, o)
	}
	if err != nil {
		return Causes{}, err
	}
	c.rank()
	if err := c.next(); err != nil {
		return Causes{}, err
	}
	c.clash()
	c.say(j)
	return c, nil
}

// rank lists every fault, the pairs that are worth naming, and the rest.
func (c *Causes) rank() {
	left, leftPrior := 0.0, 0.0
	for i := range c.Ranking.Causes {
		k := &c.Ranking.Causes[i]
		if len(k.Faults) > 1 && k.Probability < leastPair {
			left, leftPrior = left+k.Probability, leftPrior+k.Prior
			continue
		}
		c.Causes = append(c.Causes, c.found(k))
	}
	if leftPrior > 0 {
		c.Causes = append(c.Causes, CauseFound{Cause: rest, Probability: left, InAll: left, Prior: round(leftPrior),
			Explains: []string{}, Against: []string{}, Reasons: []ReasonFound{}, Predicts: map[string]any{}})
	}
}

// A piece of evidence speaks for or against a cause when it makes it at least so
// many times as probable, or improbable; between, it hardly matters.
const speaks = 1.2

func (c *Causes) found(k *cause.Cause) CauseFound {
	f := CauseFound{Cause: k.Name(), Probability: k.Probability, InAll: k.Probability, Prior: round(k.Prior),
		Explains: []string{}, Against: []string{}, Reasons: []ReasonFound{}, Predicts: map[string]any{}}
	if len(k.Faults) == 1 {
		f.InAll = c.Ranking.Single(k.Faults[0])
	}
	for _, name := range k.Faults {
		f.Meaning = append(f.Meaning, phrase.Sentence{Text: meanings[name]})
	}
	for _, r := range c.Ranking.Reasons(k) {
		why := reason(c.Evidence[r.Evidence], r.Factor)
		switch why.Speaks {
		case 1:
			f.Explains = append(f.Explains, why.Kind)
		case -1:
			f.Against = append(f.Against, why.Kind)
		}
		f.Reasons = append(f.Reasons, why)
	}
	for _, p := range c.Ranking.Predicts(k) {
		kind, _ := cause.KindNamed(p.Kind)
		switch kind.Value {
		case cause.YesNo:
			f.Predicts[p.Kind] = p.Word == "yes"
		case cause.Word:
			f.Predicts[p.Kind] = p.Word
		default:
			f.Predicts[p.Kind] = toTenths(p.Number)
		}
	}
	for _, p := range c.Ranking.PredictsErrors(k) {
		f.Predicts[p.Kind] = toTenths(p.Number)
	}
	return f
}

// joined are sentences in English.
func joined(list []phrase.Sentence) string {
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = s.String()
	}
	return strings.Join(words, "; ")
}

// toTenths is a predicted number; nil stays nil.
func toTenths(n *float64) any {
	if n == nil {
		return nil
	}
	return round(math.Round(*n*10) / 10)
}

// next lists the checks and the plan.
func (c *Causes) next() error {
	c.Next, c.Plan = []NextCheck{}, []PlanStep{}
	list, err := c.Ranking.Next()
	if err != nil {
		return err
	}
	for _, n := range list {
		k := NextCheck{Check: n.Check.Name, GainBits: n.Bits, Minutes: n.Check.Minutes, BitsPerMinute: n.PerMinute(), Worth: n.Worth(), Kinds: n.Check.Kinds,
			Title: n.Check.Title, Tools: n.Check.Tools, Cautions: []phrase.Text{}, Outcomes: []OutcomeFound{}, Rest: n.Rest}
		for _, a := range n.Check.Cautions {
			k.Cautions = append(k.Cautions, a.Text())
		}
		for _, o := range n.Outcomes {
			says := foundSays(o.Values)
			k.Outcomes = append(k.Outcomes, OutcomeFound{joined(says), o.Probability, o.Fault, o.Then, says, o.Values})
		}
		c.Next = append(c.Next, k)
	}
	plan, err := c.Ranking.PlanFrom(list, planSteps)
	for _, s := range plan {
		says := foundSays(s.Expects.Values)
		c.Plan = append(c.Plan, PlanStep{s.Check.Title, s.Check.Name, s.Check.Minutes, joined(says), s.Fault, s.Then, says, s.Expects.Values})
	}
	return err
}

func (c *Causes) clash() {
	k := c.Ranking.Clash()
	if k == nil {
		return
	}
	c.Contradiction = &Contradiction{Evidence: []string{}}
	var of []Clue
	for _, i := range k.Evidence {
		of = append(of, c.Evidence[i])
		c.Contradiction.Evidence = append(c.Contradiction.Evidence, c.Evidence[i].Key)
	}
	c.Contradiction.Says = clashSays(of)
}

// ErrorsIf returns how far crank wheel, cam and valves most probably are ahead if
// a cause holds, in crank degrees, the short way round: what its figures are drawn
// with. ok is false for a name that is none, and for a cause that the evidence has
// ruled out.
func (c Causes) ErrorsIf(name string) (wheel, cam, valves timing.Deg, ok bool) {
	k := c.Ranking.Find(name)
	if k == nil {
		return 0, 0, 0, false
	}
	s, ok := k.State()
	if !ok {
		return 0, 0, 0, false
	}
	wheel, cam, valves = s.Errors(c.Engine)
	return wheel, cam, valves, true
}
