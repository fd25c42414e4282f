package job

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// example is the job that the manual shows, as testdata/example.toml has it.
func example() Job {
	return Job{
		Format: 1,
		Title:  "Harbour launch, crankshaft replaced",
		Engine: Engine{
			Strokes: 4, FiringOrder: []int{1, 5, 3, 6, 2, 4}, Rotation: "clockwise",
			BoreMM: Num(102), StrokeMM: Num(118), RodMM: Num(192), PinOffsetMM: Num(0), CompressionRatio: Num(17.5),
			Valves: &Valves{Num(12), Num(38), Num(44), Num(10)},
		},
		Injection:  &Injection{Num(9), Num(190), Num(15), Num(101.3), Num(48)},
		CrankWheel: &CrankWheel{36, []int{36}, Num(90), "inductive"},
		CamWheel:   &CamWheel{[]float64{0, 60, 120, 180, 240, 300, 330}, Num(40), "hall"},
		Dowel: &Feature{
			SeenFrom: "nose",
			Drawing:  &Reading{AngleDeg: Num(12.5), Side: "clockwise", UDeg: Num(0.1)},
			Measured: &Reading{Method: "chord", ChordMM: Num(15.47), DowelRadiusMM: Num(38), KeywayRadiusMM: Num(24), Side: "anticlockwise", UMM: Num(0.1)},
		},
		Keyway:   &Feature{},
		Gears:    &Gears{CrankTeeth: 32, IdlerTeeth: []int{49}, CamTeeth: 64},
		Evidence: []Evidence{{"correlation_error_deg", -25.3, Num(1)}},
	}
}

func TestReadExample(t *testing.T) {
	t.Parallel()
	d, err := ReadFile("testdata/example.toml")
	if err != nil {
		t.Fatal(err)
	}
	if got, want := d.Job(), example(); !got.Equal(want) {
		t.Errorf("got %+v\nwant %+v", got, want)
	}
	data, _ := os.ReadFile("testdata/example.toml")
	if string(d.Bytes()) != string(data) {
		t.Error("the bytes are not those of the file")
	}
}

const sound = "[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n"

// TestOtherLayouts reads the same job written in the other ways TOML allows.
func TestOtherLayouts(t *testing.T) {
	t.Parallel()
	want := Job{Format: 1, Title: "a \"b\"\nc"}
	want.Engine = Engine{Strokes: 4, FiringOrder: []int{1, 3, 4, 2}, BoreMM: Num(100)}
	want.Dowel = &Feature{Measured: &Reading{AngleDeg: Num(12), Side: "clockwise"}}
	for name, text := range map[string]string{
		"dotted":       "title = \"a \\\"b\\\"\\nc\"\nengine.strokes = 4\nengine.firing_order = [1, 3, 4, 2]\nengine.bore_mm = 1e2\ndowel.measured.angle_deg = 12\ndowel.measured.side = 'clockwise'\n",
		"inline":       "title = '''\na \"b\"\nc'''\nengine = { strokes = 4, firing_order = [1, 3, 4, 2], bore_mm = 1_00 }\ndowel = { measured = { angle_deg = 12, side = \"clockwise\" } }\n",
		"sub-table":    "format = 1\ntitle = \"\"\"a \"b\"\\nc\"\"\"\n[dowel.measured]\nangle_deg = 12\nside = \"clockwise\"\n[engine]\nstrokes = 0x4\nfiring_order = [\n 1, # first\n 3,\n 4, 2,\n]\nbore_mm = 100.0\n",
		"quoted":       "\"title\" = \"a \\u0022b\\\"\\nc\"\n[ 'engine' ]\n\"strokes\" = 4\n'firing_order'=[1,3,4,2]\nbore_mm=+100\n[dowel]\nmeasured = {angle_deg = 12.0, side = \"clockwise\"}",
		"crlf and bom": "\ufefftitle = \"\"\"\r\na \"b\"\r\nc\"\"\"\r\n[engine]\r\nstrokes = 4\r\nfiring_order = [1, 3,\r\n4, 2]\r\nbore_mm = 100.0\r\n[dowel.measured]\r\nangle_deg = 12.0\r\nside = \"clockwise\"\r\n",
	} {
		d, err := Read(name, []byte(text))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if !d.Job().Equal(want) {
			t.Errorf("%s: got %+v, want %+v", name, d.Job(), want)
		}
	}
	want = Job{Engine: Engine{Strokes: 4, FiringOrder: []int{1, 3, 4, 2}}, Evidence: []Evidence{{"smoke", "white", Number{}}, {"starts", false, Num(0)}}}
	for _, text := range []string{
		"evidence = [{ kind = \"smoke\", value = \"white\" }, { kind = \"starts\", value = false, u = 0 }]\n" + sound,
		sound + "[[evidence]]\nkind = \"smoke\"\nvalue = \"white\"\n[[evidence]]\nkind = \"starts\"\nvalue = false\nu = 0.0\n",
	} {
		d, err := Read("x", []byte(text))
		if err != nil {
			t.Error(err)
		} else if !d.Job().Equal(want) {
			t.Errorf("got %+v, want %+v", d.Job(), want)
		}
	}
}

