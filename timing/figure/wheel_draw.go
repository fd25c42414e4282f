package figure

import "math"

func atan2(y, x float64) float64 { return math.Atan2(y, x) }

// Wheel draws the end of the crankshaft with its sensor wheel.
func Wheel(in WheelInput, box Box) (Drawing, WheelLayout) {
	return Drawing{W: box.W, H: box.H}, WheelLayout{}
}
