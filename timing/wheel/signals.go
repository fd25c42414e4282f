package wheel

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

// Sensor is a kind of sensor.
type Sensor int

// The two kinds. A tooth passes an inductive sensor when the voltage goes
// through zero at the tooth's centre, a Hall sensor at its leading edge.
const (
	Inductive Sensor = iota
	Hall
)

// String returns "inductive" or "hall", as in the job file.
func (s Sensor) String() string {
	if s == Hall {
		return "hall"
	}
	return "inductive"
}

// Text is the sensor as a term.
func (s Sensor) Text() phrase.Text {
	if s == Hall {
		return "hall"
	}
	return "inductive"
}

// ParseSensor reads what [Sensor.String] writes; anything else is the fallback.
func ParseSensor(name string, fallback Sensor) Sensor {
	switch name {
	case "inductive":
		return Inductive
	case "hall":
		return Hall
	}
	return fallback
}

// Fitting is how the wheels sit and the sensors are wired. The zero value is a
// correct engine.
type Fitting struct {
	Delta    timing.Deg // crank wheel ahead of where it belongs
	Gamma    timing.Deg // cam ahead of where it belongs, in crank degrees
	HalfTurn bool       // the cam is half a turn out as well

	BackToFront   bool // the crank wheel is turned over; see [Crank.Mirror]
	CrankReversed bool // the sensor's two wires are exchanged
	CamReversed   bool
}

// CamError returns how far the cam is ahead in all.
func (f Fitting) CamError(cycle timing.Deg) timing.Deg {
	if f.HalfTurn {
		return f.Gamma + cycle/2
	}
	return f.Gamma
}

// Signals are a crank sensor and, when Cam is not nil, a cam sensor.
type Signals struct {
	Crank       Crank
	CrankSensor Sensor
	Cam         *Cam
	CamSensor   Sensor
}

// Shapes of the predicted traces. Common practice, no source: they set what the
// traces look like, never when a tooth passes.
const (
	voltsPerRPM = 0.012 // peak of an inductive sensor: it grows with the speed
	hallVolts   = 5.0   // while a tooth is at the sensor, 0 else
	fluxWidth   = 0.25  // standard width of a tooth's flux, in pitches: peaks evenly spaced
	hallWidth   = 0.5   // of a tooth, in pitches
	widestCam   = 12.0  // cam degrees; a cam tooth is half the narrowest way, at most this
)

// Believes returns where the controller believes the crank is when it is at theta:
// a wheel that is ahead brings its teeth early. With the crank sensor's wires
// exchanged the edges it counts come half a pitch late; see [Passing]. Of a
// half-turned cam it knows nothing: it counts the turns of the crank by it.
func (s Signals) Believes(theta timing.Deg, f Fitting) timing.Deg {
	if f.CrankReversed {
		theta -= s.Crank.Pitch() / 2
	}
	return theta + f.Delta
}

// True returns where the crank is when the controller believes it at an angle: the
// inverse of [Signals.Believes].
func (s Signals) True(believed timing.Deg, f Fitting) timing.Deg {
	if f.CrankReversed {
		believed += s.Crank.Pitch() / 2
	}
	return believed - f.Delta
}

// CrankVolts returns the crank sensor's voltage when the crank is at theta and
// turns at rpm, above 0.
func (s Signals) CrankVolts(theta timing.Deg, rpm float64, f Fitting) float64 {
	c := s.Crank
	pitch := float64(c.Pitch())
	turned := float64(timing.Wrap(theta+f.Delta+c.FirstToothBTDC, timing.Turn)) // since position 1 passed
	if f.BackToFront {
		turned = float64(timing.Wrap(theta+f.Delta+c.FirstToothBTDC+2*c.Mirror(), timing.Turn))
	}
	near := int(math.Floor(turned / pitch))
	volts := 0.0
	for k := near - 2; k <= near+3; k++ {
		position := (k%c.Positions+c.Positions)%c.Positions + 1
		if f.BackToFront {
			position = ((-k)%c.Positions+c.Positions)%c.Positions + 1
		}
		if !c.IsMissing(position) {
			volts += s.CrankSensor.tooth(turned-float64(k)*pitch, pitch*fluxWidth, pitch*hallWidth, rpm)
		}
	}
	return s.CrankSensor.wired(volts, f.CrankReversed)
}

// CamVolts returns the cam sensor's voltage likewise; 0 without a cam wheel.
func (s Signals) CamVolts(theta timing.Deg, rpm float64, f Fitting) float64 {
	if s.Cam == nil {
		return 0
	}
	width := s.CamToothWidth()
	camSpeed := float64(timing.Turn / s.Cam.Cycle) // over the crank's
	volts := 0.0
	for j := range s.Cam.Teeth {
		at := s.Cam.PassesAt(j+1, f.CamError(s.Cam.Cycle))
		for _, d := range []timing.Deg{-s.Cam.Cycle, 0, s.Cam.Cycle} {
			past := timing.Wrap(theta, s.Cam.Cycle) - at + d
			volts += s.CamSensor.tooth(float64(past), float64(width)*fluxWidth, float64(width), rpm*camSpeed)
		}
	}
	return s.CamSensor.wired(volts, f.CamReversed)
}

// CamToothWidth returns the width of a cam tooth as it is drawn, in crank
// degrees. The job does not say it: our choice.
func (s Signals) CamToothWidth() timing.Deg {
	return min(s.Cam.Narrowest()/2, widestCam).Crank(s.Cam.Cycle)
}

// tooth is the voltage of one tooth, past degrees after it has passed. An
// inductive sensor gives the flux's change, here of a bell of standard width
// flux: up as the tooth comes, through zero at its centre, down as it goes.
func (s Sensor) tooth(past, flux, width, rpm float64) float64 {
	if s == Hall {
		if past >= 0 && past < width {
			return hallVolts
		}
		return 0
	}
	x := past / flux
	return -voltsPerRPM * rpm * x * math.Exp((1-x*x)/2)
}

// wired turns a voltage over when the wires are exchanged. A Hall sensor so
// wired gives nothing; what stands in for it is one with the opposite output.
func (s Sensor) wired(volts float64, reversed bool) float64 {
	switch {
	case !reversed:
		return volts
	case s == Hall:
		return hallVolts - volts
	}
	return -volts
}
