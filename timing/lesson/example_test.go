package lesson_test

import (
	"fmt"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson"
)

// The same engine, kind, level and seed give the same question on every machine. The
// order 1-3-4-2 has cylinders 1 and 4, 2 and 3, a full turn apart.
func ExampleMake() {
	d, err := job.Read("four.toml", []byte("[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	q, err := lesson.Make(d.Job(), lesson.Companion, 1, 7)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(q.Ask)
	for _, s := range q.Steps {
		fmt.Println("-", s)
	}
	// Output:
	// Which cylinders are paired with cylinder 1: at TDC together with it, but a turn apart in the cycle? Name them all, or none.
	// - Cylinder 1 fires at 0°.
	// - One turn later is 0 + 360 = 360°.
	// - Evenly spaced, the firings follow each other every 720 / 4 = 180°.
	// - Cylinder 4 is number 2 after cylinder 1 in the firing order: it fires at 2 × 720 / 4 = 360°.
	// - At 360° cylinder 4 fires.
}
