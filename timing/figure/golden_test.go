package figure

import (
	"bytes"
	"flag"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
)

var regen = flag.Bool("regen", false, "rewrite the golden files; look at every one that changes")

// golden compares text with a file in testdata and shows the first difference.
func golden(t *testing.T, name, got string) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *regen {
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range min(len(g), len(w)) {
		if g[i] != w[i] {
			t.Fatalf("%s, line %d:\n got %.200s\nwant %.200s", name, i+1, g[i], w[i])
		}
	}
	t.Fatalf("%s: %d lines, want %d", name, len(g), len(w))
}

// goldenDrawings are the figures whose shapes are kept as text.
func goldenDrawings() map[string]Drawing {
	list := map[string]Drawing{}
	cycle := func(name string, in CycleInput, w, h float64) { list[name], _ = Cycle(in, Box{W: w, H: h}) }
	wheel := func(name string, in WheelInput, w, h float64) { list[name], _ = Wheel(in, Box{W: w, H: h}) }

	six := cycleInput(engine(4, []int{1, 5, 3, 6, 2, 4}), -25)
	six.Cursor, six.CursorLabel = deg(97), "97°"
	six.Rows[2].Selected = true
	cycle("cycle-6", six, 900, 420)
	cycle("cycle-6-small", six, 360, 200)
	cycle("cycle-1", cycleInput(engine(4, []int{1}), 0), 500, 300)
	cycle("cycle-16-uneven", cycleInput(engine(4, order16, intervals16...), 12), 900, 420)
	cycle("cycle-3-two-stroke", cycleInput(engine(2, []int{1, 3, 2}), 20), 500, 300)

	intake, exhaust, both := timing.Span{From: 346, To: 576}, timing.Span{From: 132, To: 372}, timing.Span{From: 346, To: 372}
	valves := ValvesInput{Cycle: 720, Intake: &intake, Exhaust: &exhaust, Both: &both, Cursor: deg(400), Heading: "Valve timing", Title: "Valve timing",
		TDC: "overlap TDC", BDC: "BDC", FiringTDC: "firing TDC", IntakeOpen: "intake open", ExhaustOpen: "exhaust open", Overlap: "26° of overlap",
		Events:  [4]string{"intake opens 14° BTDC", "intake closes 36° ABDC", "exhaust opens 48° BBDC", "exhaust closes 12° ATDC"},
		Degrees: [4]string{"14° BTDC", "36° ABDC", "48° BBDC", "12° ATDC"}, Caption: []string{"Lift is only drawn."}}
	list["valves"] = Valves(valves, Box{W: 842, H: 440})
	list["valves-small"] = Valves(valves, Box{W: 300, H: 160})

	wheel("wheel-36", wheelInput(36, []int{36}, -25), 900, 420)
	back := wheelInput(60, []int{59, 60}, 8)
	back.View.From = timing.Flywheel
	back.KeywayDrawing, back.KeywayMeasured, back.DowelMeasured = deg(45), deg(53), deg(12.5)
	wheel("wheel-60-flywheel", back, 420, 600)
	wheel("wheel-none", wheelInput(0, nil, -25), 300, 200)
	return list
}

func TestGoldenDrawings(t *testing.T) {
	t.Parallel()
	for name, d := range goldenDrawings() {
		golden(t, name+".txt", d.String())
	}
}

func TestGoldenSVG(t *testing.T) {
	t.Parallel()
	list := goldenDrawings()
	for name, st := range map[string]Style{"cycle-1": Paper(), "wheel-none": Light()} {
		var b bytes.Buffer
		if err := WriteSVG(&b, list[name], st); err != nil {
			t.Fatal(err)
		}
		golden(t, name+".svg", b.String())
	}
}

// Pictures may differ a little from processor to processor; a mean of half a
// step of 255 is far below what a missing label would make.
func TestGoldenPictures(t *testing.T) {
	t.Parallel()
	list := goldenDrawings()
	for name, st := range map[string]Style{"cycle-6": Light(), "wheel-36": Dark()} {
		goldenPicture(t, name+".png", list[name], st)
	}
}

// goldenPicture compares a drawing with a picture in testdata.
func goldenPicture(t *testing.T, name string, d Drawing, st Style) {
	t.Helper()
	var b bytes.Buffer
	if err := WritePNG(&b, d, st, 72); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join("testdata", name)
	if *regen {
		if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	f, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	want, err := png.Decode(bytes.NewReader(f))
	if err != nil {
		t.Fatal(err)
	}
	got, err := png.Decode(&b)
	if err != nil {
		t.Fatal(err)
	}
	if mean := meanDifference(t, got, want); mean > 0.5 {
		t.Errorf("%s differs by %.2f on average", name, mean)
	}
}

func meanDifference(t *testing.T, a, b image.Image) float64 {
	t.Helper()
	if a.Bounds() != b.Bounds() {
		t.Fatalf("the picture is %v, want %v", a.Bounds(), b.Bounds())
	}
	sum, n := 0.0, 0
	for y := a.Bounds().Min.Y; y < a.Bounds().Max.Y; y++ {
		for x := a.Bounds().Min.X; x < a.Bounds().Max.X; x++ {
			p := color.RGBAModel.Convert(a.At(x, y)).(color.RGBA)
			q := color.RGBAModel.Convert(b.At(x, y)).(color.RGBA)
			for _, d := range []int{int(p.R) - int(q.R), int(p.G) - int(q.G), int(p.B) - int(q.B)} {
				sum += float64(max(d, -d))
			}
			n += 3
		}
	}
	return sum / float64(n)
}
