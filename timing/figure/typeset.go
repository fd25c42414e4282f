package figure

import (
	"strings"
	"unicode/utf8"
)

// Type sizes of a figure, in points at Type 1: never below smallest.
const (
	smallest = 9.0
	largest  = 17.0
)

// typeSize picks the size of a figure's type from its box: across and down are
// how many times the size goes into the box. The second size is for labels of
// the second rank. Box.Type multiplies all of it: a box twice as large with type
// twice as large holds the same figure twice as large.
func (b Box) typeSize(across, down float64) (size, small float64) {
	k := b.scale()
	size = min(max(min(b.W/across, b.H/down)/k, smallest), largest)
	return size * k, max(smallest, size*0.88) * k
}

// scale is Box.Type with its default.
func (b Box) scale() float64 {
	if b.Type <= 0 {
		return 1
	}
	return b.Type
}

// width is the width of level text.
func width(size float64, bold bool, s string) float64 {
	w, _, _ := MeasureText(size, bold, s)
	return w
}

// lineHeight is from baseline to baseline, over the size.
const lineHeight = 1.35

// cut is [Cut]. It looks no further into the text than it fits, and at each
// character once.
func cut(s string, size float64, bold bool, most float64) string {
	f, ellipsis := fontOf(bold), fontOf(bold).advance('…')
	var ends []int       // behind each character that fits
	var widths []float64 // of the text up to there, over the size
	wide := 0.0
	for i, r := range s {
		if wide += f.advance(r); wide*size > most {
			break
		}
		_, n := utf8.DecodeRuneInString(s[i:])
		ends, widths = append(ends, i+n), append(widths, wide)
	}
	last := len(ends) - 1
	if s == "" || last >= 0 && ends[last] == len(s) {
		return s
	}
	for last >= 0 {
		// What stands before the ellipsis ends in a character that is neither space
		// nor comma, whatever has to go for that.
		kept := len(strings.TrimRight(s[:ends[last]], " ,;"))
		before := last
		for before >= 0 && ends[before] > kept {
			before--
		}
		trimmed := 0.0
		if before >= 0 {
			trimmed = widths[before]
		}
		if (trimmed+ellipsis)*size <= most {
			return s[:kept] + "…"
		}
		last = min(before, last-1)
	}
	return ""
}

// Cut shortens a text to a width in points, with an ellipsis for what is lost;
// empty when not even one character and the ellipsis fit.
func Cut(s string, size float64, bold bool, most float64) string { return cut(s, size, bold, most) }

// wrap breaks a text into lines no wider than most; a word that is wider is cut.
func wrap(s string, size float64, bold bool, most float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.Fields(s) {
		longer := word
		if line != "" {
			longer = line + " " + word
		}
		if width(size, bold, longer) <= most {
			line = longer
			continue
		}
		if line != "" {
			lines = append(lines, line)
		}
		line = cut(word, size, bold, most)
	}
	if line != "" {
		lines = append(lines, line)
	}
	return lines
}
