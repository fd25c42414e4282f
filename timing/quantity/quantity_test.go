package quantity

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestConvert(t *testing.T) {
	for _, c := range []struct {
		v        float64
		from, to Unit
		want     float64
		within   float64
	}{
		{1, Inch, MM, 25.4, 0},                  // exact, NIST SP 811 B.8
		{102, MM, Inch, 4.0157480315, 1e-9},     // hand calculation
		{1, PSI, KPa, 6.894757293, 1e-9},        // NIST SP 811 B.8: 6.894 757 E+00
		{14.6959488, PSI, KPa, 101.325, 1e-6},   // one standard atmosphere
		{1, Bar, KPa, 100, 0},                   // exact
		{1, Bar, PSI, 14.5037738, 1e-7},         // hand calculation
		{0, Celsius, Fahrenheit, 32, 0},         // exact
		{100, Celsius, Fahrenheit, 212, 0},      // exact
		{-40, Fahrenheit, Celsius, -40, 0},      // where the scales meet
		{7, MM, Bar, 7, 0}, {7, "°", "°", 7, 0}, // no way across
		{101.3, KPa, Bar, 1.013, 1e-12}, // hand calculation
	} {
		if got := Convert(c.v, c.from, c.to); math.Abs(got-c.want) > c.within {
			t.Errorf("%g %s is %.12g %s, want %.12g", c.v, c.from, got, c.to, c.want)
		}
	}
	if got := ConvertDifference(5, Celsius, Fahrenheit); got != 9 {
		t.Errorf("5 °C wide is %g °F wide, want 9", got)
	}
}

var choices = []Units{{}, {Inch, PSI, Fahrenheit}, {MM, Bar, Celsius}, {Inch, KPa, Fahrenheit}}

// What was typed is what is shown again: the way into the kept unit and back
// loses nothing that anybody types.
func TestTypedStaysTyped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(choices).Draw(t, "units")
		kept := rapid.SampledFrom([]Unit{MM, Bar, KPa, Celsius}).Draw(t, "kept")
		places := rapid.IntRange(0, 5).Draw(t, "decimals")
		typed := float64(rapid.Int64Range(-1e7, 1e7).Draw(t, "digits")) / math.Pow10(places)
		if back, _ := u.Show(u.Keep(typed, kept), kept); back != typed {
			t.Errorf("%v typed in %s is shown as %v", typed, u.For(kept), back)
		}
		if back, _ := u.ShowSpread(u.KeepSpread(typed, kept), kept); back != typed {
			t.Errorf("%v wide, typed in %s, is shown as %v", typed, u.For(kept), back)
		}
	})
}

func TestAmount(t *testing.T) {
	us := Units{Inch, PSI, Fahrenheit}
	for _, c := range []struct {
		amount       Amount
		metric, inch string
	}{
		{Length(102, 1), "102 mm", "4.016 in"},
		{Length(15.47, 2), "15.47 mm", "0.6091 in"},
		{Length(25.4, 1), "25.4 mm", "1 in"},
		{Length(-0.04, 1), "0 mm", "−0.002 in"},
		{Pressure(28.5, 1), "28.5 bar", "413 psi"},
		{Air(101.3, 1), "101.3 kPa", "14.69 psi"},
		{Temperature(15, 0), "15 °C", "59 °F"},
		{Temperature(-40, 1), "−40 °C", "−40 °F"},
		{Temperature(5, 0).Wide(), "5 °C", "9 °F"},
		{Length(40, 1).Plain(), "40", "1.575"},
		{Amount{Value: 12.5, Unit: "°", Decimals: 1}, "12.5°", "12.5°"},
	} {
		if got := c.amount.String(); got != c.metric {
			t.Errorf("%+v: %q, want %q", c.amount, got, c.metric)
		}
		if got := c.amount.In(us).String(); got != c.inch {
			t.Errorf("%+v in inches, psi and Fahrenheit: %q, want %q", c.amount, got, c.inch)
		}
	}
}

func TestFor(t *testing.T) {
	for _, c := range []struct {
		u          Units
		kept, want Unit
	}{
		{Units{}, MM, MM}, {Units{}, KPa, KPa}, {Units{}, Bar, Bar}, {Units{}, "rpm", "rpm"},
		{Units{Pressure: KPa}, Bar, KPa}, {Units{Pressure: Bar}, KPa, Bar}, {Units{Inch, PSI, Fahrenheit}, "°", "°"},
	} {
		if got := c.u.For(c.kept); got != c.want {
			t.Errorf("%+v: %s is seen as %s, want %s", c.u, c.kept, got, c.want)
		}
	}
}
