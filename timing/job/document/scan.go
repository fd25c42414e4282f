package document

import (
	"bytes"
	"slices"
)

// scan is a way through one expression, up to where it goes no further.
type scan struct {
	data []byte
	ends bool   // where the data end the file ends; else the parser went no further
	at   int    // how far it has come
	in   where  // what stands there
	from int    // where the value that it is in begins
	open []byte // the brackets and braces round it
}

// where is a place in an expression.
type where int

const (
	inHeader   where = iota // the name in square brackets
	inKey                   // before the =
	atValue                 // where a value has to begin
	inValue                 // in a number, a date or a word
	inText                  // between quotation marks
	inEscape                // in a code that a backslash begins
	afterValue              // where a comma, a bracket or the end of the line has to follow
)

// scanTo goes from the beginning of an expression to the byte at which the parser
// gave up. At the last byte the parser may have wanted more than there is: then
// it goes on to the end, if it can.
func scanTo(data []byte, start, at int) scan {
	if at == len(data)-1 {
		at = len(data)
	}
	s := scan{data: data[:at], ends: at >= len(data), at: start, in: inKey}
	s.expression()
	s.data = data
	return s
}

func (s *scan) expression() {
	s.skip(" \t\r\n")
	if s.next() == '[' {
		s.header()
		return
	}
	s.keyValue()
}

// header goes through [name] or [[name]].
func (s *scan) header() {
	s.in = inHeader
	s.at++
	closing := []byte("]")
	if s.next() == '[' {
		s.at++
		closing = []byte("]]")
	}
	s.skip(" \t")
	if begin := s.at; s.key() && s.at > begin && bytes.HasPrefix(s.data[s.at:], closing) {
		s.at += len(closing)
		s.in = afterValue
	}
}

// keyValue goes through key = value.
func (s *scan) keyValue() {
	s.in = inKey
	begin := s.at
	if !s.key() || s.next() != '=' || s.at == begin {
		return
	}
	s.at++
	s.skip(" \t")
	s.value()
}

// key goes through the parts of a key, up to what no key holds. A text in it may
// not come to its end.
func (s *scan) key() bool {
	was := s.in
	for s.at < len(s.data) {
		switch c := s.next(); {
		case c == '"' || c == '\'':
			if !s.text() {
				return false
			}
			s.in = was
		case isDigit(c), c < 0x80 && isLetter(c), bytes.IndexByte([]byte("_-. \t"), c) >= 0:
			s.at++
		default:
			return true
		}
	}
	return true
}

// value goes through a value and tells whether it came to its end.
func (s *scan) value() bool {
	s.in, s.from = atValue, s.at
	switch c := s.next(); {
	case c == '"' || c == '\'':
		if !s.text() {
			return false
		}
	case c == '[' || c == '{':
		if !s.list(c) {
			return false
		}
	default:
		if !s.bare() {
			return false
		}
	}
	s.in = afterValue
	return true
}

// bare goes through a value without quotation marks and tells whether it may have
// come to the end of a whole one.
func (s *scan) bare() bool {
	for s.at < len(s.data) && bytes.IndexByte([]byte(" \t\r\n#,]}=\"'"), s.data[s.at]) < 0 {
		s.at++
	}
	token := string(s.data[s.from:s.at])
	switch {
	case token == "":
		return false
	case isLetter(token[0]) && !slices.Contains([]string{"true", "false", "inf", "nan"}, token):
		s.at = s.from
		return false
	}
	s.in = inValue
	last := token[len(token)-1]
	return s.at < len(s.data) && (isDigit(last) || isLetter(last))
}

// list goes through [...] or {...}.
func (s *scan) list(opens byte) bool {
	s.open = append(s.open, opens)
	s.at++
	for {
		s.in, s.from = atValue, s.at
		if opens == '{' {
			s.in = inKey
		}
		s.blank()
		if c := s.next(); c == ']' && opens == '[' || c == '}' && opens == '{' {
			break
		}
		if s.at == len(s.data) {
			if opens == '{' && s.ends {
				s.in = afterValue // the brace that ends it may stand here
			}
			return false
		}
		if opens == '[' && !s.value() {
			return false
		}
		if opens == '{' {
			if s.keyValue(); s.in != afterValue {
				return false
			}
		}
		s.blank()
		if s.next() != ',' {
			break
		}
		s.at++
	}
	if c := s.next(); !(c == ']' && opens == '[' || c == '}' && opens == '{') {
		return false
	}
	s.at++
	s.open = s.open[:len(s.open)-1]
	return true
}

// text goes through a text in quotation marks.
func (s *scan) text() bool {
	quote := s.data[s.at : s.at+1]
	code := quote[0] == '"'
	long := bytes.HasPrefix(s.data[s.at:], bytes.Repeat(quote, 3))
	if long {
		quote = bytes.Repeat(quote, 3)
	}
	s.in = inText
	for s.at += len(quote); s.at < len(s.data); {
		switch c := s.data[s.at]; {
		case bytes.HasPrefix(s.data[s.at:], quote):
			s.at += len(quote)
			for long && s.next() == quote[0] { // one or two more belong to the text
				s.at++
			}
			s.in = afterValue
			return true
		case c == '\\' && code:
			if !s.escape(long) {
				return false
			}
		case c == '\n' && !long:
			return false
		default:
			s.at++
		}
	}
	return false
}

// escape goes through a code that a backslash begins.
func (s *scan) escape(long bool) bool {
	s.in = inEscape
	s.at++
	digits := 0
	switch c := s.next(); {
	case c == 'x':
		digits = 2
	case c == 'u':
		digits = 4
	case c == 'U':
		digits = 8
	case bytes.IndexByte([]byte(`btnfre"\`), c) >= 0:
	case long && bytes.IndexByte([]byte(" \t\r\n"), c) >= 0:
	default:
		return false
	}
	s.at++
	for range digits {
		if c := s.next(); !isDigit(c) && !(c|0x20 >= 'a' && c|0x20 <= 'f') {
			return false
		}
		s.at++
	}
	s.in = inText
	return true
}

// next is the byte that follows, 0 at the end.
func (s *scan) next() byte {
	if s.at < len(s.data) {
		return s.data[s.at]
	}
	return 0
}

func (s *scan) skip(any string) {
	for s.at < len(s.data) && bytes.IndexByte([]byte(any), s.data[s.at]) >= 0 {
		s.at++
	}
}

// blank skips blanks, line ends and comments, as a list may have them.
func (s *scan) blank() {
	for s.skip(" \t\r\n"); s.next() == '#'; s.skip(" \t\r\n") {
		for s.at < len(s.data) && s.data[s.at] != '\n' {
			s.at++
		}
	}
}
