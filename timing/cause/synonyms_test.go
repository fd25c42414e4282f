package cause

import (
	"slices"
	"strings"
	"testing"
)

// Each other name stands for one kind only, and is no kind's own name.
func TestSynonymsAreUnique(t *testing.T) {
	of := map[string]string{}
	for _, k := range kinds {
		of[k.Name] = k.Name
	}
	for name, list := range synonyms {
		if of[name] != name {
			t.Errorf("there is no kind %q", name)
		}
		for _, s := range list {
			if other, ok := of[s]; ok {
				t.Errorf("%q is for %s and for %s", s, other, name)
			}
			if of[s] = name; plain(s) != s {
				t.Errorf("%q is not plain", s)
			}
			if k, ok := KindNamed(strings.ToUpper(s)); !ok || k.Name != name {
				t.Errorf("%q is not found as %s", s, name)
			}
		}
	}
	for _, name := range []string{"Correlation error deg", " cranking-rpm "} {
		if _, ok := KindNamed(name); !ok {
			t.Errorf("%q is not found", name)
		}
	}
	if _, ok := KindNamed("dowel_deg"); ok {
		t.Error("an angle of the dowel is taken for its error")
	}
}

func TestOtherWordsForTheSame(t *testing.T) {
	for _, c := range []struct {
		kind  string
		value any
		want  any // as the tables have it
	}{
		{"starts", "no", false}, {"starts", "TRUE", true}, {"starts", true, true},
		{"wheel_teeth", "bent", "damaged"}, {"wheel_teeth", "OK", "good"}, {"wheel_side", "correct", "right"}, {"wheel_side", "wrong", "back to front"},
		{"dowel_side", "mirrored", "other side"}, {"dowel_side", "right", "same side"}, {"crank_key", "stepped", "sheared"},
		{"cam_wheel_seat", "slipped", "moved"}, {"cam_wheel_seat", "half turn", "half a turn out"},
		{"smoke", "grey", "white"}, {"crank_signal", "no signal", "none"}, {"fault_code", "p0016", "correlation"},
		{"replaced", "ECU", "controller"}, {"replaced_in_vain", "loom", "harness"},
		{"smoke", "purple", "purple"}, {"compression_bar", 14.0, 14.0}, {"order_set", "wrong", "wrong"}, {"fuel_sample", "water", "bad"},
	} {
		k, _ := KindNamed(c.kind)
		if got := k.Settled(c.value); got != c.want {
			t.Errorf("%s %v is %v, want %v", c.kind, c.value, got, c.want)
		}
	}
	for _, k := range kinds {
		if k.look && (len(k.Words) != 2 || slices.Contains(good, k.Words[1]) || slices.Contains(bad, k.Words[0])) {
			t.Errorf("%s: %v", k.Name, k.Words)
		}
	}
}
