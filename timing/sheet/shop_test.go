package sheet

import (
	"bytes"
	"image"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/internal/sample"
)

// Who writes stands at the head of both sheets, with the logo in its shape; a sheet of
// nobody has no head, and the claim then asks for a sender only where lines are wanted.
func TestLetterhead(t *testing.T) {
	logo := image.NewNRGBA(image.Rect(0, 0, 300, 100))
	shop := Shop{Name: "Wren Marine Engines", Address: "4 Quay Lane, Fernhaven", Phone: "555 0142", Mail: "bench@wren.example", Logo: logo}
	in := on(t, sample.Demo(t))
	for _, make := range []func(Input) (Document, error){
		ClaimSheet, func(in Input) (Document, error) { return JobSheet(in), nil },
	} {
		in.Shop = Shop{}
		bare, err := make(in)
		if err != nil {
			t.Fatal(err)
		}
		in.Shop = shop
		d, err := make(in)
		if err != nil {
			t.Fatal(err)
		}
		head := "from Wren Marine Engines\n4 Quay Lane, Fernhaven\nTelephone 555 0142 · bench@wren.example\nlogo 150 by 50\n"
		if got := d.String(); !strings.Contains(got, head) || strings.Replace(got, "\n"+head, "", 1) != bare.String() {
			t.Errorf("the head is missing or more than it has changed: %.300s", got)
		}
		for _, p := range Papers {
			var html bytes.Buffer
			if err := d.WriteHTML(&html, p); err != nil || !strings.Contains(html.String(), "4 Quay Lane, Fernhaven") {
				t.Errorf("HTML lacks the head: %v", err)
			}
		}
	}
}

// Unicode CLDR, supplemental data, paperSize; German is read where paper is A4.
func TestPaperFor(t *testing.T) {
	for _, c := range []struct {
		language, region string
		want             Paper
	}{
		{"en", "US", Letter}, {"en", "GB", A4}, {"en", "", A4}, {"en", "CA", Letter}, {"es", "MX", Letter}, {"es", "CL", Letter},
		{"es", "ES", A4}, {"es", "AR", A4}, {"es", "US", Letter}, {"de", "DE", A4}, {"de", "US", A4}, {"en", "us", Letter},
	} {
		if got := PaperFor(c.language, c.region); got != c.want {
			t.Errorf("%s in %q: %s", c.language, c.region, got.Name)
		}
	}
}
