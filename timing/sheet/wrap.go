package sheet

import (
	"slices"
	"strings"
	"unicode"

	"pinphase.org/pinphase/timing/figure"
)

// wrapped breaks a text into lines no wider than most points. Line breaks in the
// text are kept, and a word that is wider is broken where it has to be: nothing
// is lost. There is always at least one line.
func wrapped(s string, size float64, bold bool, most float64) []string {
	var lines []string
	for _, par := range strings.Split(clean(s), "\n") {
		line := ""
		for _, word := range pieces(par) {
			if line != "" && width(line+" "+word, size, bold) <= most {
				line += " " + word
				continue
			}
			if line != "" {
				lines = append(lines, line)
			}
			parts := broken(word, size, bold, most)
			lines = append(lines, parts[:len(parts)-1]...)
			line = parts[len(parts)-1]
		}
		lines = append(lines, line)
	}
	return lines
}

// pieces are the parts of a paragraph between which a line may be broken: a number stays
// with its unit, and what is added or subtracted with its sign.
func pieces(par string) []string {
	var list []string
	for _, word := range strings.Fields(par) {
		if n := len(list); n > 0 && (list[n-1] == "±" || strings.HasSuffix(list[n-1], " ±") || belongs(list[n-1], word)) {
			list[n-1] += " " + word
			continue
		}
		list = append(list, word)
	}
	return list
}

// belongs tells whether a word is the unit, or the doubt, of the number before it.
func belongs(number, word string) bool {
	if last := number[len(number)-1]; (last < '0' || last > '9') && !strings.HasSuffix(number, "°") {
		return false
	}
	return word == "±" || slices.Contains(units, strings.TrimRight(word, ".,;:)"))
}

// units are those that stand apart from their number.
var units = []string{"%", "mm", "in", "px", "h", "rpm", "1/min", "bar", "kPa", "psi", "°C", "°F", "K", "ms"}

// broken are the parts of a word, each as much of it as goes into a width and at
// least one character; the last may be shorter.
func broken(word string, size float64, bold bool, most float64) (parts []string) {
	start, wide := 0, 0.0 // over the size
	for i, r := range word {
		w := width(string(r), 1, bold)
		if wide += w; wide*size > most && i > start {
			parts = append(parts, word[start:i])
			start, wide = i, w
		}
	}
	return append(parts, word[start:])
}

func width(s string, size float64, bold bool) float64 {
	w, _, _ := figure.MeasureText(size, bold, s)
	return w
}

// clean takes out what is no writing: control characters, but for line breaks.
func clean(s string) string {
	return strings.TrimRight(strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Co, unicode.Cs) || r == unicode.ReplacementChar:
			return ' '
		}
		return r
	}, lineBreaks.Replace(s)), " \n")
}

var lineBreaks = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n")

// line is [clean] for what stands on one line.
func line(s string) string { return strings.Join(strings.Fields(clean(s)), " ") }
