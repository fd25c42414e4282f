package samples

// Kind is what a [Note] is about.
type Kind string

// The kinds.
const (
	TimeUnit Kind = "time unit assumed" // Value seconds
	BadRows  Kind = "rows unreadable"   // N, Of is the first one's line
	CutOff   Kind = "cut off"           // Value seconds that the file promises and does not hold
)

// Note is something about the reading that must be said. Which fields count, its kind
// says.
type Note struct {
	Kind  Kind
	N, Of int
	Value float64
}
