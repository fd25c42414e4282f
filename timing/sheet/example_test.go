package sheet_test

import (
	"bytes"
	"fmt"
	"time"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/sheet"
)

// A job sheet is a document as data, which is set as a PDF or as HTML.
func ExampleJobSheet() {
	d, err := job.Read("boat.toml", []byte("title = \"Harbour launch\"\n[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n"))
	if err != nil {
		fmt.Println(err)
		return
	}
	doc := sheet.JobSheet(sheet.Input{Job: d.Job(), Angles: d.Job(), Date: time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC)})
	var pdf bytes.Buffer
	if err := doc.WritePDF(&pdf, sheet.A4); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(doc.Kind, "of", doc.Title, "begins with", string(pdf.Bytes()[:5]))
	// Output: Job sheet of Harbour launch begins with %PDF-
}
