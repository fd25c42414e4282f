package finding

import (
	"fmt"
	"math"
	"strings"

	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// evidenceKey names a piece of the job's evidence, counted from 0.
func evidenceKey(i int) string { return fmt.Sprintf("evidence[%d]", i+1) }

// fault is what is wrong with a key of the job.
func fault(key string, says phrase.Sentence) job.Fault {
	return job.Fault{Key: key, Message: says.String(), Says: says}
}

// CheckEvidence returns what is wrong with the kinds and values of the job's
// [[evidence]], with what would be right; nil when nothing is.
func CheckEvidence(j job.Job) job.Faults {
	var faults job.Faults
	for i, ev := range j.Evidence {
		at := evidenceKey(i)
		k, ok := cause.KindNamed(ev.Kind)
		if !ok {
			faults = append(faults, fault(at+".kind", unknownKind(ev.Kind)))
			continue
		}
		if what, wrong := k.CheckValue(ev.Value); wrong {
			faults = append(faults, fault(at+".value", what))
		}
		if ev.U.Given {
			if what, wrong := k.CheckU(ev.U.Value); wrong {
				faults = append(faults, fault(at+".u", what))
			}
		}
	}
	return faults
}

// unknownKind names the kinds there are, and the one that may be meant where one is
// near.
func unknownKind(kind string) phrase.Sentence {
	best, most := "", math.Inf(1)
	var all []string
	for _, k := range cause.Kinds() {
		all = append(all, k.Name)
		if d := editsApart(kind, k.Name); d < most {
			best, most = k.Name, d
		}
	}
	short := kind
	if r := []rune(short); len(r) > 40 {
		short = string(r[:40]) + "..."
	}
	if most <= math.Max(2, float64(len(best))/4) {
		return phrase.Of("%q is not known; is %s meant? Known here: %s", short, best, strings.Join(all, ", "))
	}
	return phrase.Of("%q is not known; known here: %s", short, strings.Join(all, ", "))
}

// editsApart is how many letters must be put in, taken out or changed to make one
// word of the other (Levenshtein 1966).
func editsApart(a, b string) float64 {
	if len(a) > 60 {
		return math.Inf(1)
	}
	row := make([]int, len(b)+1)
	for i := range row {
		row[i] = i
	}
	for i := 1; i <= len(a); i++ {
		before := row[0]
		row[0] = i
		for k := 1; k <= len(b); k++ {
			change := before
			if a[i-1] != b[k-1] {
				change++
			}
			before = row[k]
			row[k] = min(change, row[k]+1, row[k-1]+1)
		}
	}
	return float64(row[len(b)])
}

// EvidenceKind is a kind of evidence in words, for a manual or a form.
type EvidenceKind struct{ Name, Title, Takes, Rule, Source string }

// EvidenceKinds returns every kind of evidence, in the order in which to offer
// them.
func EvidenceKinds() []EvidenceKind {
	var list []EvidenceKind
	for _, k := range cause.Kinds() {
		list = append(list, EvidenceKind{k.Name, string(k.Title), k.Takes().String(), k.Rule, k.Source})
	}
	return list
}

// CheckCauseOptions says what is wrong with the reader's own numbers.
func CheckCauseOptions(o CauseOptions) error { return o.Check() }
