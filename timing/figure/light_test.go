package figure

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
)

// lightOffInput is an invented engine; lit tells whether its late injection
// lights.
func lightOffInput(lit bool) LightOffInput {
	in := LightOffInput{Heading: "Light-off", Title: "Light-off", Desc: "Gas and injections",
		Finding: "At 180 rpm and 12 °C this engine lights with injection from 29° before TDC to 7° after TDC; yours starts 18° after TDC.",
		From:    -60, To: 60, Window: &timing.Span{From: -29, To: 7},
		Words: LightWords{Temperature: "gas temperature, °C", Pressure: "gas pressure, bar absolute", CelsiusUnit: "°C", BarUnit: "bar",
			Window: "injection here ignites", Starts: "start of injection", Flame: "lights", Angle: "crank degrees from firing TDC, − before", TDC: "TDC"},
		Bars: []LightBar{
			{Label: "asked for", Role: Commanded, Start: -10, Lights: deg(-2), Says: "lights 2° before TDC, after 7.3 ms"},
			{Label: "lands", Role: Actual, Start: 18, Says: "does not ignite", Warn: true},
		},
		Spreads: []LightSpread{{Label: "one way", Window: &timing.Span{From: -29, To: 7}}, {Label: "another", None: "no start ignites"}},
	}
	if lit {
		in.Bars[1].Lights, in.Bars[1].Says, in.Bars[1].Warn = deg(27), "lights 27° after TDC, after 8.3 ms", false
	}
	for a := timing.Deg(-60); a <= 60; a++ {
		x := math.Exp(-float64(a*a) / 1200)
		in.Gas = append(in.Gas, GasPoint{a, 400 * x, 1 + 36*x*x})
	}
	return in
}

func lightMapInput() LightMapInput {
	in := LightMapInput{Heading: "Light-off map", Title: "Light-off map", Desc: "Whether fuel lights",
		Words: LightMapWords{XTitle: "air, °C", YTitle: "wheel error in degrees, + ahead: injection early", All: "ignites by every delay formula",
			Some: "by some", None: "by none", Limit: "limit by one", KickBack: "may kick back"},
		Points: []MapPoint{{X: 12, Y: 0, Role: Commanded, Hollow: true, Label: "with its wheel correct"}, {X: 12, Y: -28, Role: Actual, Label: "this engine"}},
	}
	for x := -25.0; x <= 40; x += 5 {
		in.X = append(in.X, x)
	}
	for y := -40.0; y <= 30; y += 2.5 {
		in.Y = append(in.Y, y)
		row := make([]LightOn, len(in.X))
		for i, x := range in.X {
			lit := int(math.Floor((y + 35 + x/5) / 5))
			row[i] = LightOn{Lit: min(max(lit, 0), 5), Of: 5, Chosen: lit >= 4, KickBack: x+y > 50}
		}
		in.Cells = append(in.Cells, row)
	}
	return in
}

func TestGoldenLight(t *testing.T) {
	t.Parallel()
	d, _ := LightOff(lightOffInput(false), Box{W: 842, H: 560})
	golden(t, "light.txt", d.String())
	d, _ = LightOff(lightOffInput(true), Box{W: 360, H: 220})
	golden(t, "light-small.txt", d.String())
	d, _ = LightMap(lightMapInput(), Box{W: 560, H: 420})
	golden(t, "light-map.txt", d.String())
}

func anyLight(t *rapid.T) LightOffInput {
	in := lightOffInput(rapid.Bool().Draw(t, "lit"))
	in.From = timing.Deg(rapid.Float64Range(-180, -20).Draw(t, "from"))
	in.To = timing.Deg(rapid.Float64Range(20, 180).Draw(t, "to"))
	in.Bars[0].Start = timing.Deg(rapid.Float64Range(-200, 200).Draw(t, "asked for"))
	in.Bars[1].Start = timing.Deg(rapid.Float64Range(-200, 200).Draw(t, "lands"))
	if in.Bars[1].Lights != nil {
		in.Bars[1].Lights = deg(in.Bars[1].Start + timing.Deg(rapid.Float64Range(0, 60).Draw(t, "waits")))
	}
	hot := rapid.Float64Range(-20, 900).Draw(t, "hot")
	for i := range in.Gas {
		in.Gas[i].C *= hot / 400
	}
	if rapid.Bool().Draw(t, "no window") {
		in.Window = nil
	}
	if rapid.Bool().Draw(t, "long words") {
		in.Finding += " " + in.Finding + " " + in.Finding
		in.Bars[0].Label = "what the controller asks for at this moment"
		in.Words.Pressure += ", of a gas that is compressed rather a lot"
	}
	if rapid.Bool().Draw(t, "cursor") {
		in.Cursor = deg(timing.Deg(rapid.Float64Range(-200, 200).Draw(t, "cursor at")))
	}
	return in
}

