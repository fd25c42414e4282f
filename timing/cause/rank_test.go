package cause

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase/timing"
)

// six is an invented even six: a dowel drawn at 12.5 degrees, teeth of 10 crank
// degrees, a 60-tooth wheel.
func six() Engine {
	a := timing.Deg(12.5)
	return Engine{Strokes: 4, Interval: 120, CrankTeeth: 36, Idlers: true, Dowel: &a, Positions: 60, OneGap: true}
}

func rank(t testing.TB, e Engine, o Options, evidence ...Evidence) *Ranking {
	t.Helper()
	r, err := Rank(e, evidence, o)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestPriorsAddUp(t *testing.T) {
	sum := 0.0
	for _, f := range faults {
		sum += f.Prior
	}
	if !near(sum, 1, 1e-12) {
		t.Errorf("the priors add up to %g", sum)
	}
}

func TestNoEvidenceLeavesThePriors(t *testing.T) {
	for name, o := range map[string]Options{"": {}, "own": {Priors: map[string]float64{"bad fuel": 0.3, "keyway off": 0}}} {
		r := rank(t, six(), o)
		all := 0.0
		for _, c := range r.Causes {
			all += c.Probability
			if !near(c.Probability, c.Prior, 1e-9) {
				t.Errorf("%s: %s is %g, its prior %g", name, c.Name(), c.Probability, c.Prior)
			}
		}
		if !near(all, 1, 1e-9) {
			t.Errorf("%s: they add up to %g", name, all)
		}
	}
	r := rank(t, six(), Options{Priors: map[string]float64{"bad fuel": 0.3, "keyway off": 0}})
	if c := r.Find("bad fuel"); !near(c.Prior, 0.3*(1-PairShare), 1e-12) || r.Find("keyway off") != nil {
		t.Errorf("bad fuel %g, keyway off %v", c.Prior, r.Find("keyway off"))
	}
}

// Hand calculation: looked at, bad fuel is seen in 0.93 and taken for bad in 0.01,
// and one look in 200 is worth nothing; odds against no fuel pressure 0.03 to 0.08.
func TestOneLook(t *testing.T) {
	r := rank(t, six(), Options{PairShare: &alone}, Evidence{Kind: "fuel_sample", Value: "bad"})
	want := 0.03 / 0.08 * (0.995*0.93 + 0.005/2) / (0.995*0.01 + 0.005/2)
	if got := r.Find("bad fuel").Probability / r.Find("no fuel pressure").Probability; !near(got/want, 1, 1e-9) {
		t.Errorf("odds %g, want %g", got, want)
	}
	all := 0.97*(0.995*0.01+0.005/2) + 0.03*(0.995*0.93+0.005/2)
	if got := r.Find("bad fuel").Probability; !near(got, 0.03*(0.995*0.93+0.005/2)/all, 1e-9) {
		t.Errorf("probability %g", got)
	}
}

// An unknown angle is integrated over: the sum over the nodes against the closed
// form, a bell of 15 degrees widened by the reading's and an even share.
func TestUnknownAngleAgainstClosedForm(t *testing.T) {
	e := six().withDefaults()
	for _, at := range []float64{0, 3.3, -25, 90, 171} {
		for _, u := range []float64{0.1, 0.5, 2, 9} {
			ev := Evidence{"dowel_error_deg", at, u}
			s, err := ev.ready(&e)
			if err != nil {
				t.Fatal(err)
			}
			r := rank(t, six(), Options{})
			sd := math.Hypot(u, makingSD)
			wide := math.Hypot(15, sd)
			bellAt := math.Exp(-at*at/2/wide/wide) / wide / math.Sqrt(2*math.Pi)
			evenAt := 1.0 / 360 // round the circle nothing is lost at the ends
			want := 0.99*(0.6*bellAt+0.4*evenAt) + 0.01/360
			if got := r.alone(r.Find("dowel at a wrong angle"), s); !near(got/want, 1, 0.02) {
				t.Errorf("%g ± %g: %g, want %g", at, u, got, want)
			}
		}
	}
}

// A reading taken nine times with u of 1.5 is worth one with u of 0.5, were the
// sensors' own spread not taken as new each time: 0.5 degrees in quadrature with
// 1.5, over three.
func TestRepeatedReadings(t *testing.T) {
	var nine []Evidence
	for range 9 {
		nine = append(nine, Evidence{"correlation_error_deg", 33.0, 1.5})
	}
	u := math.Sqrt((1.5*1.5+signalSD*signalSD)/9 - signalSD*signalSD + 1e-12)
	many := rank(t, six(), Options{PairShare: &alone}, nine...)
	once := rank(t, six(), Options{PairShare: &alone}, Evidence{"correlation_error_deg", 33.0, u})
	// The one's misreading counts once, the nine's not at all: compare what reads right.
	for _, names := range [][2]string{{"wheel slipped", "wheel back to front"}, {"dowel at a wrong angle", "cam wheel slipped"}} {
		a := many.Find(names[0]).Probability / many.Find(names[1]).Probability
		b := once.Find(names[0]).Probability / once.Find(names[1]).Probability
		if !near(a/b, 1, 0.05) {
			t.Errorf("%s against %s: %g from nine readings, %g from one", names[0], names[1], a, b)
		}
	}
}

// Two unknown angles at once, against a plain sum over a fine square of both.
func TestTwoUnknownAnglesAgainstAFineSum(t *testing.T) {
	e := six().withDefaults()
	evidence := []Evidence{{"correlation_error_deg", 33.0, 1}, {"tdc_offset_deg", 12.0, 2}}
	var list []seen
	for _, ev := range evidence {
		s, err := ev.ready(&e)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, s)
	}
	at := func(name string) int { return slices.IndexFunc(faults, func(f Fault) bool { return f.Name == name }) }
	a, b := at("wheel slipped"), at("cam wheel slipped")
	in := integrator{e: &e, seen: list}
	got := 0.0
	in.visit([]int{a, b}, func(share float64, s *State) {
		got += share * list[0].likelihood(&e, s) * list[1].likelihood(&e, s)
	})
	wheel, cam := nearZero(0.5, 12, 180), nearZero(0.6, 20, 360)
	want := 0.0
	const step = 0.25
	for x := -180 + step/2; x < 180; x += step {
		l := list[1].likelihood(&e, &State{Wheel: timing.Deg(x)}) * wheel.density(x) * step
		if l < 1e-9 {
			continue
		}
		for y := -360 + step/2; y < 360; y += step {
			want += l * cam.density(y) * step * list[0].likelihood(&e, &State{Wheel: timing.Deg(x), CamWheel: timing.Deg(y)})
		}
	}
	if !near(got/want, 1, 0.06) {
		t.Errorf("%g, want %g", got, want)
	}
}

