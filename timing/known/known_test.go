package known

import "testing"

// Every basis has a name and a mark of its own, and an answer is as weak as the
// weakest thing that it stands on.
func TestBasis(t *testing.T) {
	names, marks := map[string]bool{}, map[string]bool{}
	for i, b := range All() {
		if names[b.String()] || marks[b.Mark()] {
			t.Errorf("%s %s is there twice", b, b.Mark())
		}
		names[b.String()], marks[b.Mark()] = true, true
		if i > 0 && !(b < All()[i-1]) {
			t.Errorf("%s is not weaker than %s", b, All()[i-1])
		}
		if Weakest(Measured, b, Read) != min(b, Read) {
			t.Errorf("with %s the weakest is %s", b, Weakest(Measured, b, Read))
		}
	}
	if len(names) != len(All()) || len(All()) != int(Measured)+1 || Weakest() != Measured {
		t.Errorf("%d names of %d", len(names), Measured+1)
	}
	for _, out := range []Basis{-1, Measured + 1} {
		if out.String() != "unknown" || out.Mark() != Unknown.Mark() {
			t.Errorf("%d is %s", int(out), out)
		}
	}
}
