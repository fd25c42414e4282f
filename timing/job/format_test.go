package job

import (
	"strings"
	"testing"
)

const firstFormat = "format = 1\n\n[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n"

// A file of the first format stays one until a key of the second is used, and says from
// then on which it is.
func TestFormats(t *testing.T) {
	t.Parallel()
	doc, err := Read("a.toml", []byte(firstFormat))
	if err != nil {
		t.Fatal(err)
	}
	j := doc.Job()
	j.Title = "Mole pump"
	doc = doc.With(j)
	if text := string(doc.Bytes()); !strings.HasPrefix(text, "format = 1\n") {
		t.Errorf("a title makes it %s", text)
	}
	j = doc.Job()
	j.Case = &Case{Customer: "Quay & Sons", Hours: Num(4120), MeasuredOn: "2026-03-31"}
	doc = doc.With(j)
	text := string(doc.Bytes())
	if !strings.HasPrefix(text, "format = 2\n") || !strings.Contains(text, "[case]\ncustomer = \"Quay & Sons\"\nhours = 4120.0\nmeasured_on = \"2026-03-31\"\n") {
		t.Errorf("a case makes it %s", text)
	}
	again, err := Read("a.toml", doc.Bytes())
	if err != nil || !again.Job().Equal(doc.Job()) {
		t.Errorf("%v, %+v", err, again)
	}
	// The second format without its keys is sound and stays.
	doc, err = Read("b.toml", []byte(strings.Replace(firstFormat, "1", "2", 1)))
	if err != nil || doc.Job().Format != 2 {
		t.Fatalf("%v", err)
	}
	// A job that was never a file, and a file that does not say, are of the format they need.
	if text := string(New(j).Bytes()); !strings.HasPrefix(text, "format = 2\n") {
		t.Errorf("new: %s", text)
	}
	doc, err = Read("c.toml", []byte(strings.Replace(text, "format = 2\n", "", 1)))
	if err != nil || doc.Job().Format != 2 {
		t.Errorf("without a format: %v", err)
	}
}
