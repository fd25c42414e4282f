package figure

import (
	"fmt"
	"io"
	"testing"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/piston"
)

// BenchmarkTable is the cycle figure painted while the dowel is dragged, and
// written, against the same figure drawn anew with gonum/plot's canvas for pictures.
func BenchmarkTable(b *testing.B) {
	orders := map[int]CycleInput{
		6:  cycleInput(engine(4, []int{1, 5, 3, 6, 2, 4}), -25),
		16: cycleInput(engine(4, order16, intervals16...), -25),
	}
	for _, size := range [][2]int{{1280, 720}, {1920, 1080}, {3840, 2160}} {
		for _, n := range []int{6, 16} {
			in := orders[n]
			w, h := size[0], size[1]
			row := fmt.Sprintf("a frame, %d cylinders, %d x %d", n, w, h)
			b.Run(row+"/pinphase", func(b *testing.B) {
				var r Raster
				for b.Loop() {
					d, _ := Cycle(in, Box{W: float64(w), H: float64(h)})
					r.Render(d, Light(), w, h, 1)
				}
			})
			b.Run(row+"/gonum plot image canvas", func(b *testing.B) {
				for b.Loop() {
					d, _ := Cycle(in, Box{W: float64(w), H: float64(h)})
					drawOn(gonum{vgimg.NewWith(vgimg.UseWH(vg.Length(w), vg.Length(h)), vgimg.UseDPI(72)), d.H}, d, Light())
				}
			})
		}
	}
	turned, link := evenEngine(24), piston.SliderCrank{ThrowMM: 57.5, RodMM: 190}
	for _, size := range [][2]int{{1920, 1080}, {3840, 2160}} {
		w, h := size[0], size[1]
		row, at := fmt.Sprintf("a frame of the engine, 24 cylinders, %d x %d", w, h), timing.Deg(0)
		next := func() Drawing {
			at++
			d, _ := Engine(engineInput(turned, link, at, nose), Box{W: float64(w), H: float64(h)})
			return d
		}
		b.Run(row+"/pinphase", func(b *testing.B) {
			var r Raster
			for b.Loop() {
				r.Render(next(), Light(), w, h, 1)
			}
		})
		b.Run(row+"/gonum plot image canvas", func(b *testing.B) {
			for b.Loop() {
				d := next()
				drawOn(gonum{vgimg.NewWith(vgimg.UseWH(vg.Length(w), vg.Length(h)), vgimg.UseDPI(72)), d.H}, d, Light())
			}
		})
	}
	d, _ := Cycle(orders[6], Box{W: 800, H: 500})
	for _, f := range []struct {
		name  string
		write func(io.Writer, Drawing, Style) error
	}{
		{"SVG", WriteSVG}, {"PDF", WritePDF},
		{"PNG", func(w io.Writer, d Drawing, st Style) error { return WritePNG(w, d, st, 96) }},
	} {
		b.Run("a figure to "+f.name+"/pinphase", func(b *testing.B) {
			for b.Loop() {
				if err := f.write(io.Discard, d, Light()); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run("a figure to "+f.name+"/gonum plot image canvas to PNG", func(b *testing.B) {
			for b.Loop() {
				c := vgimg.NewWith(vgimg.UseWH(vg.Length(d.W), vg.Length(d.H)), vgimg.UseDPI(96))
				drawOn(gonum{c, d.H}, d, Light())
				if _, err := (vgimg.PngCanvas{Canvas: c}).WriteTo(io.Discard); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
