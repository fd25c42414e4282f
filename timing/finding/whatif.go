package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// WhatIf is what somebody asks "what if" about: each value that is not nil stands in
// for the job's own.
type WhatIf struct {
	WheelErrorDeg    *float64 // the sensor wheel this far ahead of where it belongs, whatever was measured
	CamTeethOut      *int     // the cam gear put in so many teeth ahead
	AirC             *float64
	AirKPa           *float64
	CrankingRPM      *float64
	CompressionRatio *float64
}

// Empty tells whether nothing is supposed.
func (w WhatIf) Empty() bool { return w == WhatIf{} }

// Keys of a job, as [job.Supposed] names what is supposed.
const (
	supposedWheel = "wheel error" // no key of the file
	supposedTeeth = "gears.cam_teeth_out"
	supposedAir   = "injection.air_c"
	supposedKPa   = "injection.air_kpa"
	supposedRPM   = "injection.cranking_rpm"
	supposedRatio = "engine.compression_ratio"
)

// Suppose returns a job to ask about: the job with a what-if laid over it. Every
// answer to it ([ShiftOf], [LightOf], [SignalsOf], [GearsOf], a figure's maker in
// chart) goes by the supposed values, has the basis "supposed" where it stands on
// one, and says "Supposing ..." first.
//
// Nothing of the job changes, and what comes back is for asking only: written to a
// file it is the job as it is, the causes and the part's verdict are those of the job
// as it is (a what-if is no evidence), and [job.Job.AsItIs] takes it back. An empty what-if comes back as the job itself. A
// what-if over a job that has one replaces it. So a slider keeps a WhatIf beside the
// job, shows Suppose(job, whatIf), "As measured" empties the WhatIf, and "Put it into
// the job" is an ordinary edit of the job's own keys: of the dowel by [Remeasure].
//
// Paper is made from the job as it is unless somebody asks for the supposition.
func Suppose(j job.Job, w WhatIf) job.Job {
	j = j.AsItIs()
	if w.Empty() {
		return j
	}
	s := &job.Supposed{Of: j}
	j = j.Clone()
	j.Supposed = s
	if w.WheelErrorDeg != nil {
		s.WheelErrorDeg = job.Num(float64(short(timing.Deg(*w.WheelErrorDeg))))
		s.Keys = append(s.Keys, supposedWheel)
	}
	if w.CamTeethOut != nil && j.Gears != nil {
		j.Gears.CamTeethOut = *w.CamTeethOut
		s.Keys = append(s.Keys, supposedTeeth)
	}
	put := func(key string, v *float64, to func() *job.Number) {
		if v != nil {
			*to() = job.Num(*v)
			s.Keys = append(s.Keys, key)
		}
	}
	injection := func() *job.Injection {
		if j.Injection == nil {
			j.Injection = &job.Injection{}
		}
		return j.Injection
	}
	put(supposedAir, w.AirC, func() *job.Number { return &injection().AirC })
	put(supposedKPa, w.AirKPa, func() *job.Number { return &injection().AirKPa })
	put(supposedRPM, w.CrankingRPM, func() *job.Number { return &injection().CrankingRPM })
	put(supposedRatio, w.CompressionRatio, func() *job.Number { return &j.Engine.CompressionRatio })
	return j
}

// DowelError is the wheel error of a job whose dowel lay at an angle from the keyway
// (positive with rotation): what a slider of the dowel supposes. ok is false where the
// job does not say where the drawing has the dowel.
func DowelError(j job.Job, dowel timing.Deg) (wheelError float64, ok bool) {
	d, k, err := features(j)
	if err != nil || d.drawing == nil {
		return 0, false
	}
	d.measured = nil
	e, err := compare(d, k)
	if err != nil {
		return 0, false
	}
	return round(float64(short(e.gear.Value + dowel - d.drawing.Value))), true
}

// What is supposed, in words. Each is a clause of supposing.
const (
	supposing       phrase.Text = "What if: {{.What}}. {{.Says}}"
	supposeTwo      phrase.Text = "{{.A}}, {{.B}}"
	supposeAhead    phrase.Text = "the sensor wheel {{.By}}° ahead"
	supposeBehind   phrase.Text = "the sensor wheel {{.By}}° behind"
	supposeRight    phrase.Text = "the sensor wheel in its place"
	supposeTeethOut phrase.Text = "the camshaft gear {{.N}} teeth ahead"
	supposeTeethIn  phrase.Text = "the camshaft gear {{.N}} teeth behind"
	supposeOneOut   phrase.Text = "the camshaft gear 1 tooth ahead"
	supposeOneIn    phrase.Text = "the camshaft gear 1 tooth behind"
	supposeTeeth0   phrase.Text = "the camshaft gear on its marks"
	supposeAir      phrase.Text = "air at {{.Air}}"
	supposeKPa      phrase.Text = "air at {{.KPa}}"
	supposeRPM      phrase.Text = "cranking at {{.RPM}} rpm"
	supposeRatio    phrase.Text = "a compression ratio of {{.Ratio}}"
)

// Supposing puts in front of a sentence what the job supposes of those keys; a job
// that supposes nothing of them leaves it as it is.
func supposingSays(j job.Job, says phrase.Sentence, keys ...string) phrase.Sentence {
	var what *phrase.Sentence
	for _, key := range keys {
		if !j.Supposed.Has(key) {
			continue
		}
		clause := supposedClause(j, key)
		if what == nil {
			what = &clause
			continue
		}
		what = &phrase.Sentence{Text: supposeTwo, Data: map[string]any{"A": *what, "B": clause}}
	}
	if what == nil {
		return says
	}
	return phrase.Sentence{Text: supposing, Data: map[string]any{"What": *what, "Says": says}}
}

func supposedClause(j job.Job, key string) phrase.Sentence {
	signed := func(v float64, ahead, behind, none phrase.Text, name string, n phrase.Num) phrase.Sentence {
		switch {
		case n.String() == "0":
			return phrase.Sentence{Text: none}
		case v < 0:
			return phrase.Sentence{Text: behind, Data: map[string]any{name: n}}
		}
		return phrase.Sentence{Text: ahead, Data: map[string]any{name: n}}
	}
	switch key {
	case supposedWheel:
		v := j.Supposed.WheelErrorDeg.Value
		return signed(v, supposeAhead, supposeBehind, supposeRight, "By", deg(size(timing.Deg(v))))
	case supposedTeeth:
		n := j.Gears.CamTeethOut
		if n == 1 || n == -1 {
			return signed(float64(n), supposeOneOut, supposeOneIn, supposeTeeth0, "N", phrase.Num{Value: 1})
		}
		return signed(float64(n), supposeTeethOut, supposeTeethIn, supposeTeeth0, "N", phrase.Num{Value: float64(max(n, -n))})
	case supposedAir:
		return phrase.Sentence{Text: supposeAir, Data: map[string]any{"Air": celsius(j.Injection.AirC.Value, 1)}}
	case supposedKPa:
		return phrase.Sentence{Text: supposeKPa, Data: map[string]any{"KPa": quantity.Air(j.Injection.AirKPa.Value, 1)}}
	case supposedRPM:
		return phrase.Sentence{Text: supposeRPM, Data: map[string]any{"RPM": phrase.Num{Value: j.Injection.CrankingRPM.Value}}}
	}
	return phrase.Sentence{Text: supposeRatio, Data: map[string]any{"Ratio": phrase.Num{Value: j.Engine.CompressionRatio.Value, Decimals: 2}}}
}
