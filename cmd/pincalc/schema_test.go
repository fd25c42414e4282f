package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/santhosh-tekuri/jsonschema/v6"

	"pinphase.org/pinphase/timing/job"
)

// The schemas are judged by a validator that has nothing to do with what makes them
// (santhosh-tekuri/jsonschema, which passes the official test suite of the standard).

func prints(t *testing.T, args ...string) []byte {
	t.Helper()
	var out, told bytes.Buffer
	if code := run(args, streams{in: strings.NewReader(""), out: &out, errOut: &told}); code != 0 {
		t.Fatalf("%v: exit %d, %s", args, code, told.String())
	}
	return out.Bytes()
}

func compiled(t *testing.T, which, at string) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(prints(t, "schema", which)))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.AssertFormat()
	if err := c.AddResource("urn:pinphase:"+which, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("urn:pinphase:" + which + at)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// inJSON is a TOML text as a validator of JSON takes it.
func inJSON(t *testing.T, text []byte) any {
	t.Helper()
	var all map[string]any
	if err := toml.Unmarshal(text, &all); err != nil {
		t.Fatal(err)
	}
	data, err := json.Marshal(all)
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Every sample job is valid, and stays so where one number more or less is what the
// program refuses too.
func TestJobSchema(t *testing.T) {
	s := compiled(t, "job", "")
	samples := []string{"../../assets/jobs/demo.toml", "../../timing/job/testdata/example.toml", "../../timing/job/testdata/new.toml"}
	more, _ := filepath.Glob("../../testdata/*/*.toml")
	if len(more) == 0 {
		t.Fatal("no sample jobs")
	}
	for _, name := range append(samples, more...) {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(inJSON(t, text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	const least = "[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n"
	for _, c := range []struct {
		more  string
		sound bool
	}{
		{"", true},
		{"bore_mm = 102\n", true},
		{"bore_mm = 0\n", false},
		{"bore_mm = \"102\"\n", false},
		{"borre_mm = 102\n", false},
		{"rotation = \"anticlockwise\"\n", true},
		{"rotation = \"left\"\n", false},
		{"[dowel]\nmeasured = { method = \"chord\", chord_mm = [15.4, 15.5], dowel_radius_mm = 38, side = \"clockwise\" }\n", true},
		{"[dowel]\nmeasured = { method = \"chord\", chord_mm = [], dowel_radius_mm = 38, side = \"clockwise\" }\n", false},
		{"[dowel]\nmeasured = { method = \"xy\", centre = [0, 0], keyway = [0, 30], dowel = [[10, 30]] }\n", true},
		{"[dowel]\nmeasured = { method = \"xy\", centre = [0, 0, 0], keyway = [0, 30], dowel = [[10, 30]] }\n", false},
		{"[dowel]\nmeasured = { method = \"guess\" }\n", false},
		{"[gears]\ncrank_teeth = 32\ncam_teeth = 64\n", true},
		{"[gears]\ncrank_teeth = 32.5\ncam_teeth = 64\n", false},
		{"[[evidence]]\nkind = \"correlation_error_deg\"\nvalue = -25.3\nu = 1.0\n", true},
		{"[[evidence]]\nkind = \"correlation_error_deg\"\nvalue = -25.3\nu = -1.0\n", false},
		{"[[evidence]]\nkind = \"correlation_error_deg\"\nvalue = true\n", false},
		{"[[tdc]]\nmethod = \"stop\"\nbefore_deg = 40\nafter_deg = [320, 321]\ncounts = \"down\"\n", true},
		{"[[tdc]]\nmethod = \"chord\"\nbefore_deg = 40\nafter_deg = 320\n", false},
		{"[[part]]\nname = \"Old\"\nwhat = \"old\"\nuse = \"datum\"\ndowel = { angle_deg = 12.5, side = \"clockwise\" }\n", true},
		{"[[part]]\nname = \"Old\"\nuse = \"first\"\n", false},
		{"[[part]]\nname = \"Old\"\ndowel = { angle_deg = 181, side = \"clockwise\" }\n", false},
		{"[[evidence]]\nkind = \"the_moon\"\nvalue = true\n", false},
	} {
		text := []byte(least + c.more)
		err := s.Validate(inJSON(t, text))
		if sound := err == nil; sound != c.sound {
			t.Errorf("%q is sound by the schema: %v, %v", c.more, sound, err)
		}
		file := filepath.Join(t.TempDir(), "job.toml")
		if err := os.WriteFile(file, text, 0o600); err != nil {
			t.Fatal(err)
		}
		var out, told bytes.Buffer
		code := run([]string{"check", file}, streams{in: strings.NewReader(""), out: &out, errOut: &told})
		if sound := code == 0; sound != c.sound {
			t.Errorf("%q is sound by check: %v, %s", c.more, sound, told.String())
		}
	}
	// Every number that has limits is a number of the schema.
	text := string(prints(t, "schema", "job"))
	for _, k := range job.Keys() {
		if name := k.Key[strings.LastIndexByte(k.Key, '.')+1:]; !strings.Contains(text, `"`+name+`"`) {
			t.Errorf("the schema does not have %s", k.Key)
		}
	}
}

// What each command prints with --json is what the schema of results says.
func TestResultsSchema(t *testing.T) {
	dir := t.TempDir()
	csv := filepath.Join(dir, "r.csv")
	prints(t, "signal", "demo", "-o", csv)
	jobs := []string{"demo", "../../testdata/jobs/two-stroke.toml", "../../testdata/jobs/v16-uneven.toml", "../../timing/job/testdata/new.toml"}
	for name, args := range map[string][]string{
		"phase": {"phase"}, "shift": {"shift"}, "part": {"part"}, "light": {"light", "--draws", "200"}, "signal": {"signal"},
		"cause": {"cause"}, "gears": {"gears"}, "check": {"check"}, "sweep": {"light", "--sweep", "air=-10:20:10"},
	} {
		s := compiled(t, "results", "#/$defs/"+name)
		worked := 0
		for _, j := range jobs {
			var out, told bytes.Buffer
			if code := run(append([]string{args[0], j, "--json"}, args[1:]...), streams{in: strings.NewReader(""), out: &out, errOut: &told}); code != 0 {
				continue // the job lacks what the command needs
			}
			worked++
			valid(t, s, name+" of "+j, out.Bytes())
		}
		if worked == 0 {
			t.Errorf("%s worked on none of the jobs", name)
		}
	}
	for name, args := range map[string][]string{
		"trace": {"trace", "demo", csv, "--json"}, "kinds": {"cause", "--kinds", "--json"}, "version": {"version", "--json"},
		"exercise": {"exercise", "demo", "-o", filepath.Join(dir, "x.pdf"), "--json"},
	} {
		valid(t, compiled(t, "results", "#/$defs/"+name), name, prints(t, args...))
	}
	s := compiled(t, "results", "#/$defs/shift")
	v, _ := jsonschema.UnmarshalJSON(strings.NewReader(`{"wheel_error_deg": "much"}`))
	if s.Validate(v) == nil {
		t.Error("a wheel error that is a text is valid")
	}
}

func valid(t *testing.T, s *jsonschema.Schema, what string, text []byte) {
	t.Helper()
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	if err := s.Validate(v); err != nil {
		t.Errorf("%s: %v", what, err)
	}
}

// The line by which an editor finds the schema stays when a job is saved.
func TestSchemaLineStays(t *testing.T) {
	text := "#:schema ./pinphase-job.schema.json\nformat = 1\n\n[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n"
	doc, err := job.Read("a.toml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	j := doc.Job()
	j.Title = "Another"
	if got := string(doc.With(j).Bytes()); !strings.HasPrefix(got, "#:schema ./pinphase-job.schema.json\n") || !strings.Contains(got, `title = "Another"`) {
		t.Errorf("%s", got)
	}
}
