package timing

import (
	"math"
	"slices"
	"testing"
)

// Hand calculation: bank and pin spacing, as in general handbooks of engines with
// uneven firing.
func TestVIntervals(t *testing.T) {
	for _, c := range []struct {
		cylinders int
		bank      Deg
		want      []Deg // the first two; nil: even
	}{
		{2, 45, []Deg{315, 405}}, {2, 60, []Deg{300, 420}}, {2, 90, []Deg{270, 450}},
		{6, 90, []Deg{90, 150}}, {6, 120, nil}, {6, 60, []Deg{60, 180}}, {8, 90, nil},
		{10, 72, nil}, {10, 90, []Deg{90, 54}}, {12, 60, nil}, {12, 90, []Deg{90, 30}}, {16, 45, nil},
	} {
		got := VIntervals(c.cylinders, c.bank)
		if c.want == nil {
			if got != nil {
				t.Errorf("V%d at %g: %v, want even", c.cylinders, float64(c.bank), got)
			}
			continue
		}
		if len(got) != c.cylinders || got[0] != c.want[0] || got[1] != c.want[1] {
			t.Errorf("V%d at %g: %v, want %v", c.cylinders, float64(c.bank), got, c.want)
		}
	}
}

// The second way: pistons are at top dead centre where pins and banks put them,
// whatever fires, so the firing angles within one turn must be those places.
func TestLayoutsFollowFromTheirPins(t *testing.T) {
	seen := map[string]bool{}
	for _, l := range Layouts() {
		order := l.Order
		if order == nil {
			for c := 1; c <= l.Cylinders; c++ {
				order = append(order, c)
			}
		}
		e, err := NewScheme(4, order, l.Intervals)
		if err != nil {
			t.Errorf("%+v: %v", l, err)
			continue
		}
		if len(e.Order()) != l.Cylinders {
			t.Errorf("%+v has %d cylinders", l, len(e.Order()))
		}
		var dead []Deg // of the pins as built
		switch {
		case l.Bank > 0:
			for pin := range l.Cylinders / 2 {
				at := Deg(pin) * 1440 / Deg(l.Cylinders)
				dead = append(dead, at, at+l.Bank)
			}
		case l.Pins != nil:
			dead = l.Pins
		default:
			for c := range l.Cylinders {
				dead = append(dead, Deg(c)*720/Deg(l.Cylinders))
			}
		}
		var fires []Deg
		for c := 1; c <= l.Cylinders; c++ {
			fires = append(fires, e.FiresAt(c))
		}
		if !sameRound(fires, dead) {
			t.Errorf("%+v fires at %v, its pistons are at top at %v", l, fires, dead)
		}
		// A pin of an inline engine belongs to a cylinder.
		for c, pin := range l.Pins {
			if d := Difference(pin, e.FiresAt(c+1), Turn); math.Abs(float64(d)) > 1e-9 {
				t.Errorf("%+v: cylinder %d fires at %g with its pin at %g", l, c+1, float64(e.FiresAt(c+1)), float64(pin))
			}
		}
		name := orderText(l)
		if seen[name] {
			t.Errorf("%s is offered twice", name)
		}
		seen[name] = true
	}
}

func orderText(l Layout) string {
	var b []byte
	for _, v := range append(append([]int{l.Cylinders, int(l.Bank)}, l.Order...), int(sum(l.Intervals))) {
		b = append(append(b, byte('a'+v%26)), byte('a'+v/26))
	}
	for _, v := range l.Intervals {
		b = append(b, byte(int(v)%256))
	}
	return string(b)
}

func sum(list []Deg) (s Deg) {
	for _, v := range list {
		s += v
	}
	return s
}

// sameRound tells whether two sets of angles are the same within a turn, up to
// where they begin and which way they are counted.
func sameRound(a, b []Deg) bool {
	norm := func(list []Deg, from, sign Deg) []int {
		out := make([]int, len(list))
		for i, v := range list {
			out[i] = int(math.Round(float64(Wrap(sign*(v-from), Turn))*1e3)) % 360000
		}
		slices.Sort(out)
		return out
	}
	want := norm(a, a[0], 1)
	for _, from := range b {
		if slices.Equal(want, norm(b, from, 1)) || slices.Equal(want, norm(b, from, -1)) {
			return true
		}
	}
	return false
}
