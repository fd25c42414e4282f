package document

import (
	"bytes"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// explain says in plain words why the parser gave up at byte at of the expression
// that begins at start. It looks at the text alone; the parser's own words, which
// are another's to change, are only passed on where nothing else is known.
func (b *builder) explain(err error, start, at int) phrase.Sentence {
	rest := b.data[min(at, len(b.data)):]
	if number, ok := quantity.WithoutUnit(valueAround(b.data, start, at)); ok {
		return leaveUnitOut(number)
	}
	for _, c := range []struct {
		sign string
		says phrase.Sentence
	}{
		{"\u2212", phrase.Of("write the minus sign as the keyboard's '-'")},
		{"\u201c", phrase.Of(`write text in plain quotation marks, "like this"`)},
		{"\u201d", phrase.Of(`write text in plain quotation marks, "like this"`)},
		{"\u201e", phrase.Of(`write text in plain quotation marks, "like this"`)},
	} {
		if bytes.HasPrefix(rest, []byte(c.sign)) {
			return c.says
		}
	}
	if says, ok := scanTo(b.data, start, at).says(b.layout); ok {
		return says
	}
	return phrase.Of("is not TOML: %s", err.Error())
}

// says explains what is wrong with what follows where a scan ended.
func (s scan) says(l layout) (says phrase.Sentence, ok bool) {
	end := s.at >= len(s.data)
	next := byte('\n')
	if !end {
		next = s.data[s.at]
	}
	lineEnds := next == '\n' || next == '\r' || next == '#'
	token := s.data[s.from:s.at] // of a bare value, what was read of it
	switch s.in {
	case inHeader:
		return phrase.Of("a section is its name in square brackets, as in [%s]", l.firstSection()), true
	case inKey:
		return phrase.Of("a line is a key, = and its value, as in %s = 1", l.firstKey()), true
	case inEscape, inText:
		if s.in == inText && next != '\\' {
			return phrase.Of("the quotation mark that ends this text is missing"), end || lineEnds
		}
		return phrase.Of(`a backslash begins a code; write \\ for one, or the text in single quotation marks, 'C:\parts'`), true
	case atValue:
		return s.noValue(next, lineEnds)
	case inValue:
		switch last := token[len(token)-1]; {
		case last == '.', next == '.' && !isDigit(last):
			return phrase.Of("a number has a digit on both sides of its point, as in 0.5 or 5.0"), true
		case next == '0' && !isDigit(last):
			return phrase.Of("a number does not begin with 0 before other digits"), true
		case isLetter(next) && isDigit(last):
			return phrase.Of(`a number stands alone, without its unit, and text in quotation marks, "like this"`), true
		case next == '_', !isDigit(last) && !isLetter(last):
			return phrase.Sentence{}, false
		}
	}
	switch {
	case len(s.open) == 0 && next == ',' && s.at > 0 && isDigit(s.data[s.at-1]):
		return phrase.Of("write decimals with a point, 102.5, and lists in square brackets, [1, 2]"), true
	case len(s.open) == 0:
		return phrase.Of("one key and its value a line: what follows here is not allowed"), true
	case s.open[len(s.open)-1] == '[' && end:
		return phrase.Of("the ] that ends this list is missing"), true
	case s.open[len(s.open)-1] == '[':
		return phrase.Of("a comma, or the ] that ends the list, is missing before this"), true
	case end:
		return phrase.Of("the } that ends this is missing"), true
	}
	return phrase.Of("a comma, or the } that ends this, is missing before this"), true
}

// noValue explains why nothing of a value could be read where one begins.
func (s scan) noValue(next byte, lineEnds bool) (says phrase.Sentence, ok bool) {
	after := byte(0)
	if s.at+1 < len(s.data) {
		after = s.data[s.at+1]
	}
	switch {
	case s.at >= len(s.data) && len(s.open) > 0 && s.open[len(s.open)-1] == '[':
		return phrase.Of("the ] that ends this list is missing"), true
	case lineEnds:
		return phrase.Of("no value after the ="), true
	case next == '.':
		return phrase.Of("a number has a digit on both sides of its point, as in 0.5 or 5.0"), true
	case next == '0' && isDigit(after):
		return phrase.Of("a number does not begin with 0 before other digits"), true
	case isLetter(next):
		return phrase.Of(`write text in quotation marks, "like this"`), true
	}
	return phrase.Sentence{}, false
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// isLetter tells whether a byte is a letter or begins one that is not ASCII.
func isLetter(c byte) bool {
	return c|0x20 >= 'a' && c|0x20 <= 'z' || c >= 0xC3 && c < 0xE2
}

// valueAround is the text of the bare value that the parser gave up in at byte at, or
// behind: what stands between the signs that part values.
func valueAround(data []byte, start, at int) string {
	const most = 60 // longer than any number with its unit
	from, to := min(at, len(data)), min(at, len(data))
	for from > start && at-from < most && bytes.IndexByte([]byte("=,[{\n"), data[from-1]) < 0 {
		from--
	}
	for to < len(data) && to-at < most && bytes.IndexByte([]byte(",]}#\r\n"), data[to]) < 0 {
		to++
	}
	return string(data[from:to])
}

// leaveUnitOut asks for a number without the unit that stands behind it.
func leaveUnitOut(number string) phrase.Sentence {
	return phrase.Of("leave the unit out, the key names it: write %s", strings.NewReplacer(",", ".", "\u2212", "-").Replace(number))
}
