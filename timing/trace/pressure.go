package trace

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/trace/ripple"
)

// pressureTDC finds true top dead centre in the controller's angle from a
// cylinder's pressure: the mean course over the cycle, fitted with the same gas as
// the ripple. cylinder is 0 when the channel does not say which it is.
func (c *Collector) pressureTDC(a *Analysis, engine Engine, clocks []clock) (tdc timing.Measured, cylinder int, ok bool) {
	for i := range a.Channels {
		ch := &a.Channels[i]
		if ch.ByName != CylinderPressure || ch.Role != Unknown || ch.Flat {
			continue
		}
		at, bar := c.pressureCourse(&c.channels[i].thin, clocks, float64(engine.Scheme.Cycle()))
		if tdc, ok = ripple.FitPressure(engine, a.RPM, at, bar); ok {
			ch.Role = CylinderPressure
			return tdc, ch.Cylinder, true
		}
	}
	return tdc, 0, false
}

// pressureCourse is the mean of a channel by the controller's angle within the
// cycle, in steps of a degree, as far as it was seen, its highest value in the
// middle.
func (c *Collector) pressureCourse(s *thinned, clocks []clock, cycle float64) (at, mean []float64) {
	n := int(cycle)
	sum, count := make([]float64, n), make([]float64, n)
	for _, k := range clocks {
		for t := k.t[0]; t < k.t[len(k.t)-1]; t += s.width / 2 {
			angle, ok := k.at(t)
			v := s.value(t - c.first)
			if !ok || v != v {
				continue
			}
			b := int(timing.Wrap(timing.Deg(angle), timing.Deg(cycle)))
			sum[b] += v
			count[b]++
		}
	}
	top := -1
	for b := range sum {
		if count[b] > 0 {
			sum[b] /= count[b]
			if top < 0 || sum[b] > sum[top] {
				top = b
			}
		}
	}
	if top < 0 {
		return nil, nil
	}
	for d := -int(ripple.PressureReach); d <= int(ripple.PressureReach); d++ {
		if b := ((top+d)%n + n) % n; count[b] > 0 {
			at, mean = append(at, float64(top+d)+0.5), append(mean, sum[b])
		}
	}
	return at, mean
}
