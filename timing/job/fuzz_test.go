package job

import (
	"os"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pinphase.org/pinphase/timing/job/document"
)

// spoil changes every value in place, list items too.
func spoil(slots []document.Key) {
	for _, s := range slots {
		if !s.Given() {
			continue
		}
		switch v := s.To.(type) {
		case *string:
			*v += "x"
		case *int:
			*v++
		case *Number:
			v.Value++
		case document.Repeated:
			v.First.Value++
			for i := range *v.Again {
				(*v.Again)[i]++
			}
		case *[]int:
			(*v)[0]++
		case *[]float64:
			(*v)[0]--
		case *[]Point:
			(*v)[0].X--
		case document.List:
			spoil(v.Item(0))
		case document.Section:
			spoil(v.Open())
		}
	}
}

// FuzzRead reads anything: no panic; faults say where; a sound job keeps its
// bytes, and each way of writing it reads back the same.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{"", sound, handWritten, "\ufeff" + strings.ReplaceAll(handWritten, "\n", "\r\n"),
		"engine = { strokes = 2, firing_order = [1] }", "engine.strokes = 4\nengine.firing_order = [1, 2]\n[engine.valves]\n",
		"title = '''\na'''\n" + sound + "[dowel.measured]\nmethod = \"xy\"\ncentre = [0, 0]\nkeyway = [[1, 0]]\ndowel = [0, 1.5e0]\n",
		sound + "[dowel]\nmeasured = { method = 'chord', over = 'outside', on = 'keyway', chord_mm = [28, 28.1], pin_mm = 8, key_mm = 10, dowel_radius_mm = 38, keyway_radius_mm = 24, side = 'clockwise', u_size_mm = 0 }\n",
		sound + "[keyway]\nmeasured = { method = 'degree_wheel', throw_deg = [359.5, 0.5], keyway_deg = 90, counts = 'clockwise' }\n",
		"[engine\nstrokes = 4\n]\n", "a = [1,\n2x", "\"\"\"", "evidence = [{}]\n"} {
		f.Add([]byte(seed))
	}
	for _, name := range []string{"example.toml", "new.toml", "many_faults.toml"} {
		data, err := os.ReadFile("testdata/" + name)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		d, err := Read("f", data)
		if err != nil {
			fs, ok := err.(Faults)
			if !ok || len(fs) == 0 {
				t.Fatalf("error without faults: %v", err)
			}
			last := 0
			for _, f := range fs {
				if f.Line < 1 || f.Line > strings.Count(string(data), "\n")+1 || f.Line < last {
					t.Errorf("line %d after %d in %q", f.Line, last, data)
				}
				last = f.Line
				if f.File != "f" || f.Message == "" || strings.Contains(f.Error(), "\n") || !utf8.ValidString(f.Error()) {
					t.Errorf("fault %q of %q", f.Error(), data)
				}
			}
			return
		}
		j := d.Job()
		if string(d.Bytes()) != string(data) || string(d.With(j).Bytes()) != string(data) {
			t.Errorf("bytes changed: %q to %q", data, d.With(j).Bytes())
		}
		if n, err := Read("n", New(j).Bytes()); err != nil || !n.Job().Equal(j) {
			t.Errorf("%q written anew as %q: %v", data, New(j).Bytes(), err)
		}
		// Changes of every kind: values, keys come and gone, sections come and gone.
		other := j.Clone()
		other.Title += "x"
		other.Notes = ""
		other.Engine.StrokeMM, other.Engine.RodMM, other.Engine.PinOffsetMM = Num(100), Num(200), Number{}
		other.Engine.Valves, other.Gears, other.Dowel, other.Keyway = nil, &Gears{CrankTeeth: 1, CamTeeth: other.Engine.Strokes / 2}, &Feature{SeenFrom: "nose"}, nil
		slices.Reverse(other.Engine.FiringOrder)
		if w := other.CamWheel; w != nil && w.TeethCamDeg[len(w.TeethCamDeg)-1] < 359 {
			w.TeethCamDeg = append(w.TeethCamDeg, (w.TeethCamDeg[len(w.TeethCamDeg)-1]+360)/2)
			if other.CrankWheel == nil && len(w.TeethCamDeg) > 3 {
				w.TeethCamDeg = slices.Delete(w.TeethCamDeg, 1, 3)
			}
		}
		if other.Evidence = append(other.Evidence, Evidence{"a", true, Number{}}); len(other.Evidence) > 2 {
			other.Evidence = other.Evidence[1:]
		}
		c := d.With(other)
		if n, err := Read("c", c.Bytes()); err != nil || !n.Job().Equal(other) {
			t.Errorf("%q changed to %q: %v", data, c.Bytes(), err)
		}
		if n, err := Read("b", c.With(j).Bytes()); err != nil || !n.Job().Equal(j) {
			t.Errorf("%q changed back to %q: %v", data, c.With(j).Bytes(), err)
		}
	})
}
