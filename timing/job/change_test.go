package job

import (
	"os"
	"slices"
	"strings"
	"testing"
)

// handWritten has what people do to files: comments, alignment, odd order.
const handWritten = `# Fishing boat, second engine
# measured by Anna

title    = 'old'   # in single quotes

[crank_wheel]   # off the old engine
positions = 60
missing   = [59, 60]

  # what it runs like
[engine]
	firing_order = [1, 3,   # first half
	                4, 2]
strokes = 4 # of course
bore_mm = 100     # nominal
stroke_mm=120.0

[dowel]
drawing  = { angle_deg = 12.5, side = "clockwise" }  # drawing 3 B
measured = { method = "chord", chord_mm = 15.47, dowel_radius_mm = 38.0, side = "anticlockwise" } # calliper

# seen on Monday
[[evidence]]
kind = "smoke"
value = "white"   # not blue

[[evidence]]
kind = "correlation_error_deg"
value = -25   # degrees
# the end
`

// TestWith changes a hand-written file; each row says which lines go and which
// come, all others staying as they are.
func TestWith(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		name    string
		change  func(*Job)
		replace []string // old, new, old, new, ...
	}{
		{"nothing", func(j *Job) {}, nil},
		{"text", func(j *Job) { j.Title = "new \"one\"" }, []string{`'old' `, `"new \"one\"" `}},
		{"whole stays whole", func(j *Job) { j.Engine.BoreMM = Num(101) }, []string{"= 100 ", "= 101 "}},
		{"whole becomes float", func(j *Job) { j.Engine.BoreMM = Num(100.5) }, []string{"= 100 ", "= 100.5 "}},
		{"float stays float", func(j *Job) { j.Engine.StrokeMM = Num(121) }, []string{"=120.0", "=121.0"}},
		{"items of a list", func(j *Job) { j.Engine.FiringOrder = []int{1, 2, 4, 3} }, []string{"1, 3,  ", "1, 2,  ", "4, 2]", "4, 3]"}},
		{"another list", func(j *Job) { j.CrankWheel.Missing = []int{58, 59, 60} }, []string{"[59, 60]", "[58, 59, 60]"}},
		{"longer list", func(j *Job) { j.Engine.FiringOrder = []int{1, 3, 4, 2, 5} }, []string{"4, 2]", "4, 2, 5]"}},
		{"shorter list", func(j *Job) { j.Engine.FiringOrder = []int{1, 3, 2} }, []string{"4, 2]", "2]"}},
		{"shorter list at a comment", func(j *Job) { j.Engine.FiringOrder = []int{2, 1} }, []string{"[1, 3,   #", "[2, 1,   #", "4, 2]", "]"}},
		{"first of the list gone", func(j *Job) { j.CrankWheel.Missing = []int{60} }, []string{"[59, 60]", "[60]"}},
		{"end of the list gone", func(j *Job) { j.CrankWheel.Missing = []int{59} }, []string{"[59, 60]", "[59]"}},
		{"new key", func(j *Job) { j.Engine.RodMM = Num(190) }, []string{"=120.0\n", "=120.0\nrod_mm = 190.0\n"}},
		{"two new keys", func(j *Job) { j.Engine.RodMM = Num(190); j.Engine.Rotation = "clockwise" }, []string{"=120.0\n", "=120.0\nrotation = \"clockwise\"\nrod_mm = 190.0\n"}},
		{"new key of the file", func(j *Job) { j.Notes = "a\nb" }, []string{"quotes\n", "quotes\nnotes = \"\"\"\na\nb\"\"\"\n"}},
		{"key gone", func(j *Job) { j.Engine.BoreMM = Number{} }, []string{"bore_mm = 100     # nominal\n", ""}},
		{"list gone", func(j *Job) { j.CrankWheel.Missing = nil }, []string{"missing   = [59, 60]\n", ""}},
		{"in a reading", func(j *Job) { j.Dowel.Measured.ChordMM = Num(16) }, []string{"15.47", "16.0"}},
		{"several readings", func(j *Job) { j.Dowel.Measured.ChordAgainMM = []float64{15.5, 15.44} }, []string{"15.47", "[15.47, 15.5, 15.44]"}},
		{"new key in a reading", func(j *Job) { j.Dowel.Measured.UMM = Num(0.1) }, []string{`side = "anticlockwise" }`, `side = "anticlockwise", u_mm = 0.1 }`}},
		{"key in a reading gone", func(j *Job) { j.Dowel.Measured = &Reading{AngleDeg: Num(4), Side: "clockwise"} },
			[]string{`{ method = "chord", chord_mm = 15.47, dowel_radius_mm = 38.0, side = "anticlockwise" }`, `{ angle_deg = 4.0, side = "clockwise" }`}},
		{"reading gone", func(j *Job) { j.Dowel.Measured = nil },
			[]string{"measured = { method = \"chord\", chord_mm = 15.47, dowel_radius_mm = 38.0, side = \"anticlockwise\" } # calliper\n", ""}},
		{"new section in a section", func(j *Job) { j.Engine.Valves = &Valves{IntakeOpensBTDCDeg: Num(12)} },
			[]string{"=120.0\n", "=120.0\n\n[engine.valves]\nintake_opens_btdc_deg = 12.0\n"}},
		{"new section", func(j *Job) { j.Gears = &Gears{CrankTeeth: 32, CamTeeth: 64} }, []string{"# the end\n", "# the end\n\n[gears]\ncrank_teeth = 32\ncam_teeth = 64\n"}},
		{"section gone", func(j *Job) { j.CrankWheel = nil }, []string{"[crank_wheel]   # off the old engine\npositions = 60\nmissing   = [59, 60]\n\n", "\n"}},
		{"last section gone", func(j *Job) { j.Evidence = j.Evidence[:1] }, []string{"\n[[evidence]]\nkind = \"correlation_error_deg\"\nvalue = -25   # degrees\n", "\n"}},
		{"evidence changed", func(j *Job) { j.Evidence[1].Value = -24.0 }, []string{"-25 ", "-24 "}},
		{"evidence of another type", func(j *Job) { j.Evidence[1].Value = true }, []string{"-25 ", "true "}},
		{"first evidence gone", func(j *Job) { j.Evidence = j.Evidence[1:] }, []string{"[[evidence]]\nkind = \"smoke\"\nvalue = \"white\"   # not blue\n\n", "\n"}},
		{"evidence in front", func(j *Job) { j.Evidence = append([]Evidence{{Kind: "starts", Value: false}}, j.Evidence...) },
			[]string{"[[evidence]]\nkind = \"smoke\"", "[[evidence]]\nkind = \"starts\"\nvalue = false\n\n[[evidence]]\nkind = \"smoke\""}},
		{"evidence between", func(j *Job) {
			j.Evidence = []Evidence{j.Evidence[0], {Kind: "starts", Value: false, U: Num(0)}, j.Evidence[1]}
		},
			[]string{"# not blue\n", "# not blue\n\n[[evidence]]\nkind = \"starts\"\nvalue = false\nu = 0.0\n"}},
		{"evidence behind", func(j *Job) { j.Evidence = append(j.Evidence, Evidence{Kind: "starts", Value: false}) },
			[]string{"# degrees\n", "# degrees\n\n[[evidence]]\nkind = \"starts\"\nvalue = false\n"}},
	} {
		for _, ends := range []string{"\n", "\r\n"} {
			text := "\ufeff" + strings.ReplaceAll(handWritten, "\n", ends)
			d, err := Read("x", []byte(text))
			if err != nil {
				t.Fatal(err)
			}
			j := d.Job()
			row.change(&j)
			want := handWritten
			for i := 0; i < len(row.replace); i += 2 {
				if strings.Count(want, row.replace[i]) != 1 {
					t.Fatalf("%s: %q does not stand once in the text", row.name, row.replace[i])
				}
				want = strings.Replace(want, row.replace[i], row.replace[i+1], 1)
			}
			// One blank line between sections is not counted: which of two stays
			// when a section between them goes is nobody's concern.
			want = strings.ReplaceAll("\ufeff"+strings.ReplaceAll(want, "\n\n\n", "\n\n"), "\n", ends)
			n := d.With(j)
			if got := string(n.Bytes()); got != want {
				t.Errorf("%s: got\n%s\nwant\n%s", row.name, got, want)
			}
			if !n.Job().Equal(j) || string(d.Bytes()) != text {
				t.Errorf("%s: the new document does not hold the job, or the old one changed", row.name)
			}
		}
	}
}

