package finding

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/phrase"
)

func TestParseNumber(t *testing.T) {
	for text, want := range map[string]float64{
		"12.5": 12.5, "12,5": 12.5, "-90": -90, "−90": -90, " 7 ": 7, "\t3\n": 3, "+4": 4, ".5": 0.5, "5.": 5, "1e3": 1000, "−1,5e−1": -0.15,
		"0": 0, "-0": 0, "007": 7, "\u00a08\u00a0": 8,
	} {
		if got, err := ParseNumber(text); err != nil || got != want {
			t.Errorf("%q: %g, %v; want %g", text, got, err, want)
		}
	}
	for _, text := range []string{
		"", " ", "−", "12.5.1", "1,000,000", "1 000", "12°", "NaN", "nan", "Inf", "-inf", "infinity", "1e400", "-1e400",
		"0x10", "0x1p4", "1_000", "１２", "--1", "1e", "twelve",
	} {
		if got, err := ParseNumber(text); !errors.Is(err, ErrNoNumber) || got != 0 {
			t.Errorf("%q: %g, %v; want ErrNoNumber", text, got, err)
		}
	}
}

// FuzzParseNumber reads anything: what comes back is finite, and a number that is
// written by the program reads back as it was written.
func FuzzParseNumber(f *testing.F) {
	for _, seed := range []string{"12.5", "−12,5", "1e308", "1e-400", "0x1p-2", "1_0", " +.5e+3 ", "∞"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := ParseNumber(text)
		if err != nil {
			if v != 0 {
				t.Errorf("%q: %g beside an error", text, v)
			}
			return
		}
		if math.IsNaN(v) || math.IsInf(v, 0) {
			t.Errorf("%q: %g", text, v)
		}
		if strings.ContainsAny(text, "xXpP_") {
			t.Errorf("%q was taken for %g", text, v)
		}
		shown := phrase.Num{Value: v, Decimals: 3}.String()
		back, err := ParseNumber(shown)
		if err != nil || math.Abs(back-v) > 0.0005+1e-15*math.Abs(v) {
			t.Errorf("%q: %g is shown as %s, which reads %g, %v", text, v, shown, back, err)
		}
	})
}

// An angle beside a stroke is never written as the dead centre at which the next one
// begins, and else with as few digits as before.
func TestBeside(t *testing.T) {
	for _, c := range []struct {
		v        float64
		decimals int
		want     string
	}{
		{179.9999, 1, "179.9999"}, {179.9999, 2, "179.9999"}, {180, 1, "180"}, {180.04, 1, "180.04"}, {180.06, 1, "180.1"},
		{-0.0004, 2, "−0.0004"}, {0, 2, "0"}, {719.96, 1, "719.96"}, {17.96, 1, "18"}, {90.001, 2, "90"}, {539.99999999, 1, "539.99999999"},
		{179.9999999999, 1, "180"}, // nearer than a result is rounded to
	} {
		if got := Beside(c.v, c.decimals).String(); got != c.want {
			t.Errorf("%v with %d decimals: %s, want %s", c.v, c.decimals, got, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		centre := 180 * float64(rapid.IntRange(-4, 4).Draw(t, "centre"))
		v := round(centre + rapid.SampledFrom([]float64{1, 1e-2, 1e-4, 1e-6, 1e-8}).Draw(t, "near")*rapid.Float64Range(-1, 1).Draw(t, "off"))
		text := strings.Replace(Beside(v, 1).String(), "−", "-", 1)
		shown, err := strconv.ParseFloat(text, 64)
		if err != nil {
			t.Fatal(err)
		}
		if math.Floor(shown/180) != math.Floor(v/180) || (shown == centre) != (v == centre) {
			t.Fatalf("%.12g is shown as %s", v, text)
		}
	})
}
