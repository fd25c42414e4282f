package job

import (
	"math"

	"pinphase.org/pinphase/timing/phrase"
)

// Question is a value that may be sound but looks like a slip: a unit taken for
// another, or a decimal point. It is asked about beside its field and noted in every
// answer; nothing is refused for it.
type Question struct {
	Key    string          // as in Fault.Key
	Says   phrase.Sentence // with the key's name
	Beside phrase.Sentence // beside its field
}

// The questions.
const (
	besideAgain phrase.Text = "{{.Value}} {{.Unit}} is unusual."
	besideUnit  phrase.Text = "{{.Value}} {{.Unit}} is unusual. If {{.Other}} were meant, it would be {{.Would}} {{.Unit}}."

	askAgain phrase.Text = "Check {{.Key}}: {{.Value}} {{.Unit}} is unusual."
	askUnit  phrase.Text = "Check {{.Key}}: {{.Value}} {{.Unit}} is unusual. If {{.Other}} were meant, it would be {{.Would}} {{.Unit}}."
)

// Units that are taken for those of the file.
const (
	inches  phrase.Text = "inches"
	degreeF phrase.Text = "°F"
	psi     phrase.Text = "psi"
	inHg    phrase.Text = "inHg"
	mmHg    phrase.Text = "mmHg"
	bars    phrase.Text = "bar"
)

// meant is a unit that a value may have been meant in, and what it then is.
type meant struct {
	unit phrase.Text
	is   func(float64) float64
}

func times(unit phrase.Text, by float64) meant {
	return meant{unit, func(v float64) float64 { return v * by }}
}

// Conversions: an inch is 25.4 mm exactly; a pound on a square inch 6.894757 kPa, an
// inch of mercury 3.386389 kPa, a millimetre of it 0.1333224 kPa (NIST SP 811, app. B).
var (
	asInches   = times(inches, 25.4)
	asPsi      = times(psi, 6.894757)
	asInHg     = times(inHg, 3.386389)
	asMmHg     = times(mmHg, 0.1333224)
	asBar      = times(bars, 100)
	asPsiInBar = times(psi, 0.06894757)
	asF        = meant{degreeF, func(v float64) float64 { return (v - 32) / 1.8 }}
)

// usual is what a value of a key lies between on engines that are built and started.
// Common practice, no source; wide, for a question that is asked for nothing is soon
// not read.
var usual = []struct {
	key, unit string
	lo, hi    float64
	at        func(*Job) Number
	others    []meant
}{
	{"engine.bore_mm", "mm", 35, 1100, func(j *Job) Number { return j.Engine.BoreMM }, []meant{asInches}},
	{"engine.stroke_mm", "mm", 30, 3500, func(j *Job) Number { return j.Engine.StrokeMM }, []meant{asInches}},
	{"engine.rod_mm", "mm", 50, 4000, func(j *Job) Number { return j.Engine.RodMM }, []meant{asInches}},
	{"engine.compression_ratio", ": 1", 10, 27, func(j *Job) Number { return j.Engine.CompressionRatio }, nil},
	{"engine.compression_gauge_bar", "bar", 8, 60, func(j *Job) Number { return j.Engine.CompressionGaugeBar }, []meant{asPsiInBar}},
	{"injection.cranking_rpm", "rpm", 40, 600, func(j *Job) Number { return j.injection().CrankingRPM }, nil},
	{"injection.air_c", "°C", -45, 50, func(j *Job) Number { return j.injection().AirC }, []meant{asF}},
	{"injection.air_kpa", "kPa", 50, 110, func(j *Job) Number { return j.injection().AirKPa }, []meant{asPsi, asInHg, asMmHg, asBar}},
	{"injection.cetane", "", 25, 80, func(j *Job) Number { return j.injection().Cetane }, nil},
}

func (j *Job) injection() *Injection {
	if j.Injection == nil {
		return &Injection{}
	}
	return j.Injection
}

// Doubtful returns the questions that a job's values raise, in the order of the file;
// none for most.
func Doubtful(j Job) []Question {
	var list []Question
	for _, u := range usual {
		n := u.at(&j)
		if !n.Given || n.Value >= u.lo && n.Value <= u.hi || math.IsNaN(n.Value) {
			continue
		}
		says, beside, data := askAgain, besideAgain, map[string]any{"Key": u.key, "Value": phrase.Num{Value: n.Value, Decimals: 2}, "Unit": u.unit}
		for _, m := range u.others {
			if would := m.is(n.Value); would >= u.lo && would <= u.hi {
				says, beside = askUnit, besideUnit
				data["Other"], data["Would"] = m.unit, phrase.Num{Value: would, Decimals: 1}
				break
			}
		}
		list = append(list, Question{u.key, phrase.Sentence{Text: says, Data: data}, phrase.Sentence{Text: beside, Data: data}})
	}
	return list
}