// TestWithOtherLayouts changes, adds and removes in files laid out in the other
// ways TOML allows.
func TestWithOtherLayouts(t *testing.T) {
	t.Parallel()
	base := Job{Engine: Engine{Strokes: 4, FiringOrder: []int{1, 3, 4, 2}}}
	more := base.Clone()
	more.Title = "t"
	more.Engine.BoreMM = Num(100)
	more.Engine.Valves = &Valves{IntakeOpensBTDCDeg: Num(1)}
	more.Dowel = &Feature{SeenFrom: "flywheel", Measured: &Reading{AngleDeg: Num(12), Side: "clockwise"}}
	more.Evidence = []Evidence{{Kind: "a", Value: 1.0}, {Kind: "b", Value: "c"}}
	other := more.Clone()
	other.Dowel = &Feature{Measured: &Reading{AngleDeg: Num(13), Side: "clockwise", UDeg: Num(1)}, Drawing: &Reading{AngleDeg: Num(0)}}
	other.Evidence = []Evidence{{Kind: "b", Value: "c"}, {Kind: "b", Value: "d"}, {Kind: "e", Value: true}}
	other.Engine.Valves = &Valves{ExhaustOpensBBDCDeg: Num(2)}
	jobs := []Job{base, more, other}
	for _, text := range []string{
		"# first\nengine.strokes = 4 # a\nengine.firing_order = [1,3,4,2]\n",
		"# first\nengine = { strokes = 4, firing_order = [1,3,4,2] } # a\nevidence = []",
		"# first\nengine = {\n strokes = 4,\n firing_order = [1,3,4,2] }  # a\ndowel.seen_from = 'flywheel'\ndowel.measured.angle_deg = 12 # b\ndowel.measured.side = 'clockwise'",
		"# first\n[dowel.measured]\nangle_deg = 12 # b\nside = 'clockwise'\n# c\n[engine]# a\nfiring_order = [1,3,4,2]\nstrokes = 4",
		"# first\n[engine] # a\nstrokes = 4\nfiring_order = [1,3,4,2]\nvalves.intake_opens_btdc_deg = 3\n[dowel]\nmeasured.angle_deg = 12\nmeasured.side = 'clockwise'\n",
		"# first\n[engine] # a\nstrokes = 4\nfiring_order = [1,3,4,2]\n[engine.valves]\n[dowel]\n[dowel.drawing]\nangle_deg = 0\n[injection]\n[dowel.measured]\nangle_deg = 180",
	} {
		first, err := Read("x", []byte(text))
		if err != nil {
			t.Fatalf("%s\n%v", text, err)
		}
		for _, a := range jobs {
			for _, b := range jobs {
				d := first.With(a).With(b)
				got, err := Read("y", d.Bytes())
				if err != nil || !got.Job().Equal(b) {
					t.Errorf("from\n%s\nto\n%s\n%v", text, d.Bytes(), err)
				}
				if s := string(d.Bytes()); !strings.HasPrefix(s, "# first\n") || !strings.Contains(s, "# a\n") {
					t.Errorf("comments lost: from\n%s\nto\n%s", text, s)
				}
			}
		}
	}
}

