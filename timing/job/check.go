package job

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job/document"
	"pinphase.org/pinphase/timing/phrase"
)

// Check returns everything that is wrong with a job's values, in the order of
// the file, nil for a sound job. The faults have a key but no file and line.
// Nothing else judges a job: what Check lets pass, the rest of the program can
// work with.
func Check(j Job) Faults {
	c := checker{Report: document.NewReport()}
	if says, wrong := j.version().Refuses(j.Format); j.Format != 0 && wrong {
		c.fault("format", says.Text, says.Args...)
	}
	c.job(&j)
	return c.Faults()
}

// checker collects what is wrong in the report on the file, or on the values
// alone.
type checker struct {
	*document.Report
	ranges map[string]KeyInfo
}

// fault notes that a key has a wrong value.
func (c *checker) fault(key string, format phrase.Text, args ...any) {
	c.Refuse(key, phrase.Of(format, args...))
}

// missing notes that a required key is not there, unless it may be and could not
// be read.
func (c *checker) missing(key string, format phrase.Text, args ...any) {
	if !c.MayBeHidden(key) {
		c.fault(key, format, args...)
	}
}

// word checks a value that is one of a few [Words]; none is the default.
func (c *checker) word(key, value string) {
	c.oneOf(key, value, Words(key[strings.LastIndexByte(key, '.')+1:]))
}

// oneOf checks a value that is one of these words; none is the default.
func (c *checker) oneOf(key, value string, words []string) {
	if value == "" && !c.Has(key) || slices.Contains(words, value) || !c.OK(key) {
		return
	}
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = fmt.Sprintf("%q", w)
	}
	last := len(quoted) - 1
	c.fault(key, "%q is not known; it is %s or %s", document.Short(value), strings.Join(quoted[:last], ", "), quoted[last])
}

// job checks everything.
func (c *checker) job(j *Job) {
	c.ranges = map[string]KeyInfo{}
	for _, k := range Keys() {
		c.ranges[k.Key] = k
	}
	c.format(j)
	c.engine(&j.Engine)
	if j.Injection != nil {
		c.numbers("injection", j.Injection.slots())
	}
	if j.CrankWheel != nil {
		c.crankWheel(j.CrankWheel)
	}
	if j.CamWheel != nil {
		c.camWheel(j.CamWheel, j.Engine.Strokes)
	}
	c.feature("dowel", j.Dowel)
	c.feature("keyway", j.Keyway)
	c.parts(j)
	if j.Gears != nil {
		c.gears(j.Gears, j.Engine.Strokes)
	}
	if j.Case != nil {
		c.caseOf(j.Case)
	}
	c.tdc(j.TDC)
	c.evidence(j.Evidence)
}

// numbers checks every number of a section, and of those below it, against its
// limits.
func (c *checker) numbers(path string, slots []document.Key) {
	for _, s := range slots {
		key := strings.TrimPrefix(path+"."+s.Name, ".")
		if !s.Given() && !c.Has(key) || !c.OK(key) {
			continue
		}
		switch v := s.To.(type) {
		case *Number:
			c.limits(key, v.Value)
		case document.Repeated:
			for _, r := range v.All() {
				if c.OK(key) { // one fault for all
					c.limits(key, r)
				}
			}
		case *int:
			c.limits(key, float64(*v))
		case document.Section:
			c.numbers(key, v.Open())
		}
	}
}

func (c *checker) limits(key string, v float64) {
	k, ok := c.ranges[unnumbered(key)]
	switch {
	case !ok || k.holds(v) || key == "engine.strokes": // whose only two values timing knows
	case math.IsNaN(v) || math.IsInf(v, 0):
		c.fault(key, "is not a number")
	default:
		says := k.wants(v)
		c.fault(key, says.Text, says.Args...)
	}
}

// unnumbered is a key without its place in a list: "part.dowel.angle_deg" for that of
// each part.
func unnumbered(key string) string {
	from, to := strings.IndexByte(key, '['), strings.IndexByte(key, ']')
	if from < 0 || to < from {
		return key
	}
	return key[:from] + key[to+1:]
}

// figure writes a number into a message.
func figure(v float64) phrase.Value { return phrase.Value{V: v} }

// engine checks the firing scheme and the crank drive.
func (c *checker) engine(e *Engine) {
	c.numbers("engine", e.slots())
	c.firing(e)
	c.ports(e)
	c.word("engine.rotation", e.Rotation)
	if !e.StrokeMM.Given || !c.OK("engine.stroke_mm") {
		return
	}
	half := e.StrokeMM.Value / 2
	offset := 0.0
	if e.PinOffsetMM.Given && c.OK("engine.pin_offset_mm") {
		if offset = math.Abs(e.PinOffsetMM.Value); offset >= half {
			c.fault("engine.pin_offset_mm", "is %s; it must be less than half the stroke, %s, to either side", phrase.MM(e.PinOffsetMM.Value), phrase.MM(half))
			offset = 0
		}
	}
	if e.RodMM.Given && c.OK("engine.rod_mm") && e.RodMM.Value <= half+offset {
		says := phrase.Text("is %s; a rod must be longer than half the stroke, %s, for the crankshaft to turn")
		if offset > 0 {
			says = "is %s; a rod must be longer than half the stroke and the pin offset together, %s, for the crankshaft to turn"
		}
		c.fault("engine.rod_mm", says, phrase.MM(e.RodMM.Value), phrase.MM(half+offset))
	}
}

