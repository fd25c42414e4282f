package document

import (
	"slices"

	"pinphase.org/pinphase/timing/phrase"
)

// maxFaults is how many faults of one file are listed. Whoever has more has the
// wrong file.
const maxFaults = 500

// faultList collects faults up to maxFaults.
type faultList struct {
	list  Faults
	count int
}

func (l *faultList) add(line int, key string, format phrase.Text, args ...any) {
	l.put(line, key, phrase.Of(format, args...))
}

func (l *faultList) put(line int, key string, says phrase.Sentence) {
	l.count++
	if l.count <= maxFaults {
		l.list = append(l.list, Fault{Line: line, Key: key, Message: says.String(), Says: says})
	}
}

// sorted returns the faults in the order of the file. Those of one line stay in
// the order in which they were found.
func (l *faultList) sorted() Faults {
	fs := slices.Clone(l.list)
	slices.SortStableFunc(fs, func(a, b Fault) int { return a.Line - b.Line })
	if more := l.count - len(fs); more > 0 {
		says := phrase.Of("%d more faults are not listed", more)
		fs = append(fs, Fault{Line: fs[len(fs)-1].Line, Message: says.String(), Says: says})
	}
	return fs
}
