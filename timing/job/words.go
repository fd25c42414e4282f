package job

import (
	"strings"

	"pinphase.org/pinphase/timing/job/document"
)

// words are those that a key takes, by its last name, or by its whole name where another
// key of that last name takes others. Every word that a job may hold
// and that is neither a name nor a text stands here, but for the wheel that drives the
// pump's gear: which wheels there are rests on the job.
var words = map[string][]string{
	"rotation":   {"clockwise", "anticlockwise"},
	"sensor":     {"inductive", "hall"},
	"seen_from":  {"nose", "flywheel"},
	"method":     methodNames(),
	"side":       {"clockwise", "anticlockwise"},
	"over":       {"centres", "outside", "inside"},
	"on":         {"key", "keyway"},
	"counts":     {"clockwise", "anticlockwise"},
	"tdc.method": {"stop", "drop"},
	"tdc.counts": {"up", "down"},
	"tdc.datum":  {"damper mark"},

	"what":   {"drawing", "old", "new", "spare"},
	"use":    {UseDatum, UseEngine, UseBefore},
	"mirror": {MirrorWriting, MirrorRotation, MirrorMirrored},
}

// Words returns the words that a key takes, nil where it takes any text or none. Its
// name is the whole one, without places in lists ("part.what"), or its last.
func Words(name string) []string {
	if list, ok := words[name]; ok {
		return list
	}
	return words[name[strings.LastIndexByte(name, '.')+1:]]
}

// Layout returns the keys of an empty job in the order of the file. Every section can
// be opened and every list made longer.
func Layout() []document.Key { return schema() }
