package edges

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"
)

// edgesFound are the edges of a signal handed on in blocks of a size.
func edgesFound(v []float64, rate float64, block int) *Finder {
	var f Finder
	for from := 0; from < len(v); from += block {
		to := min(from+block, len(v))
		t := make([]float64, to-from)
		for i := range t {
			t[i] = float64(from+i) / rate
		}
		f.Add(t, v[from:to], 1/rate)
	}
	f.Finish()
	return &f
}

// rim is the voltage of an inductive sensor whose signal is a sine, with a gap where its
// swing is three times as large and has a ramp through the middle; where its falling
// edges pass zero is known.
func rim(turned float64) float64 {
	k := math.Floor(turned)
	if in := math.Mod(k, 60); in >= 57 { // three positions as one slow wave, thrice as high
		x := (turned - (k - (in - 57))) / 3
		return -3 * math.Sin(2*math.Pi*x)
	}
	return -math.Sin(2 * math.Pi * turned)
}

// Edges are found where they are: to a thousandth of a tooth in a clean signal, also with
// an offset that drifts, a start from rest and a swing that grows with it; the gap loses
// none.
func TestEdgesOfTeeth(t *testing.T) {
	const rate, rpm = 20000.0, 180.0
	for _, drift := range []float64{0, 0.5} {
		var v, at []float64
		turned := 0.0
		for i := range int(4 * rate) {
			s := float64(i) / rate
			speed := rpm * (1 - math.Exp(-(s+0.01)/0.3))
			next := turned + speed*60/60/rate
			if f := math.Floor(next); f > turned && math.Mod(f, 60) != 58 && math.Mod(f, 60) != 59 {
				at = append(at, s+(f-turned)/(next-turned)/rate)
			}
			v = append(v, rim(turned)*speed/rpm+drift*s+1)
			turned = next
		}
		f := edgesFound(v, rate, 4096)
		falling, _ := Split(Prune(f.Edges(0), 0.25, Scales(f.Edges(0))))
		if drift == 0 && len(falling) < len(at)-2 || len(falling) > len(at)+1 {
			t.Errorf("drift %g: %d edges of %d teeth", drift, len(falling), len(at))
		}
		k, far := 0, 0.0
		for _, e := range falling[2 : len(falling)-2] {
			for k+1 < len(at) && math.Abs(at[k+1]-e.At) < math.Abs(at[k]-e.At) {
				k++
			}
			far = math.Max(far, math.Abs(at[k]-e.At)*rpm)
		}
		if far > 0.02 && drift == 0 || far > 0.08 {
			t.Errorf("drift %g: an edge is %g of a tooth out of place", drift, far)
		}
	}
}

// An edge depends neither on the blocks in which samples come, nor on unit, offset and
// polarity of the voltage.
func TestLawsOfEdges(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const rate = 10000.0
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		noise := rapid.SampledFrom([]float64{0, 0.01}).Draw(t, "noise")
		v := make([]float64, int(1.5*rate))
		for i := range v {
			v[i] = rim(float64(i)*180/rate) + noise*r.NormFloat64()
		}
		scale := rapid.SampledFrom([]float64{-1, 1, 1000, -0.001}).Draw(t, "scale")
		offset := rapid.Float64Range(-20, 20).Draw(t, "offset") * math.Abs(scale)
		w := make([]float64, len(v))
		for i := range v {
			w[i] = scale*v[i] + offset
		}
		a, b := edgesFound(v, rate, 4096), edgesFound(w, rate, rapid.IntRange(500, 5000).Draw(t, "block"))
		first, second := a.Edges(0), b.Edges(0)
		if len(first) != len(second) {
			t.Fatalf("%d edges, changed %d", len(first), len(second))
		}
		for i, e := range first {
			o := second[i]
			if e.At != e.At && o.At != o.At {
				continue
			}
			if math.Abs(e.At-o.At) > 1e-9 || (e.Rising() == o.Rising()) != (scale > 0) {
				t.Fatalf("edge %d at %g, changed %g", i, e.At, o.At)
			}
		}
	})
}

