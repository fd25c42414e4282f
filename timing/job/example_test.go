package job_test

import (
	"fmt"

	"pinphase.org/pinphase/timing/job"
)

// A file is read with every fault told at once, each with its line and what
// would be right.
func ExampleRead() {
	_, err := job.Read("boat.toml", []byte(`[engine]
strokes = 4
firing_order = [1, 5, 3, 3, 2, 4]
bore = 102.0

[injection]
start_btdc_deg = 9,0
`))
	fmt.Println(err)
	// Output:
	// boat.toml:3: engine.firing_order: cylinder 3 is listed twice
	// boat.toml:4: engine.bore: unknown key; is bore_mm meant?
	// boat.toml:7: injection.start_btdc_deg: write decimals with a point, 102.5, and lists in square brackets, [1, 2]
}

// A change touches only what it changes; the rest of the file stays as its
// author wrote it.
func ExampleDocument_With() {
	d, err := job.Read("boat.toml", []byte(`# Measured by Anna on the bench.
[engine]
firing_order = [1, 3, 4, 2]
strokes      = 4
bore_mm      = 102     # nominal
`))
	if err != nil {
		fmt.Println(err)
		return
	}
	j := d.Job()
	j.Engine.BoreMM = job.Num(102.25)
	j.Engine.CompressionRatio = job.Num(17.5)
	fmt.Printf("%s", d.With(j).Bytes())
	// Output:
	// # Measured by Anna on the bench.
	// [engine]
	// firing_order = [1, 3, 4, 2]
	// strokes      = 4
	// bore_mm      = 102.25     # nominal
	// compression_ratio = 17.5
}
