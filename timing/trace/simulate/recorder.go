package simulate

import (
	"fmt"
	"io"
	"math"
	"sort"
	"strconv"
)

// Wheels are the two sensor wheels and how they sit.
type Wheels struct {
	Positions  int
	Missing    []int
	CrankFirst float64 // degrees before top dead centre at which tooth 1 should pass
	CrankHall  bool
	Cam        []float64 // degrees of the cam; empty: no cam sensor
	CamFirst   float64
	CamHall    bool
	CamWidth   float64 // of a cam tooth, cam degrees; 0 is 8

	Delta, Gamma float64 // crank wheel ahead, cam ahead, crank degrees
	CrankFlip    bool    // polarity
	CamFlip      bool
	RunOut       float64 // crank teeth out of place by a sine of this many degrees
	ToothError   float64 // and by chance, standard deviation in degrees
}

// Scope is the recorder and its faults. Volts are of a signal that swings by
// some; the crank's inductive sensor swings by 2 V at 200 rpm.
type Scope struct {
	Rate      float64 // samples each second
	Noise     float64 // V, standard deviation
	Hum       float64 // V, 50 Hz
	Offset    float64 // V
	Bits      int     // of a converter over 20 V; 0: none
	Dropouts  int     // stretches in which the crank channel is lost
	DropS     float64 // how long each is
	Pressure  bool    // a channel with the pressure of cylinder 1, bar
	Current   bool    // a channel with the starter's current, A
	Swapped   bool    // crank and cam exchanged
	TimeStart float64
}

// Signals are the samples of a recording.
type Signals struct {
	Rate     float64
	Crank    []float64
	Cam      []float64 // nil without a cam wheel
	Pressure []float64
	Current  []float64
}

// Record samples what the sensors show while the crank runs its course.
func (s Scope) Record(c Course, e Engine, w Wheels, noise func() float64) Signals {
	n := int(float64(len(c.Theta)-2) * c.Step * s.Rate)
	out := Signals{Rate: s.Rate, Crank: make([]float64, n)}
	crank := newRim(w.crankTeeth(noise), 2*math.Pi, w.CrankHall, 180/float64(w.Positions))
	var cam rim
	width := w.CamWidth
	if width == 0 {
		width = 8
	}
	turn := e.Cycle / 360
	if len(w.Cam) > 0 {
		out.Cam = make([]float64, n)
		var teeth []float64
		for _, a := range w.Cam {
			teeth = append(teeth, (-w.CamFirst-w.Gamma)*math.Pi/180+a*turn*math.Pi/180)
		}
		cam = newRim(teeth, e.Cycle*math.Pi/180, w.CamHall, width*turn)
	}
	quiet := func() float64 {
		if s.Noise == 0 {
			return 0
		}
		return s.Noise * noise()
	}
	for i := range n {
		t := float64(i) / s.Rate
		x := t / c.Step
		k := min(int(x), len(c.Theta)-2)
		part := x - float64(k)
		theta := c.Theta[k] + part*(c.Theta[k+1]-c.Theta[k])
		omega := c.Omega[k] + part*(c.Omega[k+1]-c.Omega[k])
		hum := s.Hum * math.Sin(2*math.Pi*50*t)
		v := crank.volts(theta, omega)
		if w.CrankFlip {
			v = crank.flip(v)
		}
		out.Crank[i] = s.convert(v + hum + s.Offset + quiet())
		if out.Cam != nil {
			v := cam.volts(theta, omega/2)
			if w.CamFlip {
				v = cam.flip(v)
			}
			out.Cam[i] = s.convert(v + 0.6*hum + 0.3*s.Offset + quiet())
		}
		if s.Pressure {
			out.Pressure = append(out.Pressure, s.convert((c.First[k]-e.AirPa)/1e5*0.1+0.2*quiet())*10)
		}
		if s.Current {
			out.Current = append(out.Current, s.convert((30+c.Pull[k]*0.8)/100+quiet()*0.5)*100)
		}
	}
	for d := range s.Dropouts {
		at := int(float64(n) * (0.35 + 0.5*float64(d)/float64(max(s.Dropouts, 1))))
		for i := at; i < at+int(s.DropS*s.Rate) && i < n; i++ {
			out.Crank[i] = s.convert(s.Offset + quiet())
		}
	}
	if s.Swapped {
		out.Crank, out.Cam = out.Cam, out.Crank
	}
	return out
}

