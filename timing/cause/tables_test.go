package cause

import (
	"slices"
	"strings"
	"testing"
)

func TestPriorsAddUp(t *testing.T) {
	sum := 0.0
	for _, f := range faults {
		sum += f.Prior
	}
	if !near(sum, 1, 1e-12) {
		t.Errorf("the priors add up to %g", sum)
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
		{"correlation_error_deg", -25.3, ""}, {"correlation_error_deg", 400.0, "is 400; correlation_error_deg must be from -360 to 360°"},
		{"correlation_error_deg", "late", `is "late"; correlation_error_deg takes a number, from -360 to 360°`},
		{"cam_gear_marks_teeth", 1.5, "is 1.5; cam_gear_marks_teeth must be a whole number, from -50 to 50 teeth"},
	} {
		k, ok := KindNamed(c.kind)
		if !ok {
			t.Fatal(c.kind)
		}
		if says, _ := k.CheckValue(c.value); says.String() != c.says {
			t.Errorf("%s = %v: %q, want %q", c.kind, c.value, says, c.says)
		}
	}
	k, _ := KindNamed("starts")
	if _, wrong := k.CheckU(1); !wrong {
		t.Error("a yes with an uncertainty was taken")
	}
}