// By hand, design of the signs: wheel error delta = keyway + dowel + wheel, cam
// error gamma = keyway + slip + teeth + cam wheel, correlation delta - gamma.
func TestSigns(t *testing.T) {
	e := six().withDefaults()
	for _, c := range []struct {
		name                              string
		s                                 State
		correlation, tdc, valves, cam, wh float64
	}{
		{"dowel mirrored", State{Dowel: -25}, -25, -25, 0, 0, -25},
		{"cam gear a tooth ahead", State{CamOut: 1}, -10, 0, 10, 10, 0},
		{"crank gear a tooth behind", State{CrankOut: -1}, 10, 0, -10, -10, 0},
		{"keyway ahead, dowel set out from it", State{Keyway: 4}, 0, 4, 4, 4, 4},
		{"keyway ahead, dowel right", State{Keyway: 4, Dowel: -4}, -4, 0, 4, 4, 0},
		{"key sheared, gear behind", State{Slip: -7}, 7, 0, -7, -7, 0},
		{"cam wheel behind", State{CamWheel: -12}, 12, 0, 0, -12, 0},
		{"half a turn", State{CamWheel: 360}, -360, 0, 0, 360, 0},
	} {
		got := []float64{correlation(&e, &c.s).at, tdcOffset(&e, &c.s).at, valveTiming(&e, &c.s).at}
		if want := []float64{c.correlation, c.tdc, c.valves}; !slices.Equal(got, want) {
			t.Errorf("%s: correlation, TDC and valves %v, want %v", c.name, got, want)
		}
		w, cam, v := c.s.Errors(six())
		if float64(w) != c.wh || float64(cam) != c.cam || float64(v) != c.valves {
			t.Errorf("%s: wheel %g, cam %g, valves %g", c.name, float64(w), float64(cam), float64(v))
		}
	}
}

