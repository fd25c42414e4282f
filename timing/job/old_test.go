package job

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// Every sample job of the first format opens and is written as it was, to the byte: what
// came later changes no file that does not use it.
func TestOldJobsStayAsTheyAre(t *testing.T) {
	files, err := filepath.Glob("../../testdata/jobs/*.toml")
	if err != nil {
		t.Fatal(err)
	}
	files = append(files, "../../assets/jobs/demo.toml")
	old := 0
	for _, path := range files {
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		doc, err := Read(path, data)
		if err != nil {
			continue // jobs with faults are there too
		}
		if doc.Job().Format != Format {
			continue
		}
		old++
		if got := doc.With(doc.Job()).Bytes(); !bytes.Equal(got, data) {
			t.Errorf("%s is written as\n%s", path, got)
		}
		if j := doc.Job(); j.Needs() != Format || !j.Equal(j.Clone()) {
			t.Errorf("%s needs format %d", path, j.Needs())
		}
	}
	if old < 5 {
		t.Errorf("only %d jobs are of the first format", old)
	}
}
