package finding

import (
	"math"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/piston"
)

// causeEngine is what the faults and the evidence need to know of a job's engine;
// what the job does not say is left to the package's usual values.
func causeEngine(j job.Job, dowel feature) (cause.Engine, error) {
	e, err := EngineOf(j)
	if err != nil {
		return cause.Engine{}, err
	}
	c := cause.Engine{Strokes: e.Strokes(), Interval: alike(e)}
	if dowel.drawing != nil {
		c.Dowel = &dowel.drawing.Value
	}
	if g := j.Gears; g != nil {
		c.CrankTeeth, c.Idlers = g.CrankTeeth, len(g.IdlerTeeth) > 0
	}
	if w := j.CrankWheel; w != nil {
		c.Positions, c.OneGap = w.Positions, sameFromBehind(w.Positions, w.Missing)
		c.HallKnown, c.Hall = w.Sensor != "", w.Sensor == "hall"
	}
	right := j.Clone() // the engine as it should be
	right.Dowel, right.Keyway, right.Evidence = nil, nil, nil
	right.Engine.CompressionGaugeBar, right.Engine.CompressionGaugeRPM = job.Number{}, job.Number{}
	if right.Gears != nil {
		right.Gears.CamTeethOut = 0
	}
	if l, err := LightOf(right, LightOptions{}); err == nil {
		if w := l.Window; w != nil && w.ErrorFromDeg < 0 && w.ErrorToDeg > 0 {
			c.LightsFrom, c.LightsTo = timing.Deg(w.ErrorFromDeg), timing.Deg(w.ErrorToDeg)
		}
		if bar := l.HighestBar - l.basis.ambientBar; bar > 0 {
			c.CompressionBar, c.CompressionUBar = gaugeShare*bar, compressionUShare*gaugeShare*bar
		}
	}
	if i := j.Injection; i != nil && i.CrankingRPM.Given {
		c.CrankingRPM = i.CrankingRPM.Value // what the job says a healthy engine of it does
	}
	return c, nil
}

// A gauge shows less than the charge's highest pressure: its own volume and valve,
// leaks and the walls take a part. Two makers' manuals ask for 30 to 32 bar of a small
// direct-injection engine at 300 rpm, and for 20.7 bar at the least of a larger one
// above 140 rpm, where compression alone would give 37 to 40 by the exponent used
// here. Share and spread are our estimate from that, no source.
const (
	gaugeShare        = 0.82
	compressionUShare = 0.15
)

// alike is the smallest turn of the crank after which the firing dead centres look
// the same, whichever cylinder is which: a speed ripple cannot tell them apart.
func alike(e timing.Scheme) timing.Deg {
	const slack = 0.1 // intervals are written rounded
	for k := e.Cylinders(); k > 1; k-- {
		turn := e.Cycle() / timing.Deg(k)
		same := true
		for c := 1; c <= e.Cylinders() && same; c++ {
			same = false
			for d := 1; d <= e.Cylinders(); d++ {
				if off := timing.Difference(e.FiresAt(d), e.FiresAt(c)+turn, e.Cycle()); math.Abs(float64(off)) < slack {
					same = true
				}
			}
		}
		if same {
			return turn
		}
	}
	return e.Cycle()
}

// sameFromBehind tells whether a wheel's teeth make the same pattern when it is
// fitted back to front.
func sameFromBehind(positions int, missing []int) bool {
	gone := map[int]bool{}
	for _, m := range missing {
		gone[m%positions] = true
	}
	for turned := range positions {
		same := true
		for m := range gone {
			same = same && gone[(turned-m+positions)%positions]
		}
		if same {
			return true
		}
	}
	return false
}

// Clue is one piece of evidence and where it comes from.
type Clue struct {
	Key   string   `json:"key"` // "evidence[1]", "dowel.measured", ..
	Kind  string   `json:"kind"`
	Value any      `json:"value"`
	U     *float64 `json:"u"` // nil for what is no measurement
}

// clues are the job's [[evidence]], and what else in the job is evidence: a dowel
// or keyway measured against its drawing, a compression gauge's reading, and the
// teeth that a gear is said to be out. What [[evidence]] says of the same kind
// goes before these.
func clues(j job.Job, dowel, keyway feature) []Clue {
	list := []Clue{}
	have := map[string]bool{}
	for i, ev := range j.Evidence {
		c := Clue{Key: evidenceKey(i), Kind: ev.Kind, Value: ev.Value}
		if k, ok := cause.KindNamed(ev.Kind); ok {
			c.Kind, c.Value = k.Name, k.Settled(ev.Value) // as the tables have them
		}
		if ev.U.Given {
			u := ev.U.Value
			c.U = &u
		}
		list, have[c.Kind] = append(list, c), true
	}
	add := func(key, kind string, value, u float64) {
		if !have[kind] {
			list = append(list, Clue{key, kind, round(value), &u})
		}
	}
	for _, f := range []struct {
		kind string
		feature
	}{{"dowel_error_deg", dowel}, {"keyway_error_deg", keyway}} {
		if c := f.compared(); c != nil {
			e := c.Error()
			add(f.section+".measured", f.kind, float64(short(e.Value)), math.Max(round(float64(e.U)), 0.01))
		}
	}
	if !have["damper_mark_error_deg"] {
		if marks := markClues(j); len(marks) > 0 {
			list = append(list, marks[len(marks)-1]) // the newest
		}
	}
	if n := j.Engine.CompressionGaugeBar; n.Given {
		add("engine.compression_gauge_bar", "compression_bar", n.Value, piston.GaugeUBar)
	}
	if g := j.Gears; g != nil && g.CamTeethOut != 0 && !have["cam_gear_marks_teeth"] {
		list = append(list, Clue{Key: "gears.cam_teeth_out", Kind: "cam_gear_marks_teeth", Value: float64(g.CamTeethOut)})
	}
	return list
}

// evidence is the clue as package cause takes it.
func (c Clue) evidence() cause.Evidence {
	ev := cause.Evidence{Kind: c.Kind, Value: c.Value}
	if c.U != nil {
		ev.U = math.Max(*c.U, 1e-3) // 0 is exact there, too
	}
	return ev
}
