package job

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What is compared is the same before and after the readings of the sections are made
// those of parts, in every sample job; the law needs no value.
func TestGatherLeavesWhatIsCompared(t *testing.T) {
	files, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil || len(files) == 0 {
		t.Fatalf("no sample jobs: %v", err)
	}
	gathered := 0
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := Read(path, data)
		if err != nil {
			continue // jobs with faults are there too
		}
		j := doc.Job()
		next := j.Gather("Drawing", "New")
		if !j.Equal(doc.Job()) {
			t.Errorf("%s: the job given was changed", path)
		}
		if faults := Check(next); len(next.Parts) > 0 && len(faults) > 0 {
			next.Format = LatestFormat
			if faults := Check(next); len(faults) > 0 {
				t.Errorf("%s: gathered it has faults: %v", path, faults)
			}
		}
		was, is := j.Compared(), next.Compared()
		for _, f := range [][2]*Feature{{was.Dowel, is.Dowel}, {was.Keyway, is.Keyway}} {
			if (f[0] == nil) != (f[1] == nil) {
				t.Errorf("%s: a feature came or went", path)
				continue
			}
			if f[0] == nil {
				continue
			}
			gathered++
			for k, pair := range [][2]*Reading{{f[0].Drawing, f[1].Drawing}, {f[0].Measured, f[1].Measured}} {
				a, b := pair[0].clone(), pair[1].clone()
				if (a == nil) != (b == nil) {
					t.Errorf("%s: reading %d came or went", path, k)
					continue
				}
				if a == nil {
					continue
				}
				for _, r := range []struct {
					*Reading
					of *Feature
				}{{a, f[0]}, {b, f[1]}} {
					if r.SeenFrom == "" {
						r.SeenFrom = endOf(r.of.SeenFrom)
					}
				}
				x, y := Job{Dowel: &Feature{Measured: a}}, Job{Dowel: &Feature{Measured: b}}
				if !x.Equal(y) {
					t.Errorf("%s: %+v became %+v", path, *a, *b)
				}
			}
		}
	}
	if gathered == 0 {
		t.Error("no sample job has a feature")
	}
}

// One part has a use; who loses it takes the other's, and the repaired part leaves the
// one before it behind.
func TestPartsChangeTheirUse(t *testing.T) {
	var j Job
	old := j.AddPart(Part{Name: "Old", What: "old", Use: UseDatum})
	fresh := j.AddPart(Part{Name: "New", What: "new", Use: UseEngine})
	j.UsePart(old, UseEngine)
	if j.Parts[old].Use != UseEngine || j.Parts[fresh].Use != UseDatum {
		t.Errorf("swapped they are %+v", j.Parts)
	}
	j.UsePart(fresh, "")
	if j.PartFor(UseDatum) >= 0 {
		t.Error("a part that is kept only is still the datum")
	}
	j.UsePart(fresh, UseDatum)
	again := j.Repaired("Old")
	if j.Parts[old].Use != UseBefore || j.Parts[again].Use != UseEngine || j.Parts[again].Name != "Old 2" {
		t.Errorf("repaired they are %+v", j.Parts)
	}
	third := j.Repaired("Old")
	if j.Parts[old].Use != "" || j.Parts[again].Use != UseBefore || j.Parts[third].Name != "Old 3" {
		t.Errorf("repaired twice they are %+v", j.Parts)
	}
	for _, f := range Check(Job{Format: LatestFormat, Engine: Engine{Strokes: 4, FiringOrder: []int{1}}, Parts: j.Parts}) {
		if strings.HasPrefix(f.Key, "part") {
			t.Errorf("a fault: %v", f)
		}
	}
}
