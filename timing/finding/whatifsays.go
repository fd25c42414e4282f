package finding

import "pinphase.org/pinphase/timing/job"

// Supposing says all that a job supposes, in the order in which it was laid over it: a
// clause to stand in a sentence. ok is false for a job that supposes nothing.
func Supposing(j job.Job) (what Sentence, ok bool) {
	if j.Supposed == nil {
		return Sentence{}, false
	}
	for _, key := range j.Supposed.Keys {
		clause := supposedClause(j, key)
		if !ok {
			what, ok = clause, true
			continue
		}
		what = Sentence{supposeTwo, map[string]any{"A": what, "B": clause}}
	}
	return what, ok
}