// Plain cases that anybody can follow.
func TestPlainCases(t *testing.T) {
	no := Evidence{Kind: "starts", Value: false}
	for _, c := range []struct {
		want     string
		evidence []Evidence
	}{
		{"dowel mirrored", []Evidence{{"correlation_error_deg", -25.3, 1}, no}},
		{"dowel mirrored", []Evidence{{"dowel_error_deg", -25.0, 0.4}}},
		{"cam gear out by teeth", []Evidence{{"correlation_error_deg", -10.2, 1}, {Kind: "cam_gear_marks_teeth", Value: 1.0}}},
		{"crank gear out by teeth", []Evidence{{"correlation_error_deg", 10.2, 1}, {Kind: "crank_gear_marks_teeth", Value: -1.0}}},
		{"keyway off", []Evidence{{"keyway_error_deg", 6.0, 0.4}, {"correlation_error_deg", 0.2, 1}}},
		{"key sheared or stepped", []Evidence{{"correlation_error_deg", 17.0, 1}, {Kind: "crank_key", Value: "sheared"}}},
		{"cam wheel half a turn out", []Evidence{{"correlation_error_deg", 359.5, 1}, {Kind: "starts_cam_unplugged", Value: true}}},
		{"wheel of another part number", []Evidence{{"correlation_error_deg", 42.0, 0.3}, {Kind: "wheel_number", Value: "other"}}},
		{"wheel back to front", []Evidence{{"correlation_error_deg", 137.4, 0.3}, {Kind: "wheel_side", Value: "back to front"}}},
		{"crank sensor dead or its gap wrong", []Evidence{{Kind: "crank_signal", Value: "none"}, no}},
		{"cam sensor dead or its gap wrong", []Evidence{{Kind: "cam_signal", Value: "none"}, {Kind: "starts", Value: true}}},
		{"no fuel pressure", []Evidence{no, {"rail_pressure_bar", 45.0, 10}, {Kind: "smoke", Value: "none"}}},
		{"poor compression", []Evidence{no, {"compression_bar", 13.0, 1}}},
		{"cranks too slowly", []Evidence{no, {"cranking_rpm", 85.0, 5}}},
		{"injectors or their leads crossed", []Evidence{no, {Kind: "injector_leads", Value: "crossed"}}},
	} {
		r := rank(t, six(), Options{}, c.evidence...)
		if got := r.Causes[0]; got.Name() != c.want || got.Probability < 0.5 {
			t.Errorf("%v: %s %.3f, want %s", c.evidence, got.Name(), got.Probability, c.want)
		}
		if k := r.Clash(); k != nil {
			t.Errorf("%v: contradictory: %+v", c.evidence, k)
		}
	}
	// Two at once, each seen by itself.
	r := rank(t, six(), Options{}, Evidence{"dowel_error_deg", -25.0, 0.3}, Evidence{"rail_pressure_bar", 40.0, 10}, Evidence{Kind: "fault_code", Value: "P0087"})
	if got := r.Causes[0].Name(); got != "dowel mirrored and no fuel pressure" {
		t.Errorf("two at once: %s", got)
	}
}

func TestReplacedParts(t *testing.T) {
	bare := rank(t, six(), Options{})
	crank := rank(t, six(), Options{}, Evidence{Kind: "replaced", Value: "crankshaft"})
	pump := rank(t, six(), Options{}, Evidence{Kind: "replaced_in_vain", Value: "pump"})
	if a, b := bare.Single("dowel mirrored"), crank.Single("dowel mirrored"); b < 2.5*a || b > 4*a {
		t.Errorf("a new crankshaft takes the dowel from %g to %g", a, b)
	}
	if a, b := bare.Single("no fuel pressure"), pump.Single("no fuel pressure"); b > a/5 {
		t.Errorf("a pump replaced in vain takes fuel pressure from %g to %g", a, b)
	}
	if reasons := crank.Reasons(crank.Find("dowel mirrored")); len(reasons) != 1 || reasons[0].Factor < 2 {
		t.Errorf("reasons %+v", reasons)
	}
	for _, p := range parts {
		for _, name := range append(slices.Clone(p.brings), p.cures...) {
			if !slices.ContainsFunc(faults, func(f Fault) bool { return f.Name == name }) {
				t.Errorf("%s: there is no fault %q", p.name, name)
			}
		}
	}
}

