package figure

import "testing"

// What the screen waits for: the whole way from numbers to pixels.

func BenchmarkCycle16(b *testing.B) {
	in := cycleInput(engine(4, order16, intervals16...), -25)
	var r Raster
	for b.Loop() {
		d, _ := Cycle(in, Box{W: 1200, H: 600})
		r.Render(d, Light(), 1200, 600, 1)
	}
}

func BenchmarkWheel60(b *testing.B) {
	in := wheelInput(60, []int{59, 60}, -25)
	var r Raster
	for b.Loop() {
		d, _ := Wheel(in, Box{W: 600, H: 600})
		r.Render(d, Light(), 600, 600, 1)
		in.Theta++
	}
}

func BenchmarkWheel60Turning(b *testing.B) {
	in := wheelInput(60, []int{59, 60}, -25)
	var r Raster
	for b.Loop() {
		d, _, _ := WheelLayers(in, Box{W: 600, H: 600})
		r.Render(d, Light(), 600, 600, 1)
		in.Theta++
	}
}
