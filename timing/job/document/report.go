package document

import (
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// Report is what reading a text found: where its keys stand, what of it cannot
// be used and what is wrong. Whoever judges the values adds to it; a rule that
// rests on a value already found wrong is then not applied: one cause, one fault.
type Report struct {
	lines  map[string]int  // of every key and section the file has; nil without a file
	bad    map[string]bool // keys and sections that are there but cannot be used
	hidden hiding
	faults faultList
	text   []byte
}

// NewReport is the report on values that came from no file.
func NewReport() *Report { return &Report{bad: map[string]bool{}} }

// hiding is what syntax faults may have hidden: keys that are there but could
// not be read, and sections in which anything may be.
type hiding struct {
	keys     map[string]bool
	sections map[string]bool
	all      bool
}

// OK tells whether none of the keys, nor a section they stand in, is known to be
// bad.
func (r *Report) OK(keys ...string) bool {
	for _, key := range keys {
		for k := key; k != ""; k = parent(k) {
			if r.bad[k] {
				return false
			}
		}
	}
	return true
}

// parent returns the path of what a key stands in, "" for the file.
func parent(key string) string { return key[:max(strings.LastIndexAny(key, ".["), 0)] }

// Has tells whether the file has the key, for values that look left out.
func (r *Report) Has(key string) bool {
	_, ok := r.lines[key]
	return ok
}

// Line returns where a key stands, counted from 1; 0 where the file has none of
// that name.
func (r *Report) Line(key string) int { return r.lines[key] }

// Refuse notes that a key has a wrong value. Its line is that of the key, or of
// what the key would stand in.
func (r *Report) Refuse(key string, says phrase.Sentence) {
	r.bad[key] = true
	r.faults.put(r.nearestLine(key), key, says)
}

func (r *Report) nearestLine(key string) int {
	if r.lines == nil {
		return 0
	}
	for k := key; k != ""; k = parent(k) {
		if line, ok := r.lines[k]; ok {
			return line
		}
	}
	return 1
}

// MayBeHidden tells whether a key that was not found may be there and could not
// be read. It then counts as bad.
func (r *Report) MayBeHidden(key string) bool {
	if r.OK(key) && !r.hidden.all && !r.hidden.sections[parent(key)] {
		return false
	}
	r.bad[key] = true
	return true
}

// Faults returns everything that is wrong, in the order of the file: nil when
// nothing was refused and the TOML library has nothing against the text either.
func (r *Report) Faults() Faults {
	if r.faults.count > 0 {
		return r.faults.sorted()
	}
	if r.lines == nil {
		return nil
	}
	return library(r.text)
}
