package finding

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// Marks is where the marks of a gear train stand when the crank has turned on from
// where they were set.
type Marks struct {
	Turns float64   // of the crank since then
	Apart []float64 // by how many teeth each wheel's mark is past its place, the short way; crank first
	Pump  *float64  // the same of the pump's gear; nil: none
	Says  phrase.Sentence
}

// The texts of where marks stand.
const (
	marksMeet      phrase.Text = "All marks are aligned here, as they were set."
	marksMeetAgain phrase.Text = "All marks are aligned again here, after {{.Turns}} crankshaft turns."
	marksWould     phrase.Text = "Here all marks would be aligned if every gear were correctly meshed."
	marksBack      phrase.Text = "After {{.Turns}} turns the crankshaft and camshaft marks are back, but an idler gear's mark is {{.Teeth}} of its {{.Of}} teeth away: that is no fault."
	marksBackOne   phrase.Text = "After one turn the crankshaft and camshaft marks are back, but an idler gear's mark is {{.Teeth}} of its {{.Of}} teeth away: that is no fault."
	marksPump      phrase.Text = "After {{.Turns}} crankshaft turns the marks from crankshaft to camshaft are back, but the pump's is {{.Teeth}} of its {{.Of}} teeth away: that is no fault."
	marksPumpOne   phrase.Text = "After one crankshaft turn the marks from crankshaft to camshaft are back, but the pump's is {{.Teeth}} of its {{.Of}} teeth away: that is no fault."
	marksHalf      phrase.Text = "The crankshaft's mark is back, the camshaft's is half a turn away: cylinder 1 is at the end of its exhaust stroke."
	marksBetween   phrase.Text = "{{.Turns}} crankshaft turns ahead of where the marks were set."
	marksFirst     phrase.Text = "{{.Deg}} crank degrees ahead of where the marks were set."
	marksBefore    phrase.Text = "{{.Deg}} crank degrees before where the marks were set."
	marksBackwards phrase.Text = "{{.Turns}} crankshaft turns before where the marks were set."
	marksOut       phrase.Text = "The camshaft gear's mark is {{.Teeth}} teeth ahead of its place: the gear was fitted in the wrong position."
	marksOutOne    phrase.Text = "The camshaft gear's mark is one tooth ahead of its place: the gear was fitted in the wrong position."
	marksShort     phrase.Text = "The camshaft gear's mark is {{.Teeth}} teeth behind its place: the gear was fitted in the wrong position."
	marksShortOne  phrase.Text = "The camshaft gear's mark is one tooth behind its place: the gear was fitted in the wrong position."
)

// still is how near its place a mark must be to be there, as a part of a tooth.
const still = 1e-6

// pastPlace is by how many of its teeth a wheel's mark is past its place the way the
// wheel turns itself.
func pastPlace(turned timing.Deg, withCrank bool, teeth int) float64 {
	past := round(float64(timing.WrapSigned(turned, timing.Turn)) / 360 * float64(teeth))
	if !withCrank {
		return -past
	}
	return past
}

