package document

import (
	"fmt"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// Fault is one thing that is wrong with a file or its values.
type Fault struct {
	File    string // "" where the values came from no file
	Line    int    // counted from 1; 0 when no line is to blame
	Key     string // dotted, as in "engine.firing_order"; list items as "evidence[2].kind"; "" for the file itself
	Message string // what is wrong and what would be right
	// Says is the message as data, for a reader of another language; empty where it
	// was made elsewhere.
	Says phrase.Sentence
}

// Error returns the fault as one line, "job.toml:7: engine.firing_order:
// cylinder 3 is listed twice", without the parts it has not got.
func (f Fault) Error() string {
	var b strings.Builder
	if f.File != "" {
		b.WriteString(f.File)
		if f.Line > 0 {
			fmt.Fprintf(&b, ":%d", f.Line)
		}
		b.WriteString(": ")
	}
	if f.Key != "" {
		b.WriteString(f.Key + ": ")
	}
	b.WriteString(f.Message)
	return b.String()
}

// Faults are all that is wrong with a file, in the order of the file. As an error
// it is one line per fault. An empty list is never returned as an error.
type Faults []Fault

// Error returns one line per fault.
func (fs Faults) Error() string {
	lines := make([]string, len(fs))
	for i, f := range fs {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}