// ports checks that a two-stroke can compress: its gas is exchanged round BDC, so that
// intake and exhaust open at firing TDC are events counted as those of a four-stroke.
func (c *checker) ports(e *Engine) {
	if e.Strokes != 2 || !c.OK("engine.strokes", "engine.valves") {
		return
	}
	scheme, err := timing.NewScheme(2, []int{1}, nil)
	in, hasIn := e.Valves.Intake()
	out, hasOut := e.Valves.Exhaust()
	if err != nil || !hasIn || !hasOut {
		return
	}
	intake, exhaust := scheme.IntakeSpan(in), scheme.ExhaustSpan(out)
	if intake.Holds(0, scheme.Cycle()) && exhaust.Holds(0, scheme.Cycle()) {
		c.fault("engine.valves", "leave intake and exhaust open at firing TDC; in a two-stroke they are open around BDC: an intake that opens 128° after TDC is intake_opens_btdc_deg = -128, an exhaust that closes 238° after TDC is exhaust_closes_atdc_deg = 238")
	}
}

// firing hands the firing scheme to timing, which knows its rules. What rests on
// a bad key is not asked.
func (c *checker) firing(e *Engine) {
	strokes, order := e.Strokes, e.FiringOrder
	if strokes == 0 && !c.Has("engine.strokes") {
		c.missing("engine.strokes", "is missing: write 4 (four-stroke) or 2 (two-stroke)")
	}
	if len(order) == 0 && !c.Has("engine.firing_order") {
		c.missing("engine.firing_order", "is missing: list the cylinders in the order in which they fire, as in [1, 3, 4, 2]")
	}
	strokesRead, orderRead := c.OK("engine.strokes"), c.OK("engine.firing_order")
	for _, f := range timing.CheckScheme(strokes, order, nil) {
		if f.Field == "strokes" && strokesRead || f.Field == "firing_order" && orderRead {
			c.fault("engine."+f.Field, f.Says.Text, f.Says.Args...)
		}
	}
	if len(e.FiringIntervalsDeg) == 0 || !c.OK("engine.firing_intervals_deg") {
		return
	}
	intervals := make([]timing.Deg, len(e.FiringIntervalsDeg))
	for i, v := range e.FiringIntervalsDeg {
		intervals[i] = timing.Deg(v)
	}
	if !c.OK("engine.firing_order") { // then how many intervals there must be is not known
		order = make([]int, len(intervals))
		for i := range order {
			order[i] = i + 1
		}
	}
	if !c.OK("engine.strokes") {
		strokes = 0 // and neither is their sum
	}
	for _, f := range timing.CheckScheme(strokes, order, intervals) {
		if f.Field == "firing_intervals_deg" {
			c.fault("engine."+f.Field, f.Says.Text, f.Says.Args...)
		}
	}
}

// evidence checks the frame of each piece; which kinds there are is known where
// they are used.
func (c *checker) evidence(list []Evidence) {
	if !c.OK("evidence") {
		return
	}
	if len(list) > maxEvidence {
		c.fault("evidence", "has %d items; at most %d are accepted", len(list), maxEvidence)
		return
	}
	for i := range list {
		e := &list[i]
		at := fmt.Sprintf("evidence[%d]", i+1)
		kind, value, u := at+".kind", at+".value", at+".u"
		switch {
		case !c.OK(at):
			continue
		case e.Kind == "" && !c.Has(kind):
			c.missing(kind, "is missing: say what was seen")
		case strings.TrimSpace(e.Kind) == "" && c.OK(kind):
			c.fault(kind, "is empty; say what was seen")
		}
		switch v := e.Value.(type) {
		case nil:
			c.missing(value, "is missing: give what was seen, a number, text, true or false")
		case float64:
			if math.IsNaN(v) || math.IsInf(v, 0) {
				c.fault(value, "is not a number")
			}
		case string, bool:
		default:
			c.fault(value, "is neither a number, nor text, nor true or false")
		}
		if v := e.U.Value; e.U.Given && c.OK(u) && !(v >= 0 && !math.IsInf(v, 1)) {
			c.fault(u, "is %s; a standard uncertainty must be 0 or more", figure(v))
		}
	}
}

// maxEvidence is more than anybody can see on one engine.
const maxEvidence = 1000