// crankTeeth are where teeth pass, in radians of the crank.
func (w Wheels) crankTeeth(noise func() float64) []float64 {
	gone := map[int]bool{}
	for _, m := range w.Missing {
		gone[m] = true
	}
	var list []float64
	for p := 1; p <= w.Positions; p++ {
		if gone[p] {
			continue
		}
		at := -w.CrankFirst + float64(p-1)*360/float64(w.Positions) - w.Delta
		at += w.RunOut * math.Sin(2*math.Pi*float64(p)/float64(w.Positions))
		if w.ToothError > 0 {
			at += w.ToothError * noise()
		}
		list = append(list, at*math.Pi/180)
	}
	return list
}

// convert rounds to the converter's steps.
func (s Scope) convert(v float64) float64 {
	if s.Bits == 0 {
		return v
	}
	step := 20 / math.Exp2(float64(s.Bits))
	return math.Round(min(max(v, -10), 10)/step) * step
}

// rim is a wheel at its sensor: teeth by angle within a turn.
type rim struct {
	teeth []float64
	turn  float64
	hall  bool
	width float64 // of a tooth, radians of the crank
}

func newRim(teeth []float64, turn float64, hall bool, widthDeg float64) rim {
	r := rim{turn: turn, hall: hall, width: widthDeg * math.Pi / 180}
	for _, a := range teeth {
		a = math.Mod(a, turn)
		if a < 0 {
			a += turn
		}
		r.teeth = append(r.teeth, a)
	}
	sort.Float64s(r.teeth)
	return r
}

// volts is the sensor's voltage. The flux of an inductive sensor is a sum of
// 1/(1+x^2)^2, x the way from a tooth's centre over 0.8 of its width; the voltage
// its change with time.
func (r rim) volts(theta, omega float64) float64 {
	a := math.Mod(theta, r.turn)
	if a < 0 {
		a += r.turn
	}
	n := len(r.teeth)
	near := sort.SearchFloat64s(r.teeth, a)
	if r.hall {
		past := math.Inf(1)
		for k := near - 1; k <= near; k++ {
			if d := a - r.teeth[(k+n)%n]; k < 0 {
				past = min(past, d+r.turn)
			} else if k < n && d >= 0 {
				past = min(past, d)
			}
		}
		if past < r.width {
			return 4.9
		}
		return 0.2
	}
	sum := 0.0
	for k := near - 3; k <= near+2; k++ {
		d := a - r.teeth[((k%n)+n)%n]
		d -= r.turn * math.Round(d/r.turn)
		x := d / (0.8 * r.width)
		q := 1 + x*x
		sum += -4 * x / (q * q * q)
	}
	return sum * omega * 0.065
}

func (r rim) flip(v float64) float64 {
	if r.hall {
		return 5.1 - v
	}
	return -v
}

// WriteCSV writes the samples as comma-separated values with times of so many
// decimals under the given names; a name left out leaves its channel out.
func (s Signals) WriteCSV(w io.Writer, decimals int, names ...string) error {
	buf := make([]byte, 0, 1<<16)
	channels := [][]float64{s.Crank, s.Cam, s.Pressure, s.Current}
	head := "time (s)"
	for i, n := range names {
		if n != "" && channels[i] != nil {
			head += "," + n
		}
	}
	if _, err := fmt.Fprintln(w, head); err != nil {
		return err
	}
	for i := range max(len(s.Crank), len(s.Cam)) {
		buf = strconv.AppendFloat(buf, float64(i)/s.Rate, 'f', decimals, 64)
		for k, n := range names {
			if n != "" && channels[k] != nil {
				buf = strconv.AppendFloat(append(buf, ','), channels[k][i], 'f', 3, 64)
			}
		}
		buf = append(buf, '\n')
		if len(buf) > 60000 {
			if _, err := w.Write(buf); err != nil {
				return err
			}
			buf = buf[:0]
		}
	}
	_, err := w.Write(buf)
	return err
}