func TestLightTextsFit(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := anyBox(t)
		d, _ := LightOff(anyLight(t), box)
		checkTexts(t, d, box)
		m, _ := LightMap(lightMapInput(), box)
		checkTexts(t, m, box)
	})
}

// Everything but hidden overhangs lies in the box, and the curves in the plot.
func TestLightStaysInside(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		box := anyBox(t)
		d, l := LightOff(anyLight(t), box)
		for _, s := range d.Shapes {
			b := s.Bounds()
			if b.X < -0.5 || b.Y < -0.5 || b.Right() > box.W+0.5 || b.Bottom() > box.H+0.5 {
				t.Fatalf("%v leaves the box of %g by %g", s, box.W, box.H)
			}
			if p, ok := s.(Path); ok && (p.Stroke == Pressure && len(p.Segs) > 2 || p.Stroke == Ink && p.Weight == Heavy && len(p.Segs) > 2) {
				if b.Y < l.Plot.Y-0.01 || b.Bottom() > l.Plot.Bottom()+0.01 || b.X < l.Plot.X-0.01 || b.Right() > l.Plot.Right()+0.01 {
					t.Fatalf("a curve leaves the plot %v: %v", l.Plot, b)
				}
			}
		}
		a := timing.Deg(rapid.Float64Range(float64(l.From), float64(l.To)).Draw(t, "angle"))
		if got := l.Deg(l.X(a)); math.Abs(float64(got-a)) > 1e-9 {
			t.Fatalf("Deg(X(%v)) = %v", a, got)
		}
		m, _ := LightMap(lightMapInput(), box)
		for _, s := range m.Shapes {
			if b := s.Bounds(); b.X < -0.5 || b.Y < -0.5 || b.Right() > box.W+0.5 || b.Bottom() > box.H+0.5 {
				t.Fatalf("%v leaves the box of %g by %g", s, box.W, box.H)
			}
		}
	})
}

// The marks stand where the arithmetic puts them.
func TestLightMarks(t *testing.T) {
	t.Parallel()
	d, l := LightOff(lightOffInput(true), Box{W: 842, H: 560})
	at := map[string][]float64{}
	for _, s := range d.Shapes {
		if m, ok := s.(Marker); ok && m.Y > l.Rows.Y && m.Y < l.Rows.Bottom() {
			at[m.Role.String()] = append(at[m.Role.String()], math.Round(1e6*float64(l.Deg(m.X)))/1e6)
		}
	}
	want := map[string][2]float64{"commanded": {-2, -10}, "actual": {27, 18}} // lights, then start on top
	for role, w := range want {
		if got := at[role]; len(got) != 2 || got[0] != w[0] || got[1] != w[1] {
			t.Errorf("%s marks at %v, want %v", role, got, w)
		}
	}
	for _, s := range d.Shapes {
		if p, ok := s.(Path); ok && p.Fill == Window && p.Bounds().Y == l.Plot.Y {
			if b := p.Bounds(); math.Abs(float64(l.Deg(b.X))+29) > 1e-6 || math.Abs(float64(l.Deg(b.Right()))-7) > 1e-6 {
				t.Errorf("the window is drawn from %g to %g", float64(l.Deg(b.X)), float64(l.Deg(b.Right())))
			}
		}
	}
}

func TestLightMapCells(t *testing.T) {
	t.Parallel()
	in := lightMapInput()
	d, l := LightMap(in, Box{W: 560, H: 420})
	for _, p := range in.Points {
		px, py, ok := l.place(p.X, p.Y)
		if !ok || !l.Plot.Holds(px, py) {
			t.Errorf("point %v is not on the map", p)
		}
		if h, ok := d.At(px, py); !ok || h.Label != p.Label {
			t.Errorf("at the point there is %q", h.Label)
		}
	}
	if x, y, ok := l.At(l.Plot.X+1, l.Plot.Bottom()-1); !ok || x != -25 || y != -40 {
		t.Errorf("the lower left cell is %g, %g, %v", x, y, ok)
	}
	if x, y, ok := l.At(l.Plot.Right()-1, l.Plot.Y+1); !ok || x != 40 || y != 30 {
		t.Errorf("the upper right cell is %g, %g, %v", x, y, ok)
	}
	if _, _, ok := l.At(l.Plot.X-1, l.Plot.Y); ok {
		t.Error("outside the plot there is a cell")
	}
	// Every lit cell is covered by an area of its kind.
	for r, row := range in.Cells {
		for c, cell := range row {
			x, y, _ := l.place(in.X[c], in.Y[r])
			got := None
			for _, s := range d.Shapes {
				if p, ok := s.(Path); ok && (p.Fill == Window || p.Fill == Doubtful) && p.Stroke == None && p.Bounds().Holds(x, y) {
					got = p.Fill
				}
			}
			want := None
			if cell.Lit == cell.Of {
				want = Window
			} else if cell.Lit > 0 {
				want = Doubtful
			}
			if got != want {
				t.Fatalf("the cell at %g, %g is %v, want %v", in.X[c], in.Y[r], got, want)
			}
		}
	}
}

