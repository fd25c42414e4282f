package figure

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// everyMethod lists the kinds, from the keyway and from the throw.
func everyMethod() []MethodKind {
	var list []MethodKind
	for _, p := range methodPictures {
		list = append(list, p.kind, p.kind.FromThrow())
	}
	return list
}

// Every picture stays inside its box, and what it says it says without words.
func TestMethodPicturesFit(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(everyMethod()).Draw(t, "kind")
		box := Box{W: rapid.Float64Range(110, 400).Draw(t, "w"), H: rapid.Float64Range(80, 300).Draw(t, "h")}
		d := MethodPicture(kind, box)
		for _, s := range d.Shapes {
			if b := s.Bounds(); b.X < 0 || b.Y < 0 || b.Right() > box.W || b.Bottom() > box.H {
				t.Errorf("%s: %v leaves the box of %g by %g", kind, s, box.W, box.H)
			}
			if txt, ok := s.(Text); ok && (txt.S != "x" && txt.S != "y" || !strings.HasPrefix(string(kind), "xy")) {
				t.Errorf("%s: a word in a picture: %v", kind, txt)
			}
		}
	})
}

// What is measured stands out in every picture, and no two are alike.
func TestMethodPicturesDiffer(t *testing.T) {
	t.Parallel()
	seen := map[string]MethodKind{}
	for _, k := range everyMethod() {
		d := MethodPicture(k, Box{W: 160, H: 120})
		s := d.String()
		if other, twice := seen[s]; twice {
			t.Errorf("%s and %s are the same picture", k, other)
		}
		seen[s] = k
		measured := 0
		for _, shape := range d.Shapes {
			switch s := shape.(type) {
			case Path:
				if s.Stroke == Measured {
					measured++
				}
			case Marker:
				if s.Role == Measured {
					measured++
				}
			}
		}
		if measured < 2 {
			t.Errorf("%s: %d shapes show what is measured", k, measured)
		}
	}
}

// The faces of the jaws, between which the length is drawn, touch the edges they
// are said to: outside a pin's and a key's width further apart than inside.
func TestCaliperJawsTouchTheEdges(t *testing.T) {
	t.Parallel()
	span := func(kind MethodKind) float64 {
		d := MethodPicture(kind, Box{W: 300, H: 228})
		var x []float64
		for _, s := range d.Shapes {
			if m, ok := s.(Marker); ok && m.Kind == Arrowhead && m.Role == Measured {
				x = append(x, m.X)
			}
		}
		if len(x) != 2 {
			t.Fatalf("%s: %d arrowheads", kind, len(x))
		}
		m := methodPicture{box: Box{W: 300, H: 228}}
		for _, p := range methodPictures {
			if p.kind == kind {
				m.place(p.room)
			}
		}
		return math.Abs(x[1]-x[0]) / m.r
	}
	m := methodPicture{}
	from, to, _, _ := m.features()
	for _, r := range []struct {
		kind MethodKind
		want float64
	}{
		{"outside", to.x - from.x + picPin + picKey}, {"inside", to.x - from.x - picPin - picKey},
		{"outside keyway", to.x - from.x + picPin + picKey}, {"inside keyway", to.x - from.x - picPin - picKey},
	} {
		if got := span(r.kind); math.Abs(got-r.want) > 1e-9 {
			t.Errorf("%s spans %g, want %g", r.kind, got, r.want)
		}
	}
}