// MarksAt returns where the marks stand when the crank has turned by theta since
// they were set, any number of turns either way. A cam gear that is out by teeth
// turns with the rest; what its mark is out by is said by [MarksOut]. It needs
// [gears].
func MarksAt(j job.Job, theta timing.Deg) (Marks, error) {
	t, err := TrainOf(j)
	if err != nil {
		return Marks{}, err
	}
	m := Marks{Turns: round(float64(theta / timing.Turn))}
	teeth := t.Teeth()
	idler, of, hangs := 0.0, 0, false // the wheel off its place; whether that is the pump
	for i, z := range teeth {
		past := pastPlace(t.Angle(i, theta), t.WithCrank(i), z)
		m.Apart = append(m.Apart, past)
		if i > 0 && i < len(teeth)-1 && math.Abs(past) > math.Abs(idler) {
			idler, of = past, z
		}
	}
	if p, ok := t.Pump(); ok {
		pump := pastPlace(t.PumpAngle(theta), t.PumpWithCrank(), p.Teeth)
		m.Pump = &pump
		if math.Abs(idler) < still {
			idler, of, hangs = pump, p.Teeth, true
		}
	}
	turns, cam := math.Abs(m.Turns), m.Apart[len(teeth)-1]
	data := map[string]any{"Turns": phrase.Num{Value: turns, Decimals: 2}, "Deg": deg(size(theta)), "Teeth": phrase.Num{Value: math.Abs(idler), Decimals: 1}, "Of": of}
	m.Says = phrase.Sentence{Text: marksBetween, Data: data}
	switch back, out := math.Abs(m.Apart[0]) < still && math.Abs(cam) < still, j.Gears.CamTeethOut != 0; {
	case back && math.Abs(idler) < still && out:
		m.Says = phrase.Sentence{Text: marksWould}
	case back && math.Abs(idler) < still && turns < 0.5:
		m.Says = phrase.Sentence{Text: marksMeet}
	case back && math.Abs(idler) < still:
		m.Says.Text = marksMeetAgain
	case back && hangs && turns == 1:
		m.Says.Text = marksPumpOne
	case back && hangs:
		m.Says.Text = marksPump
	case back && turns == 1:
		m.Says.Text = marksBackOne
	case back:
		m.Says.Text = marksBack
	case math.Abs(m.Apart[0]) < still && math.Abs(math.Abs(cam)-float64(teeth[len(teeth)-1])/2) < still:
		m.Says = phrase.Sentence{Text: marksHalf}
	case turns < 1 && theta > 0:
		m.Says.Text = marksFirst
	case turns < 1:
		m.Says.Text = marksBefore
	case theta < 0:
		m.Says.Text = marksBackwards
	}
	return m, nil
}

// MarksOut says what a cam gear put in teeth out does to its mark; ok is false for
// one that is not out.
func MarksOut(teethOut int) (says phrase.Sentence, ok bool) {
	text := marksOut
	switch {
	case teethOut == 0:
		return phrase.Sentence{}, false
	case teethOut == 1:
		text = marksOutOne
	case teethOut == -1:
		text = marksShortOne
	case teethOut < 0:
		text = marksShort
	}
	return phrase.Sentence{Text: text, Data: map[string]any{"Teeth": phrase.Num{Value: math.Abs(float64(teethOut))}}}, true
}

// Onward returns how far the crank has turned in all when it was at total and now
// stands at an angle of its cycle: the short way from there.
func Onward(total, at, cycle timing.Deg) timing.Deg {
	on := total + timing.Difference(total, at, cycle)
	return at + cycle*timing.Deg(math.Round(float64((on-at)/cycle))) // no rounding gathers
}

// ToothOut is what a gear put in teeth out does.
type ToothOut struct {
	Teeth            int
	CamErrorDeg      float64  // crank degrees, the keyway's error with it; the short way round the cycle
	CamDeg           float64  // of the cam itself
	IntakeClosesABDC *float64 // nil where the job has no valve times
	CorrelationDeg   *float64 // what a recording would show; nil where the wheel error cannot be said
}

// TeethOut returns what teeth out do, from so many behind to so many ahead. It needs
// what [GearsOf] needs.
func TeethOut(j job.Job, most int) ([]ToothOut, error) {
	t, err := TrainOf(j)
	if err != nil {
		return nil, err
	}
	e, err := EngineOf(j)
	if err != nil {
		return nil, err
	}
	kappa, err := gearErrorOf(j)
	if err != nil {
		return nil, err
	}
	wheel, wheelErr := WheelErrorOf(j)
	var list []ToothOut
	for k := -most; k <= most; k++ {
		gamma := timing.WrapSigned(t.CamError(kappa.Value, k), e.Cycle())
		r := ToothOut{Teeth: k, CamErrorDeg: round(float64(gamma)), CamDeg: round(float64(gamma) * t.CamPerCrank())}
		if v := j.Engine.Valves; v != nil && v.IntakeClosesABDCDeg.Given {
			closes := round(v.IntakeClosesABDCDeg.Value - float64(gamma))
			r.IntakeClosesABDC = &closes
		}
		if wheelErr == nil {
			apart := round(float64(timing.WrapSigned(wheel.Value-gamma, e.Cycle())))
			r.CorrelationDeg = &apart
		}
		list = append(list, r)
	}
	return list, nil
}
