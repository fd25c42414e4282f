package sheet

import (
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
		for _, word := range strings.Fields(par) {
			if line != "" && width(line+" "+word, size, bold) <= most {
				line += " " + word
				continue
			}
			if line != "" {
				lines = append(lines, line)
			}
			for width(word, size, bold) > most {
				head := fits(word, size, bold, most)
				lines, word = append(lines, word[:head]), word[head:]
			}
			line = word
		}
		lines = append(lines, line)
	}
	return lines
}

// fits is how many bytes of a word go into a width, at least one character.
func fits(word string, size float64, bold bool, most float64) int {
	w := 0.0
	for i, r := range word {
		w += width(string(r), size, bold)
		if w > most && i > 0 {
			return i
		}
	}
	return len(word)
}

func width(s string, size float64, bold bool) float64 {
	w, _, _ := figure.MeasureText(size, bold, s)
	return w
}

// clean takes out what is no writing: control characters, but for line breaks.
func clean(s string) string {
	s = strings.NewReplacer("\r\n", "\n", "\r", "\n", "\u2028", "\n", "\u2029", "\n").Replace(s)
	return strings.TrimRight(strings.Map(func(r rune) rune {
		switch {
		case r == '\n':
			return r
		case unicode.IsControl(r) || unicode.In(r, unicode.Cf, unicode.Co, unicode.Cs) || r == unicode.ReplacementChar:
			return ' '
		}
		return r
	}, s), " \n")
}

// line is [clean] for what stands on one line.
func line(s string) string { return strings.Join(strings.Fields(clean(s)), " ") }
