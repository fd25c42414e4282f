package job

import (
	"fmt"
	"os"
	"testing"
)

func TestSmoke(t *testing.T) {
	d, err := ReadFile("testdata/example.toml")
	fmt.Println(err)
	if d != nil {
		fmt.Printf("%+v\n%+v\n", d.Job(), *d.Job().Dowel.Measured)
		n := New(d.Job())
		fmt.Println(string(n.Bytes()))
		m, err := Read("x", n.Bytes())
		fmt.Println(err)
		fmt.Println(m.Job().Equal(d.Job()))
	}
	for _, f := range os.Args {
		_ = f
	}
	_, err = Read("bad.toml", []byte(`format = 2
titel = 3
bore_mm = 4
[engine]
strokes = 4.0
firing_order = [1, 5, 3, 3, 2, 9]
rotation = flywheel
bore_mm = 102,5
rod_mm = 30
stroke_mm = 100
firing_intervals_deg = [1, 2]
bore_mm = 3
[crank_wheel
positions = 36
missing = [1, 2]
first_tooth_btdc_deg = 90
[engine]
strokes = 3
[dowel]
drawing = { angle_deg = 1 }
measured = { chord_mm = 12 }
[keyway]
drawing = { method = "arc", arc_mm = 1000, rim_radius_mm = 3, dowel_radius_mm = 4, u_px = 2 }
measured = { method = "arc", rim_radius_mm = 1979-05-27 }
[gears]
crank_teeth = 3
cam_teeth = 9
[[evidence]]
kind = ""
[[evidence]]
value = [1]
u = -1
`))
	fmt.Println(err)
	_, err = Read("empty.toml", nil)
	fmt.Println(err)
}
