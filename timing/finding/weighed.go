package finding

import (
	"fmt"
	"strings"
	"sync"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// One ranking of the causes serves every answer to a job: the head, the part's page,
// the sheets and the causes themselves show the same numbers because they are the
// same. Ranking takes tens of milliseconds, and the head is asked for at every frame
// of a drag, so the last few are kept.
var rankings = struct {
	sync.Mutex
	kept []rankedJob // the newest last
}{}

type rankedJob struct {
	key     string
	ranking *cause.Ranking
	places  map[wheelAsked]wheelFound // what was asked of the ranking so far
}

// wheelAsked is a question to a ranking: how probable it is that the wheel is ahead by an
// angle, give or take so much, and in which band of that width it most probably is.
type wheelAsked struct{ at, by timing.Deg }

type wheelFound struct {
	agrees float64
	place  cause.WheelPlace
}

// wheelIn answers from a ranking where the wheel is. Every answer to a job asks the same,
// and to sort a ranking's states takes tens of milliseconds too.
func wheelIn(r *cause.Ranking, asked wheelAsked) wheelFound {
	rankings.Lock()
	for _, k := range rankings.kept {
		if found, ok := k.places[asked]; ok && k.ranking == r {
			rankings.Unlock()
			return found
		}
	}
	rankings.Unlock()
	found := wheelFound{r.WheelWithin(asked.at, asked.by), r.WheelLikeliest(asked.by)}
	rankings.Lock()
	defer rankings.Unlock()
	for _, k := range rankings.kept {
		if k.ranking == r {
			k.places[asked] = found
		}
	}
	return found
}

// keptRankings is how many rankings are kept: those of a job before and after its
// last edits.
const keptRankings = 8

// rank returns the ranking of the causes by some evidence, with the usual priors.
func rank(e cause.Engine, given []cause.Evidence) (*cause.Ranking, error) {
	key := rankingKey(e, given)
	rankings.Lock()
	for _, k := range rankings.kept {
		if k.key == key {
			rankings.Unlock()
			return k.ranking, nil
		}
	}
	rankings.Unlock()
	r, err := cause.Rank(e, given, cause.Options{})
	if err != nil {
		return nil, err
	}
	rankings.Lock()
	defer rankings.Unlock()
	rankings.kept = append(rankings.kept, rankedJob{key, r, map[wheelAsked]wheelFound{}})
	if over := len(rankings.kept) - keptRankings; over > 0 {
		rankings.kept = append([]rankedJob(nil), rankings.kept[over:]...)
	}
	return r, nil
}

// rankingKey holds all that a ranking depends on.
func rankingKey(e cause.Engine, given []cause.Evidence) string {
	var b strings.Builder
	if e.Dowel != nil {
		fmt.Fprintf(&b, "%v", *e.Dowel)
	}
	e.Dowel = nil
	fmt.Fprintf(&b, "%#v", e)
	for _, ev := range given {
		fmt.Fprintf(&b, "%#v", ev)
	}
	return b.String()
}

// weigh ranks the causes of a job by all that it holds; nil where nothing was seen or
// the evidence cannot be used.
func weigh(j job.Job, dowel, keyway feature) *cause.Ranking {
	if CheckEvidence(j) != nil {
		return nil
	}
	seen := clues(j, dowel, keyway)
	if len(seen) == 0 {
		return nil
	}
	e, err := causeEngine(j, dowel)
	if err != nil {
		return nil
	}
	given := make([]cause.Evidence, len(seen))
	for i, c := range seen {
		given[i] = c.evidence()
	}
	r, err := rank(e, given)
	if err != nil {
		return nil
	}
	return r
}

// verdict is the one answer to what is wrong, where a cause or two at once stand out: by all that
// the job holds, with the same numbers on every page, on paper and in JSON.
func (e errorsOf) verdict(j job.Job) []phrase.Sentence {
	r := e.ranking
	if r == nil && e.basis == known.Measured && tells(part.Result{Measured: e.wheel, DOF: e.wheelDOF}) {
		r = weigh(j.AsItIs(), e.dowel, e.keyway)
	}
	if r == nil {
		return nil
	}
	if pair := r.Pair(); pair != nil {
		return []phrase.Sentence{{Text: noteTwo, Data: map[string]any{"P": percent(pair.Probability), "Cause": titles[pair.Faults[0]], "Other": titles[pair.Faults[1]]}}}
	}
	fault, all := r.Leading()
	alone := r.Find(fault)
	if all < stands || alone == nil {
		return nil
	}
	return []phrase.Sentence{{Text: noteVerdict, Data: map[string]any{"Cause": titles[fault], "Alone": percent(alone.Probability), "All": percent(all)}}}
}
