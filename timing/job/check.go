package job

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/phrase"
)

// Check returns everything that is wrong with a job's values, in the order of
// the file, nil for a sound job. The faults have a key but no file and line.
// Nothing else judges a job: what Check lets pass, the rest of the program can
// work with.
func Check(j Job) Faults {
	c := checker{decoder: &decoder{bad: map[string]bool{}}}
	if j.Format != 0 && j.Format != Format {
		c.fault("format", "is %d; this program reads format %d", j.Format, Format)
	}
	c.job(&j)
	return c.sorted()
}

// checker collects what is wrong. A rule that rests on a value already found
// wrong is not applied: one cause, one fault.
type checker struct {
	*decoder         // where faults go, and what is known to be bad
	hidden   *hiding // what the file's syntax faults may have hidden; nil without a file
	ranges   map[string]KeyInfo
}

func (c *checker) sorted() Faults {
	if c.faults.count == 0 {
		return nil
	}
	return c.faults.sorted("")
}

// ok tells whether none of the keys, nor a section they stand in, is known to
// be bad.
func (c *checker) ok(keys ...string) bool {
	for _, key := range keys {
		for k := key; k != ""; k = parent(k) {
			if c.bad[k] {
				return false
			}
		}
	}
	return true
}

// parent returns the path of what a key stands in, "" for the file.
func parent(key string) string { return key[:max(strings.LastIndexAny(key, ".["), 0)] }

// fault notes that a key has a wrong value.
func (c *checker) fault(key, format string, args ...any) {
	c.bad[key] = true
	c.faults.add(c.line(key), key, format, args...)
}

// line returns where a key stands, or what it would stand in; 0 without a file.
func (c *checker) line(key string) int {
	if c.lines == nil {
		return 0
	}
	for k := key; k != ""; k = parent(k) {
		if line, ok := c.lines[k]; ok {
			return line
		}
	}
	return 1
}

// inFile tells whether the file has the key, for values that look left out.
func (c *checker) inFile(key string) bool {
	_, ok := c.lines[key]
	return ok
}

// missing notes that a required key is not there, unless it may be and could not
// be read.
func (c *checker) missing(key, format string, args ...any) {
	if !c.ok(key) || c.hidden != nil && (c.hidden.all || c.hidden.sections[parent(key)]) {
		c.bad[key] = true
		return
	}
	c.fault(key, "is missing: "+format, args...)
}

// word checks a value that is one of a few words; none is the default.
func (c *checker) word(key, value string, words ...string) {
	if value == "" && !c.inFile(key) || slices.Contains(words, value) || !c.ok(key) {
		return
	}
	quoted := make([]string, len(words))
	for i, w := range words {
		quoted[i] = fmt.Sprintf("%q", w)
	}
	last := len(quoted) - 1
	c.fault(key, "%q is not known; it is %s or %s", short(value), strings.Join(quoted[:last], ", "), quoted[last])
}

// job checks everything.
func (c *checker) job(j *Job) {
	c.ranges = map[string]KeyInfo{}
	for _, k := range Keys() {
		c.ranges[k.Key] = k
	}
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
	if j.Gears != nil {
		c.gears(j.Gears, j.Engine.Strokes)
	}
	c.evidence(j.Evidence)
}

// numbers checks every number of a section, and of those below it, against its
// limits.
func (c *checker) numbers(path string, slots []slot) {
	for _, s := range slots {
		key := strings.TrimPrefix(path+"."+s.name, ".")
		if !s.given() && !c.inFile(key) || !c.ok(key) {
			continue
		}
		switch v := s.to.(type) {
		case *Number:
			c.limits(key, v.Value)
		case repeated:
			for _, r := range v.all() {
				if c.ok(key) { // one fault for all
					c.limits(key, r)
				}
			}
		case *int:
			c.limits(key, float64(*v))
		case section:
			c.numbers(key, v.open())
		}
	}
}

func (c *checker) limits(key string, v float64) {
	k, ok := c.ranges[key]
	switch {
	case !ok || k.holds(v) || key == "engine.strokes": // whose only two values timing knows
	case math.IsNaN(v) || math.IsInf(v, 0):
		c.fault(key, "is no number")
	default:
		says := k.wants(v)
		c.fault(key, says.Format, says.Args...)
	}
}

// figure writes a number into a message.
func figure(v float64) phrase.Value { return phrase.Value{V: v} }

