package ripple

import (
	"math"
	"testing"

	"pinphase.org/pinphase/timing"
)

// sample is an engine of the first maker that is quick to make.
func sample() made {
	return trial{maker: 1, cylinders: 4, wheel: "60-2", seed: 24, seconds: 4}.play()
}

func fitted(t *testing.T, in Input) *Result {
	t.Helper()
	r, no := Fit(in)
	if r == nil {
		t.Fatalf("no top dead centre: %+v", no)
	}
	return r
}

// Laws that hold whatever the engine: the first tooth's place turns the answer by as
// much over the whole circle; a recording cut at any place gives the same within what
// is stated; more turns leave less open; times may begin anywhere and be counted in
// another place.
func TestLaws(t *testing.T) {
	m := sample()
	r := fitted(t, m.in)
	if off := math.Abs(m.off(r)); off > 1.96*float64(r.TDC.U) {
		t.Errorf("off by %.2f ± %.2f", off, r.TDC.U)
	}
	for _, d := range []timing.Deg{-170, -33, 12.5, 90, 179} {
		in := m.in
		in.Wheel.FirstToothBTDC += d
		got := fitted(t, in)
		if away := timing.WrapSigned(got.TDC.Value-(r.TDC.Value-d), in.Modulo); math.Abs(float64(away)) > 0.02 || math.Abs(float64(got.TDC.U-r.TDC.U)) > 0.02 {
			t.Errorf("tooth 1 turned by %g: %.3f ± %.3f, not %.3f ± %.3f", float64(d), got.TDC.Value, got.TDC.U, r.TDC.Value-d, r.TDC.U)
		}
	}
	run := m.in.Runs[0]
	n := len(run.Time)
	cut := func(from, to int) *Result {
		in := m.in
		in.Runs = []Run{{Time: run.Time[from:to], Place: run.Place[from:to]}}
		return fitted(t, in)
	}
	for _, from := range []int{7, 31, 58, 101} {
		got := cut(from, n-from/2)
		if away := math.Abs(float64(got.TDC.Value - r.TDC.Value)); away > 1.5*float64(r.TDC.U) {
			t.Errorf("cut by %d teeth: %.2f ± %.2f, whole %.2f ± %.2f", from, got.TDC.Value, got.TDC.U, r.TDC.Value, r.TDC.U)
		}
	}
	// What the model leaves out no number of turns averages out: only the bound must fall.
	if short := cut(n/2, n/2+3*118); !(short.TDC.U > 0.97*r.TDC.U) || !(short.BoundU > r.BoundU) {
		t.Errorf("of three cycles %.3f, bound %.3f; of all %.3f, bound %.3f", short.TDC.U, short.BoundU, r.TDC.U, r.BoundU)
	}
	moved := m.in
	moved.Runs = []Run{{Place: run.Place}}
	for _, s := range run.Time {
		moved.Runs[0].Time = append(moved.Runs[0].Time, s+1234.5)
	}
	if got := fitted(t, moved); math.Abs(float64(got.TDC.Value-r.TDC.Value)) > 0.01 {
		t.Errorf("times moved by 1234.5 s: %.3f, not %.3f", got.TDC.Value, r.TDC.Value)
	}
}

// A bent tooth is named and no other; the answer stays.
func TestBentTooth(t *testing.T) {
	sound := trial{maker: 1, cylinders: 6, wheel: "60-2", seed: 12, seconds: 4}
	m := sound.play()
	r := fitted(t, m.in)
	for _, tooth := range r.Teeth {
		if tooth.Bent {
			t.Errorf("tooth %d of a sound wheel is called bent: %+v", tooth.Position, tooth.Late)
		}
	}
	const position, late = 20, 1.2
	run := m.in.Runs[0]
	bent := Run{Place: run.Place}
	for i, s := range run.Time {
		if ((run.Place[i]%60)+60)%60 == position-1 && i > 0 {
			s += late / (6 / (run.Time[i] - run.Time[i-1]))
		}
		bent.Time = append(bent.Time, s)
	}
	m.in.Runs = []Run{bent}
	got := fitted(t, m.in)
	if away := math.Abs(float64(got.TDC.Value - r.TDC.Value)); away > 1.5*float64(r.TDC.U) {
		t.Errorf("with a tooth bent %.2f, without %.2f ± %.2f", got.TDC.Value, r.TDC.Value, r.TDC.U)
	}
	for _, tooth := range got.Teeth {
		if tooth.Bent != (tooth.Position == position) {
			t.Errorf("tooth %d: bent %v, %+v", tooth.Position, tooth.Bent, tooth.Late)
		}
		if tooth.Bent && math.Abs(float64(tooth.Late.Value)) < bentLeast {
			t.Errorf("tooth %d is bent by %+v, which is no damage", tooth.Position, tooth.Late)
		}
		if tooth.Position == position && math.Abs(float64(tooth.Late.Value)-late) > 0.3 {
			t.Errorf("it is late by %.2f, bent by %g", tooth.Late.Value, late)
		}
	}
}

// What has no top dead centre to tell gives none, with the reason.
func TestRefusals(t *testing.T) {
	m := sample()
	even := m.in
	even.Runs = []Run{{Place: m.in.Runs[0].Place}}
	for _, p := range m.in.Runs[0].Place { // a speed without a ripple
		even.Runs[0].Time = append(even.Runs[0].Time, float64(p)*0.005+1e-6*math.Sin(float64(p*p)))
	}
	fast := m.in
	fast.Runs = []Run{{Place: m.in.Runs[0].Place}}
	for _, s := range m.in.Runs[0].Time {
		fast.Runs[0].Time = append(fast.Runs[0].Time, s/4)
	}
	few := m.in
	few.Runs = []Run{{Time: m.in.Runs[0].Time[:150], Place: m.in.Runs[0].Place[:150]}}
	coarse := trial{maker: 1, cylinders: 6, wheel: "12-1", seed: 19, seconds: 2}.play().in
	for _, c := range []struct {
		in   Input
		want Reason
	}{{even, NoRipple}, {fast, Running}, {few, FewCycles}, {coarse, Coarse}, {Input{Engine: m.in.Engine, Wheel: m.in.Wheel, Modulo: m.in.Modulo}, FewCycles}} {
		if r, no := Fit(c.in); r != nil || no == nil || no.Reason != c.want {
			t.Errorf("%s: %+v, %+v", c.want, r, no)
		}
	}
}
