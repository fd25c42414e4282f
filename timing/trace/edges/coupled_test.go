package edges

import (
	"math"
	"math/rand/v2"
	"testing"
)

// sound samples levels as a sound card does: each sample is the mean since the one before,
// then a capacitor takes away what is steady, with a time constant of tau seconds.
func sound(list []Edge, rate, tau, noise float64) (t, v []float64) {
	dice := rand.New(rand.NewPCG(5, 6))
	end := list[len(list)-1].At + 0.1
	level, k, held, before := float64(list[0].From), 0, 0.0, float64(list[0].From)
	for i := range int(end * rate) {
		from, to, mean := float64(i)/rate, float64(i+1)/rate, 0.0
		for k < len(list) && list[k].At < to {
			mean += level * (list[k].At - from)
			from, level = list[k].At, float64(list[k].To)
			k++
		}
		mean = (mean + level*(to-from)) * rate
		held = held*math.Exp(-1/(rate*tau)) + mean - before
		before = mean
		t, v = append(t, (float64(i)+0.5)/rate), append(v, 0.4*held+noise*dice.NormFloat64())
	}
	return t, v
}

// found lets jumps be found in samples, block by block.
func found(t, v []float64, noise float64) *jumps {
	j := new(jumps)
	for from := 0; from < len(t); from += 1000 {
		to := min(from+1000, len(t))
		j.add(t[from:to], v[from:to], t[1]-t[0], noise)
	}
	return j
}

// Behind a capacitor every change of level is found, at its place to a third of a sample,
// and the time constant to a fifth.
func TestCoupled(t *testing.T) {
	for _, tau := range []float64{1e-3, 2e-3, 5e-3, 15e-3} {
		for _, rate := range []float64{44100, 48000, 96000} {
			for _, noise := range []float64{0, 0.01} {
				truth := pulseTrain(36, 1, 0.4, 10)
				at, v := sound(truth, rate, tau, noise)
				j := found(at, v, noise)
				got, ok := j.coupled()
				if !ok || math.Abs(math.Log(got/tau)) > 0.2 {
					t.Errorf("%g ms at %g Hz, noise %g: %g ms (%v)", 1e3*tau, rate, noise, 1e3*got, ok)
				}
				if len(j.edges) != len(truth) {
					t.Errorf("%g ms at %g Hz, noise %g: %d edges of %d", 1e3*tau, rate, noise, len(j.edges), len(truth))
					continue
				}
				sum := 0.0
				for i, e := range j.edges {
					d := (e.At - truth[i].At) * rate
					sum += d * d
					if e.Rising() != truth[i].Rising() || math.Abs(d) > 1 {
						t.Errorf("%g ms at %g Hz, noise %g: edge %d at %.6f s rising %v, want %.6f", 1e3*tau, rate, noise, i, e.At, e.Rising(), truth[i].At)
						break
					}
				}
				if rms := math.Sqrt(sum / float64(len(truth))); rms > 0.35 {
					t.Errorf("%g ms at %g Hz, noise %g: edges off by %.2f of a sample", 1e3*tau, rate, noise, rms)
				}
			}
		}
	}
}

// The one tooth of a cam that passes three times is enough to see a capacitor.
func TestCoupledOfFewJumps(t *testing.T) {
	truth := pulseTrain(1, 0, 0.1, 3)
	at, v := sound(truth, 44100, 10e-3, 0.003)
	j := found(at, v, 0.003)
	if tau, ok := j.coupled(); !ok || math.Abs(math.Log(tau/10e-3)) > 0.2 || len(j.edges) != len(truth) {
		t.Errorf("%g ms (%v), %d edges of %d", 1e3*tau, ok, len(j.edges), len(truth))
	}
}

// A converter that flickers before the first of few jumps is no level.
func TestCoupledAfterFlicker(t *testing.T) {
	truth := pulseTrain(2, 1, 0.4, 6)
	at, v := sound(truth, 48000, 5e-3, 0)
	dice := rand.New(rand.NewPCG(4, 4))
	for i, x := range v {
		v[i] = math.Round((x+0.004*dice.NormFloat64())/0.01) * 0.01
	}
	j := found(at, v, 0)
	j.wide = 0.8
	if tau, ok := j.coupled(); !ok || math.Abs(math.Log(tau/5e-3)) > 0.2 || len(j.edges) != len(truth) {
		t.Errorf("%g ms (%v), %d edges of %d", 1e3*tau, ok, len(j.edges), len(truth))
	}
}

// Levels that are held, and the swings of an inductive sensor, are not taken for levels
// behind a capacitor.
func TestNotCoupled(t *testing.T) {
	truth := pulseTrain(36, 1, 0.4, 10)
	for _, rate := range []float64{5000, 20000, 48000} {
		at, v := sound(truth, rate, 1e6, 0.005)
		if tau, ok := found(at, v, 0.005).coupled(); ok {
			t.Errorf("held levels at %g Hz have %g ms", rate, 1e3*tau)
		}
		// A swing at each tooth, steep in its middle: the derivative of a bell.
		for i := range v {
			v[i] = 0
		}
		for k := 0; k+1 < len(truth); k += 2 {
			middle, wide := (truth[k].At+truth[k+1].At)/2, (truth[k+1].At-truth[k].At)/2
			for i := int((middle - 5*wide) * rate); i < int((middle+5*wide)*rate) && i < len(v); i++ {
				x := (at[max(i, 0)] - middle) / wide
				v[max(i, 0)] -= x * math.Exp(-x*x)
			}
		}
		if tau, ok := found(at, v, 0.005).coupled(); ok {
			t.Errorf("an inductive sensor at %g Hz has %g ms", rate, 1e3*tau)
		}
	}
}

// One tooth that passes in front of a level at rest says nothing of a capacitor: whatever its
// time constant, a level at rest stays there.
func TestNotCoupledAtRest(t *testing.T) {
	for _, noise := range []float64{0.001, 0.01, 0.02} {
		for _, duty := range []float64{0.02, 0.98} {
			at, v := sound(pulseTrain(1, 0, duty, 14), 30000, 1e6, noise)
			if tau, ok := found(at, v, noise).coupled(); ok {
				t.Errorf("noise %g, duty %g: %g ms", noise, duty, 1e3*tau)
			}
		}
	}
}

// What is clearly no level behind a capacitor is given up and takes no more memory, and
// spikes before the engine turns do not hide what comes then.
func TestJumpsAreGivenUp(t *testing.T) {
	at, v := sound(pulseTrain(60, 2, 0.5, 60), 48000, 1e6, 0.005)
	if j := found(at, v, 0.005); !j.off || len(j.edges)+len(j.holds)+len(j.parts) > 0 {
		t.Errorf("held levels: off %v, %d edges, %d holds", j.off, len(j.edges), len(j.holds))
	}
	at, v = sound(pulseTrain(36, 1, 0.4, 10), 48000, 3e-3, 0.005)
	dice := rand.New(rand.NewPCG(3, 3))
	for i := range int(2.9 * 48000) {
		if i%200 == 100 {
			v[i] += 0.5 * (dice.Float64() - 0.5)
		}
	}
	if tau, ok := found(at, v, 0.005).coupled(); !ok || math.Abs(math.Log(tau/3e-3)) > 0.2 {
		t.Errorf("after spikes: %g ms (%v)", 1e3*tau, ok)
	}
}