// A converter that goes on at its other end where the voltage leaves its range is
// mended; a level that switches is not touched.
func TestWraps(t *testing.T) {
	const rate = 10000.0
	n := int(3 * rate)
	whole, cut, hall := make([]float64, n), make([]float64, n), make([]float64, n)
	for i := range n {
		turned := float64(i) * 150 / rate
		step := 10.24 / 256
		v := math.Round((4.7+0.6*math.Sin(2*math.Pi*turned/60))*rim(turned)/3/step) * step
		whole[i] = v
		cut[i] = math.Mod(v+15.36+10.24*4-10.24+10.24, 10.24) - 5.12
		if math.Mod(turned, 1) < 0.5 && math.Mod(turned, 60) < 58 {
			hall[i] = 5
		}
	}
	// Wrapped at half the range it would not be seen: the gap's swing goes beyond it.
	for i := range cut {
		cut[i] = whole[i]
		if whole[i] > 4.2 {
			cut[i] -= 8.4 + 10.24/256
		}
		if cut[i] < -4.2 {
			cut[i] = max(cut[i], -4.2)
		}
		whole[i] = max(whole[i], -4.2)
	}
	a, b := edgesFound(whole, rate, 4096), edgesFound(cut, rate, 4096)
	first := Prune(a.Edges(0), 0.25, Scales(a.Edges(0)))
	second := Prune(b.Edges(0), 0.25, Scales(b.Edges(0)))
	if b.Wrapped() == 0 || len(first) != len(second) {
		t.Errorf("%d edges, %d of the wrapped signal, %d samples mended", len(first), len(second), b.Wrapped())
	}
	if a.Wrapped() > 0 {
		t.Errorf("%d samples of a whole signal were mended", a.Wrapped())
	}
	spike := make([]float64, n)
	for i := range n {
		spike[i] = rim(float64(i) * 150 / rate)
		if d := i - n/2; d > -15 && d < 0 {
			spike[i] = 9
		} else if d >= 0 && d < 15 {
			spike[i] = -9
		}
	}
	if h := edgesFound(spike, rate, 4096); h.Wrapped() > 0 {
		t.Errorf("%d samples of a spike from end to end were mended", h.Wrapped())
	}
	if h := edgesFound(hall, rate, 4096); h.Wrapped() > 0 {
		t.Errorf("%d samples of a level that switches were mended", h.Wrapped())
	}
}

// Small edges go, the large ones round them stay whole; what is left goes up and down in
// turn.
func TestPrune(t *testing.T) {
	list := []Edge{{At: 1, From: 0, To: 5}, {At: 2, From: 5, To: 4.5}, {At: 3, From: 4.5, To: 10}, {At: 4, From: 10, To: 0}, {At: 5, From: 0, To: 9}, {At: 6, From: 9, To: 1}}
	got := Prune(list, 0.25, Scales(list))
	if len(got) != 4 || got[0].From != 0 || got[0].To != 10 || got[0].At != 3 {
		t.Errorf("%+v", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		var list []Edge
		at, from := 0.0, float32(0)
		for i := range rapid.IntRange(0, 60).Draw(t, "edges") {
			size := float32(rapid.Float64Range(0.01, 10).Draw(t, "size"))
			if i%2 == 1 {
				size = -size
			}
			list = append(list, Edge{At: at, From: from, To: from + size})
			from += size
			at++
		}
		kept := Prune(list, 0.3, Scales(list))
		for i, e := range kept {
			if i > 0 && (e.From != kept[i-1].To || e.Rising() == kept[i-1].Rising()) {
				t.Fatalf("edge %d of %v does not follow", i, kept)
			}
		}
	})
}

// The largest edge within a time, against looking at every one.
func TestTallest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var list []Edge
		at := 0.0
		for range rapid.IntRange(1, 50).Draw(t, "edges") {
			at += rapid.Float64Range(0.01, 2).Draw(t, "interval")
			list = append(list, Edge{At: at, To: float32(rapid.Float64Range(0.1, 9).Draw(t, "size"))})
		}
		seconds := rapid.Float64Range(0.1, 5).Draw(t, "seconds")
		for i, tall := range Tallest(list, seconds) {
			want := 0.0
			for _, e := range list {
				if math.Abs(e.At-list[i].At) <= seconds {
					want = math.Max(want, e.Size())
				}
			}
			if tall != want {
				t.Fatalf("edge %d: %g, want %g", i, tall, want)
			}
		}
	})
}
