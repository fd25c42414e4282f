package finding

import (
	"fmt"
	"math"
	"testing"

	"pinphase.org/pinphase/timing/internal/sample"
)

func TestSweep(t *testing.T) {
	j := sample.Read(t, cranked)
	rows, err := ParseSweep("wheel_error=-40:20:20")
	if err != nil {
		t.Fatal(err)
	}
	columns, err := ParseSweep("air=-20:20:40")
	if err != nil {
		t.Fatal(err)
	}
	s, err := SweepOf(j, LightOptions{}, rows, &columns)
	if err != nil {
		t.Fatal(err)
	}
	other, err := SweepOf(j, LightOptions{}, columns, &rows)
	if err != nil {
		t.Fatal(err)
	}
	for r, delta := range rows.Values {
		for c, air := range columns.Values {
			l := lightOf(t, j, LightOptions{WheelErrorDeg: &delta, AirC: &air})
			want := l.Cases[1]
			for _, got := range []SweepCell{s.Cells[r][c], other.Cells[c][r]} {
				if got.Lights != want.Lights || got.Integral != want.Integral || got.LitBy != want.LitBy || got.StartBTDC != want.StartBTDCDeg || got.KickBack != want.KickBack ||
					got.Lights && *got.LightsAt != *want.LightsAt {
					t.Errorf("at %g, %g the sweep has %+v, the estimate %+v", delta, air, got, want)
				}
			}
		}
	}
	one, err := SweepOf(j, LightOptions{}, SweepAxis{Name: "rpm", Values: []float64{100, 300}}, nil)
	if err != nil || len(one.Cells) != 2 || len(one.Cells[0]) != 1 || one.Cells[0][0].Integral <= one.Cells[1][0].Integral {
		t.Errorf("%+v, %v", one, err)
	}
}

func TestParseSweep(t *testing.T) {
	for text, want := range map[string]string{
		"wheel_error=-40:20:20":       "wheel_error_deg [-40 -20 0 20]",
		"air=−20:30:20":               "air_c [-20 0 20 30]",
		"rpm=200:100:50":              "rpm [200 150 100]",
		"ratio=16:17:0.5":             "compression_ratio [16 16.5 17]",
		"compression_ratio=16:16:0":   "compression_ratio [16]",
		"wheel_error_deg=0:0.3:-0.1":  "wheel_error_deg [0 0.1 0.2 0.3]",
		"wheel_error=1:2":             "",
		"speed=1:2:1":                 "",
		"rpm=1:2:0":                   "",
		"rpm=1:x:1":                   "",
		"rpm=1:1000000:0.001":         "",
		"wheel_error=-40:20:20:extra": "",
	} {
		a, err := ParseSweep(text)
		got := fmt.Sprintf("%s %v", a.Name, a.Values)
		if err != nil {
			got = ""
		}
		if got != want {
			t.Errorf("%s: %q (%v), want %q", text, got, err, want)
		}
	}
	axis := func(name string, v ...float64) SweepAxis { return SweepAxis{name, v} }
	long := make([]float64, 200)
	for i := range long {
		long[i] = float64(i - 100)
	}
	for _, axes := range [][]SweepAxis{
		{axis("speed", 1)}, {axis("rpm")}, {axis("rpm", 100), axis("rpm", 200)}, {axis("rpm", 0)}, {axis("air_c", 500)},
		{axis("wheel_error_deg", 181)}, {axis("compression_ratio", 1)}, {axis("wheel_error_deg", math.NaN())},
		{axis("wheel_error_deg", long...), axis("air_c", make([]float64, 200)...)},
	} {
		if CheckSweep(axes) == nil {
			t.Errorf("%.60v must be refused", axes)
		}
	}
}

func BenchmarkLightMapSweep(b *testing.B) {
	j := sample.Read(b, cranked)
	rows, _ := NewSweep("wheel_error_deg", -40, 30, 2.5)
	columns, _ := NewSweep("air_c", -25, 40, 5)
	for b.Loop() {
		if _, err := SweepOf(j, LightOptions{}, rows, &columns); err != nil {
			b.Fatal(err)
		}
	}
}
