package sheet

import (
	"bytes"
	"compress/zlib"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"
)

// printed is what a page of a PDF draws, in millimetres from its lower left
// corner: what a rule laid on the paper would measure.
type printed struct {
	lines  [][4]float64 // x0, y0, x1, y1
	curves [][][2]float64
}

// pagesOf reads the drawing operators of a PDF (ISO 32000-1, 8.5.2): numbers, then
// the operator's letter. User space is 1/72 inch (8.3.2.3) while no matrix is set.
func pagesOf(t *testing.T, pdf []byte) []printed {
	t.Helper()
	var pages []printed
	for _, part := range bytes.Split(pdf, []byte("endstream")) {
		_, body, ok := bytes.Cut(part, []byte("stream\n"))
		if !ok {
			continue
		}
		z, err := zlib.NewReader(bytes.NewReader(body))
		if err != nil {
			continue
		}
		content, err := io.ReadAll(z)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Contains(content, []byte(" m\n")) {
			continue // a font
		}
		var page printed
		var numbers []float64
		var x, y float64
		mm := func(v float64) float64 { return v * 25.4 / 72 }
		var curve [][2]float64
		turned := 0 // inside a matrix, which only turned text has
		for _, l := range strings.Split(string(content), "\n") {
			if strings.Contains(l, "Tj") {
				continue
			}
			for _, word := range strings.Fields(l) {
				if v, err := strconv.ParseFloat(word, 64); err == nil {
					numbers = append(numbers, v)
					continue
				}
				n := len(numbers)
				switch word {
				case "cm":
					turned++
				case "Q":
					turned = 0
				case "m":
					x, y, curve = numbers[n-2], numbers[n-1], nil
				case "l":
					if turned == 0 {
						page.lines = append(page.lines, [4]float64{mm(x), mm(y), mm(numbers[n-2]), mm(numbers[n-1])})
					}
					x, y = numbers[n-2], numbers[n-1]
				case "c":
					for k := 0.0; k <= 1; k += 1.0 / 16 {
						a, b, c, d := (1-k)*(1-k)*(1-k), 3*k*(1-k)*(1-k), 3*k*k*(1-k), k*k*k
						curve = append(curve, [2]float64{mm(a*x + b*numbers[n-6] + c*numbers[n-4] + d*numbers[n-2]), mm(a*y + b*numbers[n-5] + c*numbers[n-3] + d*numbers[n-1])})
					}
					x, y = numbers[n-2], numbers[n-1]
				case "S", "f", "h", "s":
					if curve != nil {
						page.curves = append(page.curves, curve)
						curve = nil
					}
				}
				numbers = numbers[:0]
			}
		}
		pages = append(pages, page)
	}
	return pages
}

// level returns the lengths of the level lines of a page that are near a length.
func (p printed) level(length float64) (list []float64) {
	for _, l := range p.lines {
		if d := math.Abs(l[2] - l[0]); l[1] == l[3] && math.Abs(d-length) < 1 {
			list = append(list, d)
		}
	}
	return list
}

func (p printed) upright(length float64) (list []float64) {
	for _, l := range p.lines {
		if d := math.Abs(l[3] - l[1]); l[0] == l[2] && math.Abs(d-length) < 1 {
			list = append(list, d)
		}
	}
	return list
}

// circle returns the mean radius of the widest curve, and by how much it strays.
func (p printed) circle() (radius, stray float64) {
	for _, c := range p.curves {
		x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
		for _, q := range c {
			x0, x1, y0, y1 = min(x0, q[0]), max(x1, q[0]), min(y0, q[1]), max(y1, q[1])
		}
		if x1-x0 < 2*radius {
			continue
		}
		x, y := (x0+x1)/2, (y0+y1)/2
		sum, least, most := 0.0, math.Inf(1), 0.0
		for _, q := range c {
			r := math.Hypot(q[0]-x, q[1]-y)
			sum, least, most = sum+r, min(least, r), max(most, r)
		}
		radius, stray = sum/float64(len(c)), most-least
	}
	return radius, stray
}

func pdfOf(t *testing.T, make func(Scale, Paper) (Document, error), in Scale, p Paper) []byte {
	t.Helper()
	in.Date = someDay
	d, err := make(in, p)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := d.WritePDF(&b, p); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

const hundredth = 0.01 // mm
