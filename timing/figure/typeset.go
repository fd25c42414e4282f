package figure

import "strings"

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

func cut(s string, size float64, bold bool, most float64) string {
	if width(size, bold, s) <= most {
		return s
	}
	r := []rune(s)
	for n := len(r) - 1; n > 0; n-- {
		t := strings.TrimRight(string(r[:n]), " ,;") + "…"
		if width(size, bold, t) <= most {
			return t
		}
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
