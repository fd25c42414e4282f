package finding

import (
	"fmt"
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// FoundTDC is one finding of true top dead centre, worked out.
type FoundTDC struct {
	Key   string
	AtDeg timing.Measured // what the degree wheel says there, in (-180, 180]
	Mark  bool            // the wheel was set to 0 at the damper's mark: AtDeg is how far that is ahead
	Says  phrase.Sentence
}

const (
	tdcIs     phrase.Text = "True TDC is where the degree wheel reads {{.At}}°; the 95 % interval is {{.Lo}}° to {{.Hi}}°."
	tdcMarkIs phrase.Text = "The vibration damper's TDC mark is {{.At}}° from true TDC, ahead counting positive; the 95 % interval is {{.Lo}}° to {{.Hi}}°."
)

// TDCsOf works out the job's findings of true top dead centre. Those that have no
// middle are [job.Faults].
func TDCsOf(j job.Job) ([]FoundTDC, error) {
	e, err := engineOf(j)
	if err != nil {
		return nil, err
	}
	var list []FoundTDC
	var faults job.Faults
	for i, t := range j.TDC {
		key := fmt.Sprintf("tdc[%d]", i+1)
		s := e.stop(t)
		r, err := s.TDC()
		if err != nil {
			faults = append(faults, job.Fault{Key: key, Says: phrase.From(err)})
			continue
		}
		f := FoundTDC{Key: key, AtDeg: r.Measured, Mark: t.Datum == "damper mark"}
		if f.Mark && s.Falls { // the mark is ahead where the numbers have still to come
			f.AtDeg.Value = -f.AtDeg.Value
		}
		half := timing.Deg(r.Coverage95()) * r.U
		text, show := tdcIs, func(d timing.Deg) timing.Deg { return timing.Wrap(d, timing.Turn) }
		if f.Mark {
			text, show = tdcMarkIs, func(d timing.Deg) timing.Deg { return d }
		}
		at := show(f.AtDeg.Value)
		f.Says = phrase.Sentence{Text: text, Data: map[string]any{"At": shown(at, r.U), "Lo": shown(at-half, r.U), "Hi": shown(at+half, r.U)}}
		list = append(list, f)
	}
	if len(faults) > 0 {
		return nil, faults
	}
	return list, nil
}

// stop is a finding of top dead centre as arithmetic.
func (e engine) stop(t job.TDC) part.Stop {
	s := part.Stop{FirstDeg: t.BeforeDeg.Value, FirstAgain: t.BeforeAgain, SecondDeg: t.AfterDeg.Value, SecondAgain: t.AfterAgain,
		Falls: t.Counts == "down", U: part.Given{U: t.UDeg.Value, Known: t.UDeg.Given}}
	if e.linkage != nil && e.linkage.OffsetMM != 0 {
		s.Linkage = e.linkage
	}
	if t.Method == "drop" {
		s.DialMM, s.UDial = t.DropMM.Value, part.Given{U: t.UMM.Value, Known: t.UMM.Given}
	}
	return s
}

// markClues are the damper's mark as evidence, where true top dead centre was found
// from it.
func markClues(j job.Job) []Clue {
	found, err := TDCsOf(j)
	if err != nil {
		return nil
	}
	var list []Clue
	for _, f := range found {
		if f.Mark {
			u := math.Max(round(float64(f.AtDeg.U)), 0.01)
			list = append(list, Clue{Key: f.Key, Kind: "damper_mark_error_deg", Value: round(float64(f.AtDeg.Value)), U: &u})
		}
	}
	return list
}
