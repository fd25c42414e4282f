package figure_test

import (
	"bytes"
	"fmt"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
)

// Where on the page does cylinder 3 of a 1-3-4-2 engine fire, and which angle is
// under the pointer?
func ExampleCycle() {
	engine, err := timing.NewScheme(4, []int{1, 3, 4, 2}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	in := figure.CycleInput{Engine: engine, Strokes: [4]figure.Word{{Full: "power"}, {Full: "exhaust"}, {Full: "intake"}, {Full: "compression"}}}
	for c := 1; c <= engine.Cylinders(); c++ {
		in.Rows = append(in.Rows, figure.CycleRow{Cylinder: c, Label: figure.Word{Full: fmt.Sprint("Cyl ", c)}})
	}
	drawing, layout := figure.Cycle(in, figure.Box{W: 800, H: 300})

	x := layout.X(engine.FiresAt(3))
	fmt.Printf("cylinder 3 fires a quarter of the way across: %.2f\n", (x-layout.Plot.X)/layout.Plot.W)
	fmt.Printf("there it is %.0f°\n", float64(layout.Deg(x)))

	var svg bytes.Buffer
	if err := figure.WriteSVG(&svg, drawing, figure.Light()); err != nil {
		fmt.Println(err)
	}
	// Output:
	// cylinder 3 fires a quarter of the way across: 0.25
	// there it is 180°
}

// A dowel 25 degrees ahead in the direction of rotation lies to the right of the
// top for one who looks at the nose of a clockwise engine, to the left for one
// who looks at its flywheel.
func ExamplePageAngle() {
	nose := timing.View{From: timing.Nose, Rotation: timing.Clockwise}
	flywheel := timing.View{From: timing.Flywheel, Rotation: timing.Clockwise}
	fmt.Println(figure.PageAngle(nose, 25), figure.PageAngle(flywheel, 25))
	// Output: 25 -25
}
