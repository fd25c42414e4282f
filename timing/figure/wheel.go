package figure

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// WheelInput is what the wheel figure shows: the end of the crankshaft with
// its sensor wheel, as seen from View.From, turned to Theta. Every angle on the
// part is signed, positive in the direction of rotation.
type WheelInput struct {
	View  timing.View
	Theta timing.Deg // crank angle; 0 puts the No. 1 throw at the top

	Positions int // of the wheel; 0: no wheel, only the nose is drawn
	Missing   []int
	FirstBTDC timing.Deg // B: tooth 1 passes the sensor at Theta = −B on a correct engine
	Error     timing.Deg // delta: how far the wheel is displaced in the direction of rotation

	SensorAt *timing.Deg // after the top in the direction of rotation; nil: [DefaultSensorAt]

	// From the No. 1 throw to the keyway, and from the keyway to the dowel. Nil:
	// not known. An unknown keyway is drawn at the throw; let Caption say so.
	KeywayDrawing, KeywayMeasured *timing.Deg
	DowelDrawing, DowelMeasured   *timing.Deg

	Commanded, Actual *timing.Deg // start of injection of cylinder 1 before TDC; nil: not shown

	Heading, Title, Desc string
	Caption              []string // lines under the figure: the end it is seen from, assumptions
	Words                WheelWords
}

// WheelWords are the labels, ready for the reader. An empty word leaves out the
// label or the legend entry.
type WheelWords struct {
	TDC, BTDC, ATDC              string // on the protractor
	Sensor, Rotation             string
	Tooth1, Tooth1Correct, Gap   string
	Throw, Keyway, KeywayDrawing string
	DowelDrawing, DowelMeasured  string
	Commanded, Actual            string // with their values
	Error                        string // at the arc between drawing and measured dowel: "−25.0°"
}

// DefaultSensorAt is where the sensor stands when nothing says where: 60
// degrees after the top in the direction of rotation. Its true place round the
// crankshaft changes nothing that is shown of the timing.
const DefaultSensorAt timing.Deg = 60

// WheelLayout says where the figure has put things.
type WheelLayout struct {
	X, Y   float64 // the crankshaft's axis
	Ring   float64 // radius of the protractor
	Tip    float64 // of the teeth; 0 without a wheel
	Nose   float64 // of the end face
	Dowel  float64 // on which the dowel lies
	View   timing.View
	Theta  timing.Deg
	Sensor timing.Deg // after the top in the direction of rotation
}

// PageAngle turns an angle that is positive in the direction of rotation into
// an angle on the page, clockwise: the one place where the sense of rotation
// and the end it is seen from decide how things are drawn.
func PageAngle(v timing.View, signed timing.Deg) float64 {
	if v.Rotates() == timing.Anticlockwise {
		return -float64(signed)
	}
	return float64(signed)
}

// Point returns the place at a radius and at an angle from the top, positive
// in the direction of rotation.
func (l WheelLayout) Point(r float64, fromTop timing.Deg) (x, y float64) {
	return Polar(l.X, l.Y, r, PageAngle(l.View, fromTop))
}

// FromTop is the inverse of [WheelLayout.Point]: the angle of a place on the
// page, from the top and positive in the direction of rotation, in (−180, 180].
func (l WheelLayout) FromTop(x, y float64) timing.Deg {
	page := timing.FromRadians(math.Atan2(x-l.X, l.Y-y))
	return timing.WrapSigned(timing.Deg(PageAngle(l.View, page)), timing.Turn)
}

// OnPart returns where on the part a place on the page is: its angle from the
// No. 1 throw, positive in the direction of rotation, in (−180, 180].
func (l WheelLayout) OnPart(x, y float64) timing.Deg {
	return timing.WrapSigned(l.FromTop(x, y)-l.Theta, timing.Turn)
}

// ToothOnPart returns the angle from the No. 1 throw, in the direction of
// rotation, at which tooth k of the wheel sits. A fixed sensor at sigma after the
// top meets the tooth when theta + angle = sigma; on a correct engine that is at
// theta = −B + (k−1)·360/N, so the angle is sigma + B − (k−1)·360/N. A displaced
// wheel carries its teeth Error further.
func (in WheelInput) ToothOnPart(k int) timing.Deg {
	return in.sensorAt() + in.FirstBTDC - timing.Deg(k-1)*timing.Turn/timing.Deg(in.Positions) + in.Error
}

func (in WheelInput) sensorAt() timing.Deg {
	if in.SensorAt != nil {
		return *in.SensorAt
	}
	return DefaultSensorAt
}
