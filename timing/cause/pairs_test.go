package cause

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// pairsSeen are two mistakes at once, each plainly seen by the check that shows it:
// what a mechanic reads who has found both. Common practice, no source.
func pairsSeen(r *rand.Rand) (list [][2]string, evidence [][]Evidence) {
	seen := map[string]func() Evidence{
		"dowel mirrored":                     func() Evidence { return num("dowel_error_deg", -25+0.3*r.NormFloat64(), 0.3) },
		"dowel at a wrong angle":             func() Evidence { return num("dowel_error_deg", 7+2*r.Float64(), 0.3) },
		"keyway off":                         func() Evidence { return num("keyway_error_deg", 5+2*r.Float64(), 0.4) },
		"wheel back to front":                func() Evidence { return says("wheel_side", "back to front") },
		"wheel slipped":                      func() Evidence { return says("wheel_seat", "moved") },
		"wheel tooth bent":                   func() Evidence { return says("wheel_teeth", "damaged") },
		"cam gear out by teeth":              func() Evidence { return says("cam_gear_marks_teeth", 1.0) },
		"crank gear out by teeth":            func() Evidence { return says("crank_gear_marks_teeth", -1.0) },
		"key sheared or stepped":             func() Evidence { return says("crank_key", "sheared") },
		"cam gear moved on its shaft":        func() Evidence { return says("cam_gear_seat", "moved") },
		"cam wheel half a turn out":          func() Evidence { return says("cam_wheel_seat", "half a turn out") },
		"crank sensor wires reversed":        func() Evidence { return says("sensor_wires", "reversed") },
		"crank sensor dead or its gap wrong": func() Evidence { return says("crank_sensor_test", "open or shorted") },
		"cam sensor dead or its gap wrong":   func() Evidence { return says("cam_sensor_test", "open or shorted") },
		"sensor supply or earth":             func() Evidence { return says("sensor_supply", "missing") },
		"injectors or their leads crossed":   func() Evidence { return says("injector_leads", "crossed") },
		"wrong firing order set":             func() Evidence { return says("order_set", "wrong") },
		"injector leaking back":              func() Evidence { return says("injector_return", "too much") },
		"no fuel pressure":                   func() Evidence { return num("rail_pressure_bar", 40+10*r.NormFloat64(), 10) },
		"bad fuel":                           func() Evidence { return says("fuel_sample", "bad") },
		"poor compression":                   func() Evidence { return num("compression_bar", 15+r.NormFloat64(), 1) },
		"bent valves":                        func() Evidence { return says("leak_down", "past the valves") },
		"cranks too slowly":                  func() Evidence { return num("cranking_rpm", 90+5*r.NormFloat64(), 5) },
	}
	var names []string
	for name := range seen {
		names = append(names, name)
	}
	slices.Sort(names)
	for len(list) < 60 {
		a, b := names[r.IntN(len(names))], names[r.IntN(len(names))]
		if a >= b || find(a).part == find(b).part || slices.Contains(list, [2]string{a, b}) {
			continue
		}
		list = append(list, [2]string{a, b})
		evidence = append(evidence, []Evidence{says("starts", false), seen[a](), seen[b]()})
	}
	return list, evidence
}

// Two mistakes that were each seen are believed, and never called a contradiction.
func TestTwoMistakesAtOnce(t *testing.T) {
	list, evidence := pairsSeen(rand.New(rand.NewPCG(5, 60)))
	first := 0
	var missed strings.Builder
	for i, pair := range list {
		r := rank(t, six(), Options{}, evidence[i]...)
		if c := r.Causes[0]; c.Name() == pair[0]+" and "+pair[1] || c.Name() == pair[1]+" and "+pair[0] {
			first++
		} else {
			fmt.Fprintf(&missed, "%s and %s: %s %.2f\n", pair[0], pair[1], c.Name(), c.Probability)
		}
		if k := r.Clash(); k != nil {
			t.Errorf("%v: contradictory: %+v", pair, k)
		}
	}
	if first < 45 {
		t.Errorf("both are first in %d of %d:\n%s", first, len(list), &missed)
	}
}