// What is no number or empty leaves out, and nothing hangs.
func TestLightWithoutData(t *testing.T) {
	t.Parallel()
	nan := timing.Deg(math.NaN())
	in := lightOffInput(false)
	in.Bars[0].Start, in.Window = nan, &timing.Span{From: nan, To: 3}
	in.Gas[3].C = math.NaN()
	d, _ := LightOff(in, Box{W: 500, H: 300})
	var svg bytes.Buffer
	if err := WriteSVG(&svg, d, Light()); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(svg.String(), "NaN") {
		t.Error("NaN is written to the SVG")
	}
	in.To = in.From
	if d, _ := LightOff(in, Box{W: 500, H: 300}); len(d.Shapes) != 0 || d.Title != "Light-off" {
		t.Errorf("no range, but %d shapes", len(d.Shapes))
	}
	m := lightMapInput()
	m.Cells[2] = m.Cells[2][1:]
	if d, l := LightMap(m, Box{W: 500, H: 300}); len(d.Shapes) != 0 {
		t.Error("a map with a cell too few is drawn")
	} else if _, _, ok := l.At(3, 3); ok {
		t.Error("an empty map has cells")
	}
	one := LightMapInput{X: []float64{5}, Y: []float64{0}, Cells: [][]LightOn{{{Lit: 1, Of: 5}}}, Points: []MapPoint{{X: 5, Y: 0}, {X: 6, Y: 0}}}
	if d, _ := LightMap(one, Box{W: 200, H: 150}); len(d.Hits) != 2 {
		t.Errorf("a map of one cell has %d areas to touch", len(d.Hits))
	}
	for _, w := range []float64{-3, 0, 1, 40} { // boxes a window passes through while it is pulled small
		LightOff(lightOffInput(true), Box{W: w, H: w})
		LightMap(lightMapInput(), Box{W: w, H: w})
	}
}

func TestScale(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		lo, hi float64
		want   string
	}{
		{0, 403, "0 100 200 300 400 500"}, {0, 37, "0 10 20 30 40"}, {-12, 30, "−20 −10 0 10 20 30"}, {0, 0.9, "0.0 0.2 0.4 0.6 0.8 1.0"},
		{0, 0, "0.0 0.2 0.4 0.6 0.8 1.0"}, {math.NaN(), 3, "0.0 0.2 0.4 0.6 0.8 1.0"}, {-0.5, 0.5, "−0.6 −0.4 −0.2 0.0 0.2 0.4 0.6"},
	} {
		s := newScale(c.lo, c.hi, 5)
		var got []string
		for _, v := range s.ticks {
			got = append(got, s.text(v))
		}
		if strings.Join(got, " ") != c.want {
			t.Errorf("%g to %g: %s, want %s", c.lo, c.hi, strings.Join(got, " "), c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		lo := rapid.Float64Range(-1e4, 1e4).Draw(t, "lo")
		hi := lo + rapid.Float64Range(1e-2, 1e4).Draw(t, "width")
		s := newScale(lo, hi, 5)
		if s.lo > lo+1e-6*(hi-lo) || s.hi < hi-1e-6*(hi-lo) || len(s.ticks) < 3 || len(s.ticks) > 10 {
			t.Fatalf("%g to %g became %g to %g with %d steps", lo, hi, s.lo, s.hi, len(s.ticks)-1)
		}
	})
}

func BenchmarkLightOff(b *testing.B) {
	in := lightOffInput(false)
	var r Raster
	for b.Loop() {
		d, _ := LightOff(in, Box{W: 1200, H: 600})
		r.Render(d, Light(), 1200, 600, 1)
	}
}

func BenchmarkLightMap(b *testing.B) {
	in := lightMapInput()
	var r Raster
	for b.Loop() {
		d, _ := LightMap(in, Box{W: 600, H: 500})
		r.Render(d, Light(), 600, 500, 1)
	}
}