// engine checks the firing scheme and the crank drive.
func (c *checker) engine(e *Engine) {
	c.numbers("engine", e.slots())
	c.firing(e)
	c.word("engine.rotation", e.Rotation, "clockwise", "anticlockwise")
	if !e.StrokeMM.Given || !c.ok("engine.stroke_mm") {
		return
	}
	half := e.StrokeMM.Value / 2
	offset := 0.0
	if e.PinOffsetMM.Given && c.ok("engine.pin_offset_mm") {
		if offset = math.Abs(e.PinOffsetMM.Value); offset >= half {
			c.fault("engine.pin_offset_mm", "is %s; it must be less than half the stroke, %s, to either side", phrase.MM(e.PinOffsetMM.Value), phrase.MM(half))
			offset = 0
		}
	}
	if e.RodMM.Given && c.ok("engine.rod_mm") && e.RodMM.Value <= half+offset {
		says := "is %s; a rod must be longer than half the stroke, %s, for the crank to turn"
		if offset > 0 {
			says = "is %s; a rod must be longer than half the stroke and the pin offset together, %s, for the crank to turn"
		}
		c.fault("engine.rod_mm", says, phrase.MM(e.RodMM.Value), phrase.MM(half+offset))
	}
}

// firing hands the firing scheme to timing, which knows its rules. What rests on
// a bad key is not asked.
func (c *checker) firing(e *Engine) {
	strokes, order := e.Strokes, e.FiringOrder
	if strokes == 0 && !c.inFile("engine.strokes") {
		c.missing("engine.strokes", "write 4 (four-stroke) or 2 (two-stroke)")
	}
	if len(order) == 0 && !c.inFile("engine.firing_order") {
		c.missing("engine.firing_order", "list the cylinders in the order in which they fire, as in [1, 3, 4, 2]")
	}
	strokesRead, orderRead := c.ok("engine.strokes"), c.ok("engine.firing_order")
	for _, f := range timing.CheckEngine(strokes, order, nil) {
		if f.Field == "strokes" && strokesRead || f.Field == "firing_order" && orderRead {
			c.fault("engine."+f.Field, f.Says.Format, f.Says.Args...)
		}
	}
	if len(e.FiringIntervalsDeg) == 0 || !c.ok("engine.firing_intervals_deg") {
		return
	}
	intervals := make([]timing.Deg, len(e.FiringIntervalsDeg))
	for i, v := range e.FiringIntervalsDeg {
		intervals[i] = timing.Deg(v)
	}
	if !c.ok("engine.firing_order") { // then how many intervals there must be is not known
		order = make([]int, len(intervals))
		for i := range order {
			order[i] = i + 1
		}
	}
	if !c.ok("engine.strokes") {
		strokes = 0 // and neither is their sum
	}
	for _, f := range timing.CheckEngine(strokes, order, intervals) {
		if f.Field == "firing_intervals_deg" {
			c.fault("engine."+f.Field, f.Says.Format, f.Says.Args...)
		}
	}
}

// evidence checks the frame of each piece; which kinds there are is known where
// they are used.
func (c *checker) evidence(list []Evidence) {
	if !c.ok("evidence") {
		return
	}
	if len(list) > maxEvidence {
		c.fault("evidence", "has %d pieces; at most %d are taken", len(list), maxEvidence)
		return
	}
	for i := range list {
		e := &list[i]
		at := fmt.Sprintf("evidence[%d]", i+1)
		kind, value, u := at+".kind", at+".value", at+".u"
		switch {
		case !c.ok(at):
			continue
		case e.Kind == "" && !c.inFile(kind):
			c.missing(kind, "say what was seen")
		case strings.TrimSpace(e.Kind) == "" && c.ok(kind):
			c.fault(kind, "is empty; say what was seen")
		}
		switch v := e.Value.(type) {
		case nil:
			c.missing(value, "give what was seen, a number, text, true or false")
		case float64:
			if math.IsNaN(v) || math.IsInf(v, 0) {
				c.fault(value, "is no number")
			}
		case string, bool:
		default:
			c.fault(value, "is neither a number, nor text, nor true or false")
		}
		if v := e.U.Value; e.U.Given && c.ok(u) && !(v >= 0 && !math.IsInf(v, 1)) {
			c.fault(u, "is %s; a standard uncertainty is 0 or more", figure(v))
		}
	}
}

// maxEvidence is more than anybody can see on one engine.
const maxEvidence = 1000
