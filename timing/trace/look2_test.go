package trace

import (
	"pinphase/timing/trace/simulate"
	"testing"
)

func TestPeek(t *testing.T) {
	for _, fl := range []float64{0, 3, 10} {
		for _, sec := range []float64{6, 30} {
			for _, n := range []int{4, 6} {
				w := simulate.Wheels{Positions: 60, Missing: []int{59, 60}, CrankFirst: 84}
				c := tryout{Cylinders: n, Wheels: w, Scope: simulate.Scope{Rate: 25000}, Seed: 3, Seconds: sec, RPM: 200, Change: func(e *simulate.Engine) {
					e.Flutter = fl
					e.Mass = 0
					e.Ring = 0
					e.Throttle = 0
					e.Heat = 0
					e.Leak = 0
				}}
				s, k := c.play()
				a, err := collect(s).Analyse(k)
				if err != nil {
					t.Fatal(err)
				}
				var cl []clock
				for _, r := range a.Runs {
					cl = append(cl, clockOf(r, k.Crank))
				}
				list, win, _ := rows(cl, a.Runs, 720, nil)
				f := newRipple(*k.Engine, list, win, false)
				e := simulate.Typical(n)
				bt := -(e.Stall/(e.FreeRPM*3.14159/30) + e.Viscous) / e.Inertia
				g := f.gas(k.Engine.workOf(1.385, 0), -1, 0)
				tr := f.travel
				for it := range 4 {
					lin, _ := leastSquares([][]float64{g, tr}, f.y)
					rest := make([]float64, len(f.y))
					for i := range rest {
						rest[i] = f.y[i] - lin[0]*g[i] - lin[1]*tr[i]
					}
					if it == 0 || it == 3 {
						t.Logf("flutter %g sec %g n %d it %d: J %.3f (%.3f) b1 %.2f (%.2f) R2 %.4f corr %.3f", fl, sec, n, it, 1/lin[0], e.Inertia, lin[1], bt, 1-dot(rest, rest)/dot(f.y, f.y), 0.0)
					}
					tr = f.steadyTravel(f.y, rest)
				}
				if a.TDC != nil {
					t.Logf("   tdc %.2f u %.2f L %.3f n %.3f", float64(a.TDC.Value), float64(a.TDC.U), a.Ripple.Leak, a.Ripple.Exponent)
				}
			}
		}
	}
}
