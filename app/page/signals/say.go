package signals

import (
	"errors"
	"slices"
	"strconv"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// say shows what the recording proves, or else what is predicted; why is what stands
// against a prediction.
func (p *page) say(rec *recording, why error) {
	var notes []phrase.Sentence
	switch {
	case rec != nil && rec.err != nil:
		kit.SetText(p.sentence, with("This recording gives no answer: {{.Why}}", map[string]any{"Why": p.u.Why(rec.err)}))
		kit.SetText(p.second, with("{{.File}} is drawn over time.", map[string]any{"File": rec.name()}))
		p.bar.Show(figure.Warning)
	case rec != nil:
		t := rec.drawn.Trace
		kit.SetText(p.sentence, say(t.Says))
		second := slices.Clone(t.FaultSays[:min(len(t.FaultSays), 2)])
		if s, err := finding.SignalsOf(p.of, finding.SignalOptions{CrankAlone: true}); err == nil {
			if beside, ok := t.Beside(s); ok {
				second = append([]phrase.Sentence{beside}, second...)
			}
		}
		kit.SetText(p.second, joined(second, 3))
		role := figure.Commanded
		if !t.FindsNothing() {
			role = figure.Actual
		}
		p.bar.Show(role)
		notes = slices.Concat(t.FaultSays, t.Notes)
	default:
		p.sayPredicted()
	}
	if s := p.board.Predicted; s != nil {
		notes = append(notes, s.Found.Notes...)
		kit.SetText(p.steps, lines(s.Found.Steps))
	} else {
		kit.SetText(p.steps, p.u.Why(why))
	}
	kit.SetText(p.notes, lines(notes))
	p.loadEdges(rec)
}

func (p *page) sayPredicted() {
	s := p.board.Predicted.Found
	text := say(s.Says)
	if s.Fault != finding.AsIs {
		text = with("What if “{{.Fault}}”: {{.Finding}}", map[string]any{"Fault": finding.FaultTitle(s.Fault), "Finding": text})
	}
	kit.SetText(p.sentence, text)
	kit.SetText(p.second, joined(s.Notes, 3))
	role := figure.Commanded
	if s.Fault != finding.Right && (s.Fault != finding.AsIs || s.WheelErrorDeg != 0 || s.CamErrorDeg != 0) {
		role = figure.Actual
	}
	p.bar.Show(role)
}

// loadEdges shows where each cam edge belongs, is predicted and was recorded.
func (p *page) loadEdges(rec *recording) {
	if p.board.Predicted == nil || p.board.Predicted.Found.Cam == nil {
		p.edges.Set(nil)
		return
	}
	degrees := func(v float64) string { return number(v, 1) + "°" }
	recorded := map[int]string{}
	if rec != nil {
		for _, t := range rec.drawn.Trace.CamTeeth {
			if t.Tooth > 0 {
				recorded[t.Tooth] = degrees(t.AtDeg)
			}
		}
	}
	rows := [][]string{{tr("Camshaft edge"), tr("belongs at"), tr("predicted at"), tr("recorded at"), tr("predicted delay"), tr("among the crank sensor wheel's teeth")}}
	for _, e := range p.board.Predicted.Found.Cam.Edges {
		at := recorded[e.Tooth]
		if at == "" {
			at = "–"
		}
		rows = append(rows, []string{strconv.Itoa(e.Tooth), degrees(e.ExpectedDeg), degrees(e.ControllerDeg), at, degrees(e.LateDeg), amongTeeth(e)})
	}
	p.edges.Set(rows)
}

// amongTeeth says where a cam edge falls.
func amongTeeth(e finding.CamEdge) string {
	if tooth, on := e.OnTooth(); on {
		return with("on tooth {{.N}}", map[string]any{"N": tooth})
	}
	text := phrase.Text("between {{.After}} and {{.Before}}")
	if e.InGap {
		text = "in the gap, between {{.After}} and {{.Before}}"
	}
	return with(text, map[string]any{"After": e.AfterTooth, "Before": e.BeforeTooth})
}

// firstKey is the first key of the job that an error names; "" when it names none.
func firstKey(err error) string {
	var faults job.Faults
	if errors.As(err, &faults) && len(faults) > 0 {
		return faults[0].Key
	}
	return ""
}