func TestContradictions(t *testing.T) {
	for _, c := range []struct {
		name     string
		evidence []Evidence
		want     []int
	}{
		{"two numbers", []Evidence{says("smoke", "white"), num("correlation_error_deg", -25, 1), num("correlation_error_deg", 3, 1)}, []int{1, 2}},
		{"two words", []Evidence{says("wheel_side", "right"), says("wheel_side", "back to front")}, []int{0, 1}},
		{"it starts and does not", []Evidence{says("starts", true), says("starts", false)}, []int{0, 1}},
		{"the dowel measured right, seen on the other side", []Evidence{num("dowel_error_deg", 0, 0.5), says("smoke", "white"), says("dowel_side", "other side")}, []int{0, 2}},
		{"it starts without rail pressure", []Evidence{num("rail_pressure_bar", 0, 15), says("starts", true)}, []int{0, 1}},
		{"the keyway is off, the valves are not", []Evidence{num("keyway_error_deg", 10, 0.5), num("valve_timing_error_deg", 0, 1)}, []int{0, 1}},
		{"wheel and TDC", []Evidence{num("dowel_error_deg", -25, 0.3), num("tdc_offset_deg", 10, 1), num("correlation_error_deg", -25, 1), num("keyway_error_deg", 0, 0.3),
			says("wheel_seat", "tight"), says("wheel_number", "right"), says("wheel_side", "right")}, []int{0, 1}},
		{"more rail pressure than there is", []Evidence{says("starts", false), num("rail_pressure_bar", 2500, 15)}, []int{1}},
		{"three faults seen", []Evidence{says("injector_leads", "crossed"), says("order_set", "wrong"), says("fuel_sample", "bad"), says("crank_key", "sheared")}, nil},
	} {
		r := rank(t, six(), Options{}, c.evidence...)
		k := r.Clash()
		if k == nil {
			t.Errorf("%s: is not called contradictory", c.name)
			continue
		}
		if c.want != nil && !slices.Equal(k.Evidence, c.want) {
			t.Errorf("%s: %v, want %v", c.name, k.Evidence, c.want)
		}
	}
	rare := map[string]float64{"wrong firing order set": 0.0005}
	for name, r := range map[string]*Ranking{
		"two readings a degree apart": rank(t, six(), Options{}, num("correlation_error_deg", -25, 1), num("correlation_error_deg", -24, 1)),
		"a rare cause seen":           rank(t, six(), Options{Priors: rare}, says("order_set", "wrong"), says("starts", false)),
		"two faults at once":          rank(t, six(), Options{}, num("dowel_error_deg", -25, 0.3), num("rail_pressure_bar", 40, 10), says("fault_code", "P0087")),
		"two codes":                   rank(t, six(), Options{}, says("fault_code", "P0016"), says("fault_code", "P0336")),
	} {
		if k := r.Clash(); k != nil {
			t.Errorf("%s: %+v", name, k)
		}
	}
}

// The order of the evidence does not matter; probabilities stay within 0 and 1
// and add up to 1, and so does a prediction.
func TestAnyEvidence(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var list []Evidence
		for range rapid.IntRange(0, 5).Draw(t, "pieces") {
			list = append(list, anyEvidence(t))
		}
		a, err := Rank(six(), list, Options{PairShare: &alone})
		if err != nil {
			t.Fatal(err)
		}
		b, err := Rank(six(), rapid.Permutation(list).Draw(t, "order"), Options{PairShare: &alone})
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, c := range a.Causes {
			sum += c.Probability
			if p := b.Find(c.Name()).Probability; !near(c.Probability, p, 1e-6) || !(c.Probability >= 0 && c.Probability <= 1+1e-9) {
				t.Fatalf("%s: %g and %g", c.Name(), c.Probability, p)
			}
			for _, p := range a.Predicts(&c) {
				if math.IsNaN(p.SD) || p.Number != nil && math.IsNaN(*p.Number) || p.Probability > 1+1e-9 {
					t.Fatalf("%s predicts %+v", c.Name(), p)
				}
			}
			for _, r := range a.Reasons(&c) {
				if !(r.Factor >= 0) || math.IsInf(r.Factor, 0) {
					t.Fatalf("%s: reason %+v", c.Name(), r)
				}
			}
		}
		if !near(sum, 1, 1e-9) {
			t.Fatalf("they add up to %g", sum)
		}
		a.Clash()
		next, err := a.Next()
		if err != nil {
			t.Fatal(err)
		}
		for i, n := range next {
			if i > 0 && n.PerMinute() > next[i-1].PerMinute()+1e-12 || n.Bits > math.Log2(float64(len(faults))) {
				t.Fatalf("%s: %g bits in %g minutes", n.Check.Name, n.Bits, n.Check.Minutes)
			}
			p := n.Rest
			for _, o := range n.Outcomes {
				p += o.Probability
			}
			if !near(p, 1, 1e-9) || n.Rest > 0.3 {
				t.Fatalf("%s: its outcomes add up to %g, of which %g are not named", n.Check.Name, p, n.Rest)
			}
		}
	})
}