// TestWithUnsound keeps the text of a job that is not sound at the moment, as it
// is while someone types.
func TestWithUnsound(t *testing.T) {
	t.Parallel()
	d, err := Read("x", []byte(handWritten))
	if err != nil {
		t.Fatal(err)
	}
	j := d.Job()
	j.Engine.BoreMM = Num(-1)
	j.Engine.FiringOrder = nil
	half := d.With(j)
	if !half.Job().Equal(j) || !strings.Contains(string(half.Bytes()), "bore_mm = -1     # nominal") {
		t.Errorf("got\n%s", half.Bytes())
	}
	back := half.With(d.Job())
	if again, err := Read("y", back.Bytes()); err != nil || !again.Job().Equal(d.Job()) {
		t.Errorf("%v\n%s", err, back.Bytes())
	}
}

func TestNewIsWellLaidOut(t *testing.T) {
	t.Parallel()
	want, err := os.ReadFile("testdata/new.toml")
	if err != nil {
		t.Fatal(err)
	}
	j := example()
	j.Notes = "Found with the \"new\" wheel on.\nC:\\photos"
	if got := string(New(j).Bytes()); got != string(want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// TestWithRepeatedReadings changes one of several readings, adds and takes away,
// down to a plain number, and keeps the comments between them.
func TestWithRepeatedReadings(t *testing.T) {
	t.Parallel()
	text := sound + "[dowel.measured]\nmethod = 'chord'\nchord_mm = [15.47, # first\n  15.5,\n  15]\ndowel_radius_mm = 38\nside = 'clockwise'\n"
	d, err := Read("x", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	m := d.Job().Dowel.Measured
	if m.ChordMM != Num(15.47) || !slices.Equal(m.ChordAgainMM, []float64{15.5, 15}) {
		t.Fatalf("read as %+v, again %v", m.ChordMM, m.ChordAgainMM)
	}
	for _, c := range []struct {
		first float64
		again []float64
		want  string
	}{
		{15.47, []float64{15.5, 15.25}, "[15.47, # first\n  15.5,\n  15.25]"},
		{15.47, []float64{15.5}, "[15.47, # first\n  15.5]"},
		{15.47, []float64{15.5, 15, 16}, "[15.47, # first\n  15.5,\n  15, 16.0]"},
		{15.4, nil, "15.4\n"},
	} {
		j := d.Job()
		j.Dowel.Measured.ChordMM, j.Dowel.Measured.ChordAgainMM = Num(c.first), c.again
		n := d.With(j)
		if !strings.Contains(string(n.Bytes()), "chord_mm = "+c.want) {
			t.Errorf("%g, %v: got\n%s", c.first, c.again, n.Bytes())
		}
		if again, err := Read("y", n.Bytes()); err != nil || !again.Job().Equal(j) {
			t.Errorf("%g, %v: %v", c.first, c.again, err)
		}
	}
	// A copy that is changed leaves the first alone.
	j := d.Job()
	k := j.Clone()
	k.Dowel.Measured.ChordAgainMM[0] = 1
	if j.Dowel.Measured.ChordAgainMM[0] != 15.5 || j.Equal(k) {
		t.Error("a clone shares its readings, or they do not count")
	}
}
