package kit

import (
	"time"
)

// Patience is how long the start and the pages wait for a disk before they go on
// without what is on it: one that has to spin up takes seconds, one that is gone takes
// for ever.
const Patience = 5 * time.Second

// Within does something that may never end and waits for it so long at most. After that
// it returns false, and what is done is left alone with its result.
func Within[T any](limit time.Duration, do func() T) (result T, done bool) {
	ended := make(chan T, 1)
	go func() { ended <- do() }()
	timer := time.NewTimer(limit)
	defer timer.Stop()
	select {
	case result = <-ended:
		return result, true
	case <-timer.C:
		return result, false
	}
}