func anyEvidence(t *rapid.T) Evidence {
	k := rapid.SampledFrom(kinds).Draw(t, "kind")
	switch k.Value {
	case YesNo:
		return Evidence{Kind: k.Name, Value: rapid.Bool().Draw(t, "seen")}
	case Word:
		return Evidence{Kind: k.Name, Value: rapid.SampledFrom(k.Words).Draw(t, "word")}
	}
	v := rapid.Float64Range(k.Min, k.Max).Draw(t, "number")
	if k.Whole {
		return Evidence{Kind: k.Name, Value: math.Round(v)}
	}
	return Evidence{k.Name, v, rapid.SampledFrom([]float64{0, 0.1, 1, 30}).Draw(t, "u")}
}

// In every state the words of a kind are probabilities that add up to 1.
func TestWordsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := six().withDefaults()
		e.OneGap = rapid.Bool().Draw(t, "one gap")
		d := func(name string) timing.Deg { return timing.Deg(rapid.Float64Range(-400, 400).Draw(t, name)) }
		s := State{Keyway: d("keyway"), Dowel: d("dowel"), Wheel: d("wheel"), Slip: d("slip"), CamWheel: d("cam wheel"),
			CrankOut: rapid.IntRange(-3, 3).Draw(t, "crank out"), Wrong: Wrong(rapid.Uint32Range(0, uint32(Elsewhere)*2-1).Draw(t, "wrong"))}
		for _, k := range kinds {
			if k.word == nil {
				continue
			}
			sum := 0.0
			for w := range max(len(k.Words), 2) {
				p := k.word(&e, &s, w)
				if !(p >= 0 && p <= 1) {
					t.Fatalf("%s: word %d has probability %g", k.Name, w, p)
				}
				sum += p
			}
			if !near(sum, 1, 1e-9) {
				t.Fatalf("%s: its words add up to %g", k.Name, sum)
			}
		}
	})
}

func TestWrongNumbersOfTheReader(t *testing.T) {
	for _, o := range []Options{
		{Priors: map[string]float64{"gremlins": 0.1}}, {Priors: map[string]float64{"bad fuel": -0.1}}, {Priors: map[string]float64{"bad fuel": 1.1}},
		{Priors: map[string]float64{"bad fuel": 0.6, "keyway off": 0.6}}, {Priors: map[string]float64{"bad fuel": math.NaN()}},
		{Minutes: map[string]float64{"pray": 5}}, {Minutes: map[string]float64{"look at a fuel sample": 0}}, {Minutes: map[string]float64{"look at a fuel sample": math.Inf(1)}},
	} {
		if o.Check() == nil {
			t.Errorf("%+v was taken", o)
		}
	}
	if _, err := Rank(six(), []Evidence{{Kind: "mood", Value: "good"}}, Options{}); err == nil {
		t.Error("an unknown kind was taken")
	}
	if _, err := Rank(six(), []Evidence{{Kind: "smoke", Value: "purple"}}, Options{}); err == nil {
		t.Error("an unknown word was taken")
	}
}

// Tables say what they must.
func TestTables(t *testing.T) {
	for _, k := range kinds {
		if k.Rule == "" || k.Source == "" || k.Title == "" || k.Value == Number && (!(k.Min < k.Max) || k.U <= 0) || k.Value == Word && len(k.Words) < 2 {
			t.Errorf("%s: %+v", k.Name, k)
		}
		for from, to := range k.Aliases {
			if !slices.Contains(k.Words, to) || strings.ToLower(from) != from {
				t.Errorf("%s: %q stands for %q", k.Name, from, to)
			}
		}
	}
	for _, c := range checks {
		if c.Minutes <= 0 || c.Tools == "" || len(c.Kinds) == 0 {
			t.Errorf("%+v", c)
		}
		for _, name := range c.Kinds {
			if _, ok := KindNamed(name); !ok {
				t.Errorf("%s: there is no kind %q", c.Name, name)
			}
		}
		for _, word := range []string{"crank with", "while cranking", "cranking speed", "damper", "open the front", "teeth through", "compression", "true TDC", "valve timing", "fuel sample"} {
			if strings.Contains(c.Name, word) && len(c.Cautions) == 0 {
				t.Errorf("%s: no caution", c.Name)
			}
		}
	}
}

