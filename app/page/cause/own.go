package cause

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/finding"
)

// ownNumbers are the reader's own priors and minutes, by the name of the cause or
// check. They are kept with the program's other choices, not in the job: they are
// what this workshop knows, whatever stands on its hoist.
type ownNumbers struct {
	p   desk.Prefs
	key string
	of  map[string]float64
}

const (
	prefPriors  = "cause.priors"
	prefMinutes = "cause.minutes"
)

// newOwnNumbers reads the numbers kept under a key; what cannot be one is left out.
func newOwnNumbers(p desk.Prefs, key string) *ownNumbers {
	o := &ownNumbers{p: p, key: key, of: map[string]float64{}}
	for _, line := range p.StringList(key) {
		name, text, ok := strings.Cut(line, "=")
		if v, err := strconv.ParseFloat(text, 64); ok && err == nil {
			o.of[name] = v
		}
	}
	return o
}

// set keeps a number, or forgets it where it is not given.
func (o *ownNumbers) set(name string, v *float64) {
	next := maps.Clone(o.of)
	delete(next, name)
	if v != nil {
		next[name] = *v
	}
	o.replace(next)
}

// replace keeps other numbers instead. The old map stays as it was: a ranking may
// still go by it.
func (o *ownNumbers) replace(next map[string]float64) {
	o.of = next
	var list []string
	for _, name := range slices.Sorted(maps.Keys(next)) {
		list = append(list, name+"="+strconv.FormatFloat(next[name], 'g', -1, 64))
	}
	o.p.SetStringList(o.key, list)
}

// sound takes away numbers that cannot be, as after a hand in the preferences.
func (o *ownNumbers) sound(options func(map[string]float64) finding.CauseOptions) {
	for name := range o.of {
		if finding.CheckCauseOptions(options(map[string]float64{name: o.of[name]})) != nil {
			o.set(name, nil)
		}
	}
	if finding.CheckCauseOptions(options(o.of)) != nil {
		o.replace(map[string]float64{})
	}
}
