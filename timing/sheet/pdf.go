package sheet

import (
	"io"

	"pinphase.org/pinphase/timing/figure"
)

// WritePDF writes the document for a printer with black ink. Text can be selected
// and searched, fonts travel with it. The error is the writer's.
func (d Document) WritePDF(w io.Writer, p Paper) error {
	return figure.WritePDFPages(w, d.Pages(p), figure.Paper(), d.Date)
}