func TestValues(t *testing.T) {
	for _, c := range []struct {
		kind  string
		value any
		says  string
	}{
		{"smoke", "white", ""}, {"smoke", " White ", ""}, {"smoke", "green", `"green" is not known for smoke; it is "none", "white" or "black"`},
		{"smoke", true, `is true; smoke takes one of the words "none", "white" or "black"`},
		{"starts", false, ""}, {"starts", "no", ""}, {"starts", "Yes", ""}, {"starts", "hardly", `is "hardly"; starts takes true or false`},
		{"wheel_teeth", "bent", ""}, {"wheel_side", "ok", ""}, {"dowel_side", "mirrored", ""}, {"replaced", "loom", ""},
		{"fault_code", "P0016", ""}, {"fault_code", "cam sensor", ""},
		{"correlation_error_deg", -25.3, ""}, {"correlation_error_deg", 400.0, "is 400; correlation_error_deg is from -360 to 360°"},
		{"correlation_error_deg", "late", `is "late"; correlation_error_deg takes a number, from -360 to 360°`},
		{"cam_gear_marks_teeth", 1.5, "is 1.5; cam_gear_marks_teeth is a whole number, from -50 to 50 teeth"},
	} {
		k, ok := KindNamed(c.kind)
		if !ok {
			t.Fatal(c.kind)
		}
		if got := k.CheckValue(c.value); got != c.says {
			t.Errorf("%s = %v: %q, want %q", c.kind, c.value, got, c.says)
		}
	}
	k, _ := KindNamed("starts")
	if k.CheckU(1) == "" {
		t.Error("a yes with an uncertainty was taken")
	}
}

// Where a signal is not there, nothing is proposed that needs it; what was seen is
// not proposed again; a plan ends when one fault is sure enough.
func TestNextAndPlan(t *testing.T) {
	r := rank(t, six(), Options{}, Evidence{Kind: "cam_signal", Value: "none"}, Evidence{Kind: "crank_signal", Value: "good"})
	next, err := r.Next()
	if err != nil {
		t.Fatal(err)
	}
	for _, n := range next {
		if slices.Contains(n.Check.Kinds, "correlation_error_deg") {
			t.Error("a correlation without a cam signal is proposed")
		}
	}
	r = rank(t, six(), Options{}, Evidence{"correlation_error_deg", 10.3, 1}, Evidence{Kind: "starts", Value: false})
	plan, err := r.Plan(6)
	if err != nil || len(plan) == 0 {
		t.Fatalf("%v, %v", plan, err)
	}
	last := plan[len(plan)-1]
	if last.Check.Name != "open the front and look at the gear marks" || last.Then < Sure || !strings.HasSuffix(last.Fault, "gear out by teeth") {
		t.Errorf("the plan ends with %+v", last)
	}
	// A check that takes hours goes to the back.
	slow := rank(t, six(), Options{Minutes: map[string]float64{next[0].Check.Name: 6000}}, Evidence{Kind: "cam_signal", Value: "none"}, Evidence{Kind: "crank_signal", Value: "good"})
	if again, err := slow.Next(); err != nil || again[len(again)-1].Check.Name != next[0].Check.Name {
		t.Errorf("%v, %v", again, err)
	}
}

// It cranks and will not start, and the cam's edges come 25 degrees late. What is
// it, and what to check?
func ExampleRank() {
	dowel := timing.Deg(12.5) // from the keyway, by the drawing
	e := Engine{Strokes: 4, Interval: 120, CrankTeeth: 36, Idlers: true, Dowel: &dowel, Positions: 60, OneGap: true}
	r, err := Rank(e, []Evidence{{Kind: "starts", Value: false}, {Kind: "correlation_error_deg", Value: -25.3, U: 1}}, Options{})
	if err != nil {
		panic(err)
	}
	fault, p := r.Leading()
	fmt.Printf("%s: %.2f\n", fault, p)
	// Output:
	// dowel mirrored: 0.96
}
