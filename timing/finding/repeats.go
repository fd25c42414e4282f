package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/uncertainty"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// Repeat is what repeating a reading says of it.
type Repeat struct {
	Key  string // of the reading in the job file, "chord_mm"
	Says phrase.Sentence
}

const (
	repeatMean phrase.Text = "mean of {{.N}} readings {{.Mean}}; they scatter by {{.SD}} (standard deviation), which leaves ± {{.U}} for the mean."
	repeatSame phrase.Text = "mean of {{.N}} readings {{.Mean}}; all read alike, so their scatter adds nothing: the instrument's own ± applies."
)

// RepeatsOf tells of every reading of "dowel" or "keyway" that was taken several
// times, as measured, its mean and scatter (JCGM 100:2008, 4.2: the standard
// deviation of the mean is that of the readings over the root of their number).
func RepeatsOf(j job.Job, section string) []Repeat {
	r := readingIn(&j, section, "measured")
	if r == nil {
		return nil
	}
	var list []Repeat
	for _, v := range r.Values() {
		if v.Again == nil || len(*v.Again(r)) == 0 {
			continue
		}
		first, unit := v.Number(r).Value, quantity.Unit(v.Unit)
		s := uncertainty.Series{first}
		for _, again := range *v.Again(r) {
			if unit == "°" { // 359.9 and 0.1 read nearly alike
				again = first + float64(timing.Difference(timing.Deg(first), timing.Deg(again), timing.Turn))
			}
			s = append(s, again)
		}
		mean := s.Mean()
		if unit == "°" {
			mean = float64(timing.Wrap(timing.Deg(mean), timing.Turn))
		}
		with := func(x float64) quantity.Amount { return quantity.Amount{Value: x, Unit: unit, Decimals: 3} }
		data := map[string]any{"N": len(s), "Mean": with(mean), "SD": with(s.SD()), "U": with(s.U())}
		text := repeatMean
		if s.SD() == 0 {
			text = repeatSame
		}
		list = append(list, Repeat{v.Key, phrase.Sentence{Text: text, Data: data}})
	}
	return list
}
