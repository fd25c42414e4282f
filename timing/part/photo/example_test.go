package photo_test

import (
	"fmt"

	"pinphase.org/pinphase/timing/part/photo"
)

// Where is the dowel of the crankshaft in this photograph? The rim was clicked
// at eight places, the keyway at its two corners, the dowel in its middle, and
// the centre drilling once, which takes the perspective out. It was drawn 12.5°
// anticlockwise.
func ExampleMeasure() {
	picture, err := photo.InspectFile("../../../testdata/photos/nose-square.jpg")
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := photo.Measure(photo.Marks{
		Rim: []photo.Point{
			{X: 1072, Y: 526}, {X: 1027, Y: 712}, {X: 902, Y: 793}, {X: 692, Y: 743},
			{X: 624, Y: 640}, {X: 627, Y: 496}, {X: 747, Y: 363}, {X: 926, Y: 354},
		},
		Keyway: []photo.Point{{X: 784, Y: 348}, {X: 838, Y: 341}},
		Dowel:  []photo.Point{{X: 792, Y: 436}},
		Centre: []photo.Point{{X: 842, Y: 568}},
	}, photo.Options{Picture: picture})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %.1f° ± %.1f° clockwise of the keyway\n", r.Basis, r.Clockwise.Value, r.Clockwise.U)
	// Output: rim and centre: -12.8° ± 0.5° clockwise of the keyway
}
