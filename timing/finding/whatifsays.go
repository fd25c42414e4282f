package finding

import (
	"pinphase.org/pinphase/timing/job"

	"pinphase.org/pinphase/timing/phrase"
)

// Supposing says all that a job supposes, in the order in which it was laid over it: a
// clause to stand in a sentence. ok is false for a job that supposes nothing.
func Supposing(j job.Job) (what phrase.Sentence, ok bool) {
	if j.Supposed == nil {
		return phrase.Sentence{}, false
	}
	for _, key := range j.Supposed.Keys {
		clause := supposedClause(j, key)
		if !ok {
			what, ok = clause, true
			continue
		}
		what = phrase.Sentence{Text: supposeTwo, Data: map[string]any{"A": what, "B": clause}}
	}
	return what, ok
}
