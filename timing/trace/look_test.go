package trace

import (
	"math"
	"math/rand/v2"
	"os"
	"pinphase/timing/trace/simulate"
	"strconv"
	"testing"
)

func TestLook(t *testing.T) {
	N := 60
	if v, _ := strconv.Atoi(os.Getenv("N")); v > 0 {
		N = v
	}
	bad := 0
	tot := 0
	badc := 0
	var se, sz float64
	for i := range N {
		r := rand.New(rand.NewPCG(uint64(i), 7))
		u := func(a, b float64) float64 { return a + (b-a)*r.Float64() }
		n := []int{3, 4, 5, 6, 8}[r.IntN(5)]
		w := simulate.Wheels{Positions: 60, Missing: []int{59, 60}, CrankFirst: 84, Cam: []float64{0, 60, 120, 180, 240, 300, 330}, CamFirst: 50, CamHall: true}
		wk := r.IntN(3)
		switch wk {
		case 1:
			w.Positions = 36
			w.Missing = []int{36}
		case 2:
			w.Positions = 36
			w.Missing = []int{17, 18, 35, 36, 24}
			w.Missing = []int{18, 24, 35, 36}
		}
		w.CrankHall = r.IntN(2) == 1
		w.CamHall = r.IntN(2) == 1
		w.CrankFlip = r.IntN(2) == 1
		w.CamFlip = r.IntN(2) == 1
		w.Delta = u(-40, 40)
		w.Gamma = []float64{0, 10, -10}[r.IntN(3)]
		w.RunOut = u(0, 0.1)
		w.ToothError = u(0, 0.08)
		sc := simulate.Scope{Rate: []float64{10000, 25000, 50000, 100000}[r.IntN(4)], Noise: u(0, 0.1), Hum: u(0, 0.1), Offset: u(-0.5, 0.5), Bits: 8 + 4*r.IntN(2)}
		e0 := simulate.Typical(n)
		ch := func(e *simulate.Engine) {
			e.Heat = u(50, 260)
			e.Leak = u(0.1, 1.3) * 1e-6
			e.Gamma = u(1.37, 1.395)
			e.Ring = u(1, 7)
			e.Throttle = u(500, 5000)
			e.Viscous *= u(0.5, 2)
			e.Dry *= u(0.6, 1.4)
			e.Stall *= u(0.75, 1.2)
			e.FreeRPM *= u(0.85, 1.15)
			e.Inertia *= u(0.7, 1.6)
			e.Sag = u(0, 0.02)
			e.Flutter = u(0, 12)
			e.WallK = u(260, 340)
			e.AirK = u(265, 310)
			e.Closes += u(-4, 4)
			e.Opens += u(-4, 4)
			e.Ratio += u(-0.7, 0.7)
			e.Mass *= u(0.6, 1.5)
			if r.IntN(4) == 0 {
				e.Strength = make([]float64, n)
				for k := range e.Strength {
					e.Strength[k] = 1
				}
				e.Strength[r.IntN(n)] = u(0.5, 0.95)
			}
		}
		if os.Getenv("CLEAN") != "" {
			sc = simulate.Scope{Rate: 50000}
			w.RunOut = 0
			w.ToothError = 0
		}
		old := ch
		if os.Getenv("NOPHYS") != "" {
			ch = nil
		}
		if os.Getenv("NOFLUT") != "" {
			ch = func(e *simulate.Engine) { old(e); e.Flutter = 0; e.Strength = nil }
		}
		if os.Getenv("NOSAG") != "" {
			ch = func(e *simulate.Engine) {
				old(e)
				e.Flutter = 0
				e.Strength = nil
				e.Sag = 0
				e.Ring = 4
				e.Mass = 2.2
				e.Ratio = 17
				e.Closes = 36
				e.Opens = 48
			}
		}
		switch os.Getenv("V") {
		case "nostrength":
			ch = func(e *simulate.Engine) { old(e); e.Strength = nil }
		case "noflutter":
			ch = func(e *simulate.Engine) { old(e); e.Flutter = 0 }
		case "onlyflutter":
			ch = func(e *simulate.Engine) { f := 0.0; f = 10; e.Flutter = f }
		case "onlystrength":
			ch = func(e *simulate.Engine) { q := *e; old(&q); e.Strength = q.Strength }
		}
		c := tryout{Cylinders: n, Wheels: w, Scope: sc, Start: u(0, 720), Seed: uint64(i), Change: ch, Seconds: u(4, 8)}
		s, k := c.play()
		col := collect(s)
		a, err := col.Analyse(k)
		_ = e0
		if err != nil {
			t.Log(i, n, wk, err)
			continue
		}
		if a.Correlation != nil {
			e := float64(a.Correlation.Value) - (w.Delta - w.Gamma)
			if math.Abs(e) > 1.96*float64(a.Correlation.U) {
				badc++
			}
			if math.Abs(e) > 0.3 {
				t.Logf("%d corr err %.2f u %.2f wk %d rate %g", i, e, float64(a.Correlation.U), wk, sc.Rate)
			}
		} else {
			t.Log(i, "no corr", n, wk, w.CrankHall, w.CamHall, w.CrankFlip, w.CamFlip, sc, a.Faults)
		}
		if a.TDC == nil {
			t.Log(i, n, "no tdc", wk, w.CrankHall, sc, a.Faults)
			continue
		}
		e := float64(timingwrap(float64(a.TDC.Value)-w.Delta, float64(a.Modulo)))
		tot++
		se += e
		sz += e * e / float64(a.TDC.U*a.TDC.U)
		rr := a.Ripple
		flag := ""
		if math.Abs(e) > 1.96*float64(a.TDC.U) {
			bad++
			flag = "**"
		}
		t.Logf("%d n=%d wk=%d rate %g hall %v: err %.2f u %.2f %s bound %.2f R2 %.4f n %.3f L %.3f cyc %d rpm %.0f str %.2f", i, n, wk, sc.Rate, w.CrankHall, e, float64(a.TDC.U), flag, float64(rr.BoundU), rr.Explained, rr.Exponent, rr.Leak, rr.Cycles, a.RPM, rr.Strength)
	}
	t.Logf("bad %d of %d, corr bad %d, mean %.2f rms z %.2f", bad, tot, badc, se/float64(tot), math.Sqrt(sz/float64(tot)))
}
func timingwrap(d, m float64) float64 { return d - m*math.Round(d/m) }
