package finding

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// cranked is an invented engine with all that the estimate can use but a gauge.
const cranked = `[engine]
strokes = 4
firing_order = [1, 5, 3, 6, 2, 4]
bore_mm = 100
stroke_mm = 110
rod_mm = 180
compression_ratio = 17
polytropic_exponent = 1.33
[engine.valves]
intake_closes_abdc_deg = 40
exhaust_opens_bbdc_deg = 80
[injection]
start_btdc_deg = 10
cranking_rpm = 200
air_c = 16.85
air_kpa = 100
cetane = 50
`

func lightOf(t testing.TB, j job.Job, o LightOptions) Light {
	t.Helper()
	l, err := LightOf(j, o)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func set(v float64) *float64 { return &v }

// The estimate is that of the path whose check values stand in package piston:
// 300 K and 1 bar at closing, n = 1.33, 200 rpm. Wolfer 1938 (from memory) added
// up by Livengood and Wu 1955, worked apart from this code: injected at 10
// degrees before TDC it lights 5.049513 before, at 5 after 9.926427 after, at 20
// after not at all; the integral there is 0.276369.
func TestLightOfAKnownPath(t *testing.T) {
	j := sample.Read(t, cranked)
	for _, c := range []struct{ delta, at, delay float64 }{
		{0, 5.049513, 4.950487}, {-15, -9.926427, 4.926427}, {10, 9.609009, 10.390991},
	} {
		l := lightOf(t, j, LightOptions{WheelErrorDeg: &c.delta})
		a := l.Cases[1]
		if a.Name != "actual" || a.StartBTDCDeg != 10+c.delta || !a.Lights {
			t.Fatalf("%+v", a)
		}
		if !near(*a.LightsAt, c.at, 1e-4) || !near(*a.DelayDeg, c.delay, 1e-4) || !near(*a.DelayMS, c.delay/1.2, 1e-4) {
			t.Errorf("wheel error %g: lights at %g after %g degrees, %g ms", c.delta, *a.LightsAt, *a.DelayDeg, *a.DelayMS)
		}
	}
	l := lightOf(t, j, LightOptions{WheelErrorDeg: set(-30)})
	a := l.Cases[1]
	if a.Lights || a.LightsAt != nil || a.DelayMS != nil || a.DelayDeg != nil || !near(a.Integral, 0.276369, 1e-5) {
		t.Errorf("20 after TDC: %+v", a)
	}
	// The state at 10 before TDC of the same source: 708.155011 K, 31.8662939 bar.
	if c := l.Cases[0]; c.Name != "commanded" || !near(c.GasK, 708.155011, 1e-5) || !near(c.GasBar, 31.8662939, 1e-6) || c.LitBy != 5 {
		t.Errorf("asked for: %+v", c)
	}
	if w := l.Window; w == nil || !near(w.LateBTDCDeg, -11.41, 0.01) || !near(w.ErrorFromDeg, -21.41, 0.01) || w.EarlyBTDCDeg < 20 {
		t.Errorf("window %+v", l.Window)
	}
	if l.Correlation != "wolfer" || len(l.ByCorrelation) != 5 {
		t.Errorf("by %s of %d", l.Correlation, len(l.ByCorrelation))
	}
	if s := lightOf(t, j, LightOptions{Correlation: "stringer", WheelErrorDeg: set(-15)}); !near(*s.Cases[1].LightsAt, -12.140206, 1e-4) {
		t.Errorf("by Stringer it lights at %g", *s.Cases[1].LightsAt)
	}
}

func TestLightSaysWhatIsMissing(t *testing.T) {
	_, err := LightOf(sample.Read(t, "[engine]\nstrokes = 4\nfiring_order = [1]\n"), LightOptions{})
	faults, ok := err.(job.Faults)
	if !ok {
		t.Fatalf("error %v", err)
	}
	var keys []string
	for _, f := range faults {
		keys = append(keys, f.Key)
	}
	want := []string{"engine.bore_mm", "engine.stroke_mm", "engine.rod_mm", "engine.compression_ratio", "injection.start_btdc_deg", "injection.cranking_rpm"}
	if !slices.Equal(keys, want) {
		t.Errorf("missing %v, want %v", keys, want)
	}
	// What a slider holds need not be in the job.
	j := sample.Read(t, cranked)
	j.Engine.CompressionRatio, j.Injection.CrankingRPM = job.Number{}, job.Number{}
	lightOf(t, j, LightOptions{RPM: set(180), Ratio: set(16)})
}

// What is left out is assumed, and each assumption is told.
func TestLightTellsItsDefaults(t *testing.T) {
	j := sample.Read(t, cranked)
	full := assumed(lightOf(t, j, LightOptions{}))
	j.Engine.Valves, j.Injection.AirC, j.Injection.AirKPa, j.Injection.Cetane, j.Engine.PolytropicExponent = nil, job.Number{}, job.Number{}, job.Number{}, job.Number{}
	bare := lightOf(t, j, LightOptions{})
	for _, text := range []phrase.Text{assumeNoAir, assumeNoKPa, assumeNoCetane, assumeNoCloses, assumeNoOpens, assumeExponent} {
		if full[text] || !assumed(bare)[text] {
			t.Errorf("%q is told of the full job: %v, of the bare one: %v", text, full[text], assumed(bare)[text])
		}
	}
	if !full[assumeOwn] || bare.AirC != 15 || bare.ClosesBTDC != 140 || bare.OpensATDC != 130 || bare.Exponent != 1.3 {
		t.Errorf("defaults: %+v", bare)
	}
	two := sample.Read(t, cranked)
	two.Engine.Strokes, two.Engine.FiringOrder, two.Engine.Valves = 2, []int{1}, nil
	if l := lightOf(t, two, LightOptions{}); l.ClosesBTDC != 120 || l.OpensATDC != 95 {
		t.Errorf("two-stroke closes at %g, opens at %g", l.ClosesBTDC, l.OpensATDC)
	}
	// The last port to close closes a two-stroke's cylinder.
	two.Engine.Valves = &job.Valves{IntakeClosesABDCDeg: job.Num(50), ExhaustClosesATDCDeg: job.Num(245), ExhaustOpensBBDCDeg: job.Num(80)}
	if l := lightOf(t, two, LightOptions{}); l.ClosesBTDC != 115 || l.OpensATDC != 100 {
		t.Errorf("two-stroke with ports closes at %g, opens at %g", l.ClosesBTDC, l.OpensATDC)
	}
}

func assumed(l Light) map[phrase.Text]bool {
	told := map[phrase.Text]bool{}
	for _, s := range l.Assumptions {
		told[s.Text] = true
	}
	return told
}

func noted(l Light) map[phrase.Text]bool {
	told := map[phrase.Text]bool{}
	for _, s := range l.Notes {
		told[s.Text] = true
	}
	return told
}

// A cam that is ahead closes and opens earlier.
func TestLightMovesTheValvesWithTheCam(t *testing.T) {
	j := sample.Read(t, cranked+"[gears]\ncrank_teeth = 36\ncam_teeth = 72\ncam_teeth_out = 1\n")
	l := lightOf(t, j, LightOptions{})
	if l.ClosesBTDC != 150 || l.OpensATDC != 90 || !assumed(l)[assumeCamAhead] {
		t.Errorf("a tooth ahead closes at %g, opens at %g", l.ClosesBTDC, l.OpensATDC)
	}
	j.Gears.CamTeethOut = -1
	if l := lightOf(t, j, LightOptions{}); l.ClosesBTDC != 130 || !assumed(l)[assumeCamBehind] {
		t.Errorf("a tooth behind closes at %g", l.ClosesBTDC)
	}
	j.Gears.CamTeethOut = 1_000 // nonsense stays arithmetic
	lightOf(t, j, LightOptions{})
}

func TestLightWithAGauge(t *testing.T) {
	j := sample.Read(t, cranked)
	j.Engine.PolytropicExponent = job.Number{}
	with := func(bar, rpm float64) Light {
		j := j.Clone()
		j.Engine.CompressionGaugeBar = job.Num(bar)
		if rpm > 0 {
			j.Engine.CompressionGaugeRPM = job.Num(rpm)
		}
		return lightOf(t, j, LightOptions{})
	}
	// By hand: 1 bar at closing over 15.63831472 to the 1.33 is 38.7500826 bar.
	if l := with(37.7500826, 200); !assumed(l)[assumeGauge] || !near(l.Exponent, 1.33, 1e-6) || l.LeakShare != 0 || !near(l.HighestBar, 38.75, 0.01) {
		t.Errorf("37.75 bar: n %g, leak %g, highest %g bar", l.Exponent, l.LeakShare, l.HighestBar)
	}
	low := with(24, 0)
	if low.Exponent != 1.3 || low.LeakShare < 0.05 || !near(low.HighestBar, 25, 0.1) || !noted(low)[lightGaugeLow] || !assumed(low)[assumeLeak] || assumed(low)[assumeCarried] {
		t.Errorf("24 bar: n %g, leak %g, highest %g bar", low.Exponent, low.LeakShare, low.HighestBar)
	}
	if slow := with(24, 400); slow.LeakShare <= low.LeakShare || slow.Exponent >= low.Exponent || !assumed(slow)[assumeCarried] {
		t.Errorf("taken at 400 rpm: n %g, leak %g; at 200: n %g, leak %g", slow.Exponent, slow.LeakShare, low.Exponent, low.LeakShare)
	}
	if high := with(60, 200); !noted(high)[lightGaugeHigh] {
		t.Error("60 bar is taken without a word")
	}
	j.Engine.CompressionGaugeRPM = job.Num(300)
	if !noted(lightOf(t, j, LightOptions{}))[lightGaugeRPM] {
		t.Error("a gauge's speed without a reading is passed over")
	}
}

func TestLightSentences(t *testing.T) {
	j := sample.Read(t, cranked)
	for _, c := range []struct {
		delta float64
		want  string
	}{
		{0, "yours starts 10° before TDC: ignition is likely."},
		{-10, "yours starts at TDC: ignition is likely."},
		{-15, "yours starts 5° after TDC: ignition is likely."},
		{-28, "yours starts 18° after TDC: ignition is possible."},
		{20, "yours starts 30° before TDC: ignition is likely, but so early that the engine may kick back."},
		{50, "yours starts 60° before TDC: that is too early: the air is still cold and the fuel wets the walls."},
		{170, "yours starts 180° before TDC: that is too early: the air is still cold and the fuel wets the walls."},
		{-180, "yours starts 170° after TDC: ignition is unlikely."},
	} {
		o := LightOptions{WheelErrorDeg: &c.delta, AirC: set(25)}
		if got := lightOf(t, j, o).Says.String(); !strings.HasSuffix(got, c.want) || !strings.Contains(got, "air at 25 °C. At 200 rpm and 25 °C this engine needs injection to start from ") {
			t.Errorf("wheel error %g: %s", c.delta, got)
		}
	}
	cold := lightOf(t, j, LightOptions{AirC: set(0), WheelErrorDeg: set(50)})
	if got := cold.Says.String(); !strings.HasSuffix(got, "60° before TDC: that is too early: the air is still cold and the fuel wets the walls.") || cold.Window.EarlyLimit != "cold" {
		t.Errorf("cold: %s", got)
	}
	never := lightOf(t, j, LightOptions{AirC: set(-60)})
	if got := never.Says.String(); got != "What if: air at −60 °C. If the sensor wheel is as drawn: At 200 rpm and −60 °C no start of injection is sure to ignite; yours starts 10° before TDC: ignition is unlikely." {
		t.Errorf("never: %s", got)
	}
	if !noted(lightOf(t, j, LightOptions{WheelErrorDeg: set(-180)}))[lightOpen] || !noted(lightOf(t, j, LightOptions{}))[noteAssumed] {
		t.Error("an open valve or an assumed wheel error is not told")
	}
	if !noted(lightOf(t, j, LightOptions{WheelErrorDeg: set(-21)}))[lightLate] {
		t.Error("a late light is not told")
	}
	if !noted(lightOf(t, j, LightOptions{WheelErrorDeg: set(20), AirC: set(40)}))[lightKickNow] {
		t.Error("a kick-back is not told")
	}
}

// One picture of a slider's drag leaves the frame most of its time: a tenth of a
// 60th of a second would be 1.7 ms. The bound leaves room for a busy machine.
func TestLightIsQuick(t *testing.T) {
	j := sample.Read(t, cranked)
	best := time.Duration(math.MaxInt64)
	for range 20 {
		begin := time.Now()
		lightOf(t, j, LightOptions{})
		best = min(best, time.Since(begin))
	}
	if best > 5*time.Millisecond {
		t.Errorf("an estimate takes %v", best)
	}
}

// By how much may this engine's sensor wheel be off, and still light?
func ExampleLightOf() {
	doc, err := job.Read("example", []byte(cranked))
	if err != nil {
		fmt.Println(err)
		return
	}
	late := -28.0
	l, err := LightOf(doc.Job(), LightOptions{WheelErrorDeg: &late})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(l.Says)
	fmt.Printf("wheel error from %.0f to %.0f degrees\n", l.Window.ErrorFromDeg, l.Window.ErrorToDeg)
	// Output:
	// What if: the sensor wheel 28° behind. At 200 rpm and 16.9 °C this engine needs injection to start from 21.7° before TDC to 11.4° after TDC; yours starts 18° after TDC: ignition is possible.
	// wheel error from -21 to 12 degrees
}

func BenchmarkLightOf(b *testing.B) {
	j := sample.Read(b, cranked)
	for b.Loop() {
		lightOf(b, j, LightOptions{})
	}
}
