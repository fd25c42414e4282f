package chart_test

import (
	"bytes"
	"fmt"
	"strings"

	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/job"
)

// A job's figure, with its words, in the format of a file.
func ExampleDrawing() {
	d, err := job.Read("boat.toml", []byte("[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	drawing, err := chart.Drawing("cycle", d.Job(), chart.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	var svg bytes.Buffer
	if err := chart.WriteAs(&svg, ".svg", drawing, figure.Light(), chart.UsualDPI); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(drawing.W, "by", drawing.H, "points:", strings.Contains(svg.String(), ">compression</text>"))
	// Output:
	// 842 by 480 points: true
}
