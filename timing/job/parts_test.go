package job

import (
	"strings"
	"testing"
)

const twoParts = `format = 2
[engine]
strokes = 4
firing_order = [1, 3, 4, 2]
[[part]]
name = "Old"
use = "datum"
seen_from = "flywheel"
dowel = { angle_deg = 12, side = "clockwise" }
[[part]]
name = "New"
use = "engine"
dowel = { angle_deg = 13, side = "anticlockwise", u_deg = 0.3 }
[[part]]
name = "Spare"
picture = "spare.jpg"
keyway = { angle_deg = 90, side = "clockwise" }
`

// The datum's reading stands as the drawing and the engine's as measured, each seen from
// where its part was; what is compared once more is the same, and the job itself has not
// changed.
func TestCompared(t *testing.T) {
	t.Parallel()
	doc, err := Read("a.toml", []byte(twoParts))
	if err != nil {
		t.Fatal(err)
	}
	j := doc.Job()
	got := j.Compared()
	want := j.Clone()
	want.Dowel = &Feature{Drawing: &Reading{SeenFrom: "flywheel", Side: "clockwise", AngleDeg: Num(12)},
		Measured: &Reading{SeenFrom: "nose", Side: "anticlockwise", AngleDeg: Num(13), UDeg: Num(0.3)}}
	if !got.Equal(want) || !got.Compared().Equal(got) || !j.Equal(doc.Job()) || got.Keyway != nil {
		t.Errorf("compared it is %+v", got.Dowel)
	}
	if _, ok := j.ComparedBefore(); ok {
		t.Error("there is a part from before a repair")
	}
	if names := j.Pictures(); len(names) != 1 || names["part[3].picture"] != "spare.jpg" {
		t.Errorf("the pictures are %v", names)
	}
	for key, want := range map[string]string{"dowel.drawing": "part[1].dowel", "dowel.measured.side": "part[2].dowel.side", "keyway.measured": "keyway.measured", "dowel": "dowel"} {
		if got := j.KeyOf(key); got != want {
			t.Errorf("%s is %s, want %s", key, got, want)
		}
	}
	for _, key := range []string{"dowel.drawing.side", "dowel.measured", "keyway.measured", "title"} {
		if got := j.ComparedKey(j.KeyOf(key)); got != key {
			t.Errorf("%s there and back is %s", key, got)
		}
	}
	if j.PartHolding("keyway", "drawing") != &j.Parts[0] || j.PartHolding("dowel", "measured") != &j.Parts[1] {
		t.Error("other parts hold the readings")
	}
	if j.Needs() != 2 || doc.Line(j.KeyOf("dowel.measured.side")) != 13 {
		t.Errorf("format %d, line %d", j.Needs(), doc.Line(j.KeyOf("dowel.measured.side")))
	}
	j.Parts[1].Use, j.Parts[0].Use = UseBefore, UseDatum
	if before, ok := j.ComparedBefore(); !ok || !before.Dowel.Measured.AngleDeg.Given || before.Dowel.Measured.AngleDeg.Value != 13 {
		t.Errorf("before the repair it is %+v", before.Dowel)
	}
}

// What is wrong with a part is told with its key and with what would be right.
func TestFaultsOfParts(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ from, to, want string }{
		{`name = "New"`, ``, "a.toml:10: part[2].name: is missing"},
		{`name = "New"`, `name = "Old"`, `part[2].name: "Old" is another part's name`},
		{`use = "engine"`, `use = "datum"`, `part[2].use: is "datum", as that of part 1`},
		{`use = "engine"`, `use = "bench"`, `"datum", "engine" or "before"`},
		{`angle_deg = 13,`, `angle_deg = 181,`, "a.toml:13: part[2].dowel.angle_deg: is 181"},
		{`angle_deg = 13, side = "anticlockwise", u_deg = 0.3`, `angle_deg = 13`, "part[2].dowel.side: is missing"},
		{`keyway = { angle_deg = 90, side = "clockwise" }`, `keyway = { method = "xy", centre = [0, 0], keyway = [0, 1], dowel = [1, 1] }`, "part[3].keyway.dowel: belongs to [dowel] only"},
		{`picture = "spare.jpg"`, `dated = "31.3.2026"`, `part[3].dated: "31.3.2026" is not a day`},
		{`[[part]]` + "\n" + `name = "Spare"`, `[dowel]` + "\n" + `measured = { angle_deg = 1, side = "clockwise" }` + "\n[[part]]\nname = \"Spare\"", "part[2].dowel: [dowel] has this reading too"},
		{`[[part]]` + "\n" + `name = "Spare"`, `[dowel]` + "\n" + `drawing = { angle_deg = 1, side = "clockwise" }` + "\n[[part]]\nname = \"Spare\"", "part[1].dowel: the drawing has this angle too"},
		{"format = 2", "format = 1", "part: belongs to format 2"},
	} {
		text := strings.Replace(twoParts, c.from, c.to, 1)
		if text == twoParts {
			t.Fatalf("%q is not there", c.from)
		}
		if _, err := Read("a.toml", []byte(text)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.to, err, c.want)
		}
	}
}

// A photograph's day and how it is known that it is not mirrored belong to the second
// format, and to photographs.
func TestPhotographKeys(t *testing.T) {
	t.Parallel()
	j := Job{Engine: Engine{Strokes: 4, FiringOrder: []int{1}}, Dowel: &Feature{Measured: &Reading{Method: "photo", File: "a.jpg", Mirror: MirrorWriting,
		Rim: []Point{{X: 10}, {Y: 10}, {X: -10}, {Y: -10}, {X: 7, Y: 7}}, Keyway: []Point{{X: 9, Y: 1}, {X: 9, Y: -1}}, Dowel: []Point{{Y: 5}}}}}
	if j.Needs() != 2 {
		t.Error("it is of the first format")
	}
	doc, err := Read("a.toml", New(j).Bytes())
	if err != nil || doc.Job().Dowel.Measured.Mirror != MirrorWriting {
		t.Errorf("%v", err)
	}
	j.Dowel.Measured = &Reading{Method: "angle", AngleDeg: Num(3), Side: "clockwise", Mirror: MirrorWriting}
	if f := Check(j); len(f) != 1 || f[0].Key != "dowel.measured.mirror" {
		t.Errorf("%v", f)
	}
}
