package trace_test

import (
	"context"
	"fmt"
	"os"

	"pinphase.org/pinphase/timing/trace"
	"pinphase.org/pinphase/timing/trace/samples"
	"pinphase.org/pinphase/timing/wheel"
)

// A recording is read in blocks, kept as edges, and asked what it proves: here how far and
// how fast the engine turned. The recording is a simulated one.
func ExampleCollect() {
	f, err := os.Open("../../testdata/recordings/three-cylinder.csv.gz")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer f.Close()
	r, err := samples.NewReader(f, samples.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	c, err := trace.Collect(context.Background(), r, nil, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	a, err := c.Analyse(trace.Known{Cycle: 720, Crank: wheel.Crank{Positions: 36, Missing: []int{36}}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f turns at %.0f rpm\n", a.Revolutions, a.RPM)
	// Output: 13 turns at 240 rpm
}
