package finding

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strconv"

	"pinphase.org/pinphase/timing"
)

// Sampling is how a predicted recording is taken.
type Sampling struct {
	Cycles float64 // above 0
	RateHz float64 // samples a second
}

// UsualSampling is taken where the reader does not say: four cycles, as fast as a
// common two-channel recording.
var UsualSampling = Sampling{Cycles: 4, RateHz: 20000}

// maxSamples bounds a predicted recording; its file has some 35 bytes a sample.
const maxSamples = 20_000_000

// Samples returns how many samples the recording has at a speed, or what is wrong
// with the sampling.
func (p Sampling) Samples(cycle timing.Deg, rpm float64) (int, error) {
	switch {
	case !(p.Cycles > 0 && p.Cycles <= 10000):
		return 0, fmt.Errorf("%g cycles is not above 0 and at most 10000", p.Cycles)
	case !(p.RateHz >= 100 && p.RateHz <= 1e6):
		return 0, fmt.Errorf("%g samples a second is not between 100 and 1000000", p.RateHz)
	}
	n := math.Ceil(p.Cycles * float64(cycle) / (6 * rpm) * p.RateHz)
	if n > maxSamples {
		return 0, fmt.Errorf("%g cycles at %g rpm and %g samples a second are %.0f samples; at most %d are written", p.Cycles, rpm, p.RateHz, n, maxSamples)
	}
	return max(int(n), 2), nil
}

// WriteCSV writes the signals as a recording at constant speed, which begins at
// cylinder 1's true firing TDC: time in seconds, true crank angle in degrees from
// there on (0..cycle), crank and cam sensor in volts. Without a cam wheel there is
// no such column.
func (s Signals) WriteCSV(w io.Writer, p Sampling) error {
	cycle := timing.Deg(s.CycleDeg)
	n, err := p.Samples(cycle, s.RPM)
	if err != nil {
		return err
	}
	b := bufio.NewWriterSize(w, 1<<16)
	b.WriteString("time_s,angle_deg,crank_V")
	if s.Cam != nil {
		b.WriteString(",cam_V")
	}
	b.WriteByte('\n')
	var line []byte
	for i := range n {
		t := float64(i) / p.RateHz
		at := timing.Wrap(timing.Deg(t*6*s.RPM), cycle)
		line = strconv.AppendFloat(line[:0], t, 'f', 7, 64)
		line = strconv.AppendFloat(append(line, ','), float64(at), 'f', 3, 64)
		line = appendVolts(line, s.Of.CrankVolts(at, s.RPM, s.Fitting))
		if s.Cam != nil {
			line = appendVolts(line, s.Of.CamVolts(at, s.RPM, s.Fitting))
		}
		b.Write(append(line, '\n'))
	}
	return b.Flush()
}

// appendVolts writes a voltage to a tenth of a millivolt, never a negative zero.
func appendVolts(line []byte, v float64) []byte {
	if v = math.Round(v*1e4) / 1e4; v == 0 {
		v = 0
	}
	return strconv.AppendFloat(append(line, ','), v, 'f', 4, 64)
}