// TestManyFaults reads a file with many mistakes: all are told at once, in file
// order, one for each cause.
func TestManyFaults(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile("testdata/many_faults.toml")
	if err != nil {
		t.Fatal(err)
	}
	_, err = Read("many_faults.toml", data)
	var fs Faults
	if !errors.As(err, &fs) {
		t.Fatalf("error is %v, not Faults", err)
	}
	want, err := os.ReadFile("testdata/many_faults.txt")
	if err != nil {
		t.Fatal(err)
	}
	if got := fs.Error() + "\n"; got != string(want) {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestReadFileErrors(t *testing.T) {
	t.Parallel()
	dir := t.TempDir()
	var fs Faults
	for _, path := range []string{dir, filepath.Join(dir, "none.toml")} {
		if _, err := ReadFile(path); err == nil || errors.As(err, &fs) {
			t.Errorf("%s: error is %v; an ordinary one is wanted", path, err)
		}
	}
	big := filepath.Join(dir, "big.toml")
	if err := os.WriteFile(big, make([]byte, maxSize+1), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadFile(big); !errors.As(err, &fs) || len(fs) != 1 || fs[0].File != big || fs[0].Line != 0 {
		t.Errorf("error is %v; one fault of the whole file is wanted", err)
	}
	if d, err := Read("limit", []byte(sound+strings.Repeat("#", maxSize-len(sound)))); err != nil || !d.Job().Equal(Job{Engine: Engine{Strokes: 4, FiringOrder: []int{1, 3, 4, 2}}}) {
		t.Errorf("a file of exactly the limit: %v", err)
	}
}

// TestNastyFiles reads files made to take long: none may. The time allowed is
// far above what they take, for slow machines.
func TestNastyFiles(t *testing.T) {
	fill := func(s string) string { return strings.Repeat(s, maxSize/4/len(s)) }
	for name, text := range map[string]string{
		"brackets":            strings.Repeat("[", 10_000),
		"open lists":          "a = " + fill("["),
		"open list lines":     fill("a = [\n"),
		"open tables":         fill("a = {\n"),
		"open tables in list": fill("a = [{\n"),
		"known open tables":   fill("engine = {\n"),
		"known long texts":    fill("title = \"\"\"x\n"),
		"unknown keys":        fill("a1 = 1\n"),
		"syntax":              fill("a b\n"),
		"same key":            fill("title = \"\"\n"),
		"same section":        fill("[engine]\n"),
		"evidence":            fill("[[evidence]]\n"),
		"long key":            fill("a.") + "b = 1\n",
		"long header":         "[" + fill("a.") + "b]\n",
		"long list":           "[crank_wheel]\nmissing = [" + fill("1,") + "]\n",
		"long number":         "title = " + fill("9") + "\n",
		"long name":           fill("e") + " = 1\n",
		"not UTF-8":           fill("\xff\n"),
		"zeros":               fill("\x00"),
		"many sections":       manySections(),
	} {
		start := time.Now()
		if len(text) > maxSize {
			text = text[:maxSize]
		}
		_, err := Read(name, []byte(text))
		took := time.Since(start)
		var fs Faults
		if !errors.As(err, &fs) || len(fs) > 501 { // 500 are listed, then how many more
			t.Errorf("%s: %d faults", name, len(fs))
		}
		t.Logf("%-20s %8s %4d faults, first %.120s", name, took.Round(time.Millisecond), len(fs), err)
		if took > 15*time.Second { // what takes a quarter of a second alone; a cost that grew with the square would take minutes
			t.Errorf("%s: took %s", name, took)
		}
	}
}

func manySections() string {
	var b strings.Builder
	for i := 0; b.Len() < maxSize/4; i++ {
		b.WriteString("[s" + strings.Repeat("x", i%7) + string(rune('a'+i%26)) + string(rune('a'+i/26%26)) + string(rune('a'+i/676%26)) + string(rune('a'+i/17576%26)) + "]\n")
	}
	return b.String()
}
