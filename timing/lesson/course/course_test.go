package course_test

import (
	"fmt"
	"io/fs"
	"math"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/lesson/course"
)

func steps(t *testing.T, code string) []course.Step {
	t.Helper()
	folder, err := fs.Sub(assets.Course, "course")
	if err != nil {
		t.Fatal(err)
	}
	list, err := course.Read(folder, code)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// TestEveryLanguageHasEveryStep: the same steps in every language, each with words of
// its own, and no file that nothing reads.
func TestEveryLanguageHasEveryStep(t *testing.T) {
	english := steps(t, "en")
	if n := len(english); n < 12 || n > 16 {
		t.Errorf("the course has %d steps, want 12 to 16", n)
	}
	for _, code := range language.Codes[1:] {
		for i, s := range steps(t, code) {
			e := english[i]
			if s.Name != e.Name {
				t.Fatalf("%s: step %d is %s, in English %s", code, i, s.Name, e.Name)
			}
			for _, w := range [][2]string{{s.Words.Text, e.Words.Text}, {s.Words.Task, e.Words.Task}, {s.Words.Hint, e.Words.Hint}, {s.Words.Reason, e.Words.Reason}} {
				if w[0] == w[1] {
					t.Errorf("%s: %s says in English %q", code, s.Name, w[0])
				}
			}
			if a, b := strings.Count(s.Words.Text, "\n\n"), strings.Count(e.Words.Text, "\n\n"); a != b {
				t.Errorf("%s: %s has %d paragraphs, in English %d", code, s.Name, a+1, b+1)
			}
		}
	}
	for _, s := range english {
		files, err := fs.ReadDir(assets.Course, "course/"+s.Name)
		if err != nil {
			t.Fatal(err)
		}
		if len(files) != 1+len(language.Codes) {
			t.Errorf("%s has %d files, want step.toml and one a language", s.Name, len(files))
		}
	}
}

// TestAimsCanBeReached: what the author gives as the answer satisfies the aim, and the
// step does not begin with it reached.
func TestAimsCanBeReached(t *testing.T) {
	for _, s := range steps(t, "en") {
		if !s.Reached(s.Aim.Answer) {
			t.Errorf("%s: the answer %g does not reach the aim", s.Name, s.Aim.Answer)
		}
		start := s.Start
		if s.Moves() == course.Cylinder {
			start = 0 // none is chosen yet
		}
		if s.Reached(start) {
			t.Errorf("%s begins with its aim reached", s.Name)
		}
	}
}

// TestAimsAgreeWithArithmeticByHand holds each aim to numbers that were worked out with
// pencil and paper from the engine in its job file, the way written beside them. What is
// reached is tried every quarter of a degree.
func TestAimsAgreeWithArithmeticByHand(t *testing.T) {
	type span struct{ from, to float64 } // both ends reached
	want := map[string]struct {
		over   span // what is tried
		spans  []span
		source string
	}{
		"01-one-cylinder":     {span{0, 719.75}, []span{{0, 2}, {358, 362}, {718, 719.75}}, "a slider-crank is at its top once a turn (Heywood 1988, 2.2)"},
		"02-four-strokes":     {span{0, 719.75}, []span{{540, 719.75}}, "the fourth half turn: 3 · 180 to 4 · 180"},
		"03-why-720":          {span{0, 719.75}, []span{{357, 363}}, "one turn after firing TDC"},
		"04-overlap":          {span{0, 719.75}, []span{{346, 371.75}}, "intake opens 360 − 14 = 346, exhaust closes 360 + 12 = 372, when it is closed"},
		"05-second-cylinder":  {span{0, 719.75}, []span{{358, 362}}, "720 ÷ 2 = 360"},
		"06-firing-order":     {span{1, 6}, []span{{3, 3}}, "1-5-3-6-2-4 read on from 5"},
		"07-paired-cylinders": {span{1, 6}, []span{{5, 5}}, "2 is the fifth to fire at 480, 480 − 360 = 120 is the second, No. 5"},
		"08-uneven-engines":   {span{0, 719.75}, []span{{268, 272}}, "one pin, bores 90 apart: 360 − 90 = 270"},
		"09-sensor-wheel":     {span{0, 719.75}, []span{{261.25, 272.75}, {621.25, 632.75}}, "position p passes at −84 + 6 (p − 1): 59 at 264, 60 at 270, each 3 to either side, again 360 later"},
		"10-camshaft":         {span{0, 719.75}, []span{{357, 363}}, "180 of the camshaft are 360 of the crankshaft"},
		"11-dowel-and-keyway": {span{-30, 30}, []span{{-0.5, 0.5}}, "commanded and actual are the same without a wheel error"},
		"12-fault-and-proof":  {span{0, 719.75}, []span{{16, 20}}, "15 ahead drawn, 13 behind measured: 28 behind; 28 − 10 = 18 after TDC"},
		"13-gears-and-marks":  {span{0, 4400}, []span{{2156, 2164}, {4316, 4324}}, "lcm(20, 30, 40) = 120 teeth = 6 turns of 20"},
		"14-measuring-tdc":    {span{0, 359.75}, []span{{353, 355}}, "310 + (360 − 310 + 38) ÷ 2 = 354"},
	}
	for _, s := range steps(t, "en") {
		w, ok := want[s.Name]
		if !ok {
			t.Errorf("%s: no numbers by hand", s.Name)
			continue
		}
		step := 0.25
		if s.Moves() == course.Cylinder {
			step = 1
		}
		for at := w.over.from; at <= w.over.to; at += step {
			in := slices.ContainsFunc(w.spans, func(p span) bool { return at >= p.from-1e-9 && at <= p.to+1e-9 })
			edge := slices.ContainsFunc(w.spans, func(p span) bool { // where half-open ends differ by the step
				return math.Abs(at-p.from) <= step && s.Aim.Tolerance == 0 && s.Moves() == course.Crank || math.Abs(at-p.to) <= step && s.Aim.Tolerance == 0 && s.Moves() == course.Crank
			})
			if got := s.Reached(at); got != in && !edge {
				t.Errorf("%s: reached at %g is %v, by hand (%s) %v", s.Name, at, got, w.source, in)
				break
			}
		}
	}
}

// TestFaultsOfAStepNameItsFile: an author learns which file is wrong and how.
func TestFaultsOfAStepNameItsFile(t *testing.T) {
	good := map[string]string{
		"jobs/one.toml": "format = 1\n[engine]\nstrokes = 4\nfiring_order = [1]\n",
		"1/step.toml":   "job = \"one\"\nfigures = [\"engine\"]\nstart = 90\n[aim]\nrule = \"tdc\"\n",
		"1/en.toml":     "title = \"a\"\ntext = \"b\"\ntask = \"c\"\nhint = \"d\"\nreason = \"e\"\n",
	}
	read := func(file, text string) error {
		folder := fstest.MapFS{}
		for name, data := range good {
			folder[name] = &fstest.MapFile{Data: []byte(data)}
		}
		folder[file] = &fstest.MapFile{Data: []byte(text)}
		_, err := course.Read(folder, "en")
		return err
	}
	if err := read("1/step.toml", good["1/step.toml"]); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ file, text, says string }{
		{"1/step.toml", strings.Replace(good["1/step.toml"], "one", "two", 1), "1/step.toml"},
		{"1/step.toml", strings.Replace(good["1/step.toml"], "tdc", "tcd", 1), `no rule "tcd"`},
		{"1/step.toml", strings.Replace(good["1/step.toml"], `"engine"`, `"motor"`, 1), `no figure "motor"`},
		{"1/step.toml", good["1/step.toml"] + "cylinder = 2\n", "no cylinder 2"},
		{"1/step.toml", good["1/step.toml"] + "strock = 2\n", "1/step.toml"},
		{"1/step.toml", "leads = [\"strokes\"]\n" + good["1/step.toml"], `no kind of question "strokes"`},
		{"1/step.toml", strings.Replace(good["1/step.toml"], `"engine"`, `"dial"`, 1), "dial: is missing"},
		{"1/step.toml", strings.Replace(good["1/step.toml"], `"tdc"`, `"dial_middle"`, 1), "dial: is missing"},
		{"1/step.toml", strings.Replace(good["1/step.toml"], `"engine"`, `"gears"`, 1), "gears"},
		{"1/step.toml", strings.Replace(good["1/step.toml"], `"tdc"`, `"marks"`, 1), "gears"},
		{"1/step.toml", strings.Replace(good["1/step.toml"], `"tdc"`, `"stroke"`, 1) + "stroke = \"powr\"\n", `no stroke "powr"`},
		{"1/step.toml", strings.Replace(good["1/step.toml"], `"tdc"`, `"next"`, 1), "cylinder is missing"},
		{"1/step.toml", strings.Replace(good["1/step.toml"], `"tdc"`, `"paired"`, 1), "cylinder is missing"},
		{"1/step.toml", strings.Replace(good["1/step.toml"], `"tdc"`, `"injection"`, 1), "injection.start_btdc_deg"},
		{"1/en.toml", "title = \"a\"\n", "title, text, task, hint and reason"},
		{"jobs/one.toml", "format = 1\n", "jobs/one.toml"},
	} {
		if err := read(c.file, c.text); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q in it", c.file, err, c.says)
		}
	}
}

func ExampleStep_Reached() {
	folder, _ := fs.Sub(assets.Course, "course")
	list, _ := course.Read(folder, "en")
	s := list[3]
	fmt.Println(s.Words.Task)
	fmt.Println(s.Reached(180), s.Reached(355))
	// Output:
	// Put the cursor where both valves are open.
	// false true
}
