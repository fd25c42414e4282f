package job

import "pinphase.org/pinphase/timing/job/document"

// words are those that a key takes, by its last name. Every word that a job may hold
// and that is neither a name nor a text stands here, but for the wheel that drives the
// pump's gear: which wheels there are rests on the job.
var words = map[string][]string{
	"rotation":  {"clockwise", "anticlockwise"},
	"sensor":    {"inductive", "hall"},
	"seen_from": {"nose", "flywheel"},
	"method":    methodNames(),
	"side":      {"clockwise", "anticlockwise"},
	"over":      {"centres", "outside", "inside"},
	"on":        {"key", "keyway"},
	"counts":    {"clockwise", "anticlockwise"},
}

// Words returns the words that a key of that last name takes, nil where it takes any
// text or none.
func Words(name string) []string { return words[name] }

// Layout returns the keys of an empty job in the order of the file. Every section can
// be opened and every list made longer.
func Layout() []document.Key { return schema() }
