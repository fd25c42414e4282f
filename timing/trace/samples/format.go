package samples

import (
	"bytes"
	"math"

	"pinphase.org/pinphase/timing/phrase"
)

// format is how the rows of a recording are written, as it was found.
type format struct {
	Delimiter    byte // ',', ';', '|', tab or ' ', the last standing for any run of blanks
	DecimalComma bool
	Names        []string // of the columns; "" where none is given
	Units        []string // of the columns; "" where none is given
	TimeColumn   int      // -1: none, the interval counts
	TimeUnit     float64  // seconds; 1 also when nothing says it
	UnitGiven    bool     // the unit of time is written in the file
	IntervalS    float64  // seconds between samples; 0: the time column says it
	FirstLine    int      // of the values, from 1
	Channels     []int    // the columns that are neither time nor a count of samples
	Moments      int      // the column that is written as times of day; -1: none
	Dates        int      // a column that holds nothing but the date; -1: none
	Steps        bool     // the rows are changes of level
	count        bool     // the time is written as a count of samples
}

// Errors of a recording that cannot be read.
var (
	ErrEmpty    = phrase.Errorf("the recording holds no rows of numbers; a recording is CSV, WAV or VCD, each also gzipped")
	ErrBinary   = phrase.Errorf("a recording is CSV, WAV or VCD, each also gzipped")
	ErrBomb     = phrase.Errorf("the recording unpacks to more than 200 times its size: unpack it and check what it is")
	ErrUTF16    = phrase.Errorf("the recording is written in UTF-16: save it as UTF-8 or plain text")
	ErrNoTime   = phrase.Errorf("the recording has no column of time and states no sample interval: give the interval")
	ErrColumns  = phrase.Errorf("a recording has 1 to 8 channels besides the time")
	ErrBackward = phrase.Errorf("the time runs backwards")
	ErrTimed    = phrase.Errorf("the recording states its times itself: leave the interval out")
	ErrStands   = phrase.Errorf("the time is the same in every row: choose the right column, or give the interval")
)

// maxChannels is the most a recording may have; scopes and loggers have 2 to 8.
const maxChannels = 8

// sniffLength is how much of the file is looked at to learn how it is written.
const sniffLength = 64 << 10

// point is the decimal sign.
func (f format) point() byte {
	if f.DecimalComma {
		return ','
	}
	return '.'
}

// split cuts a line into its cells.
func (f format) split(line []byte) [][]byte {
	line = bytes.TrimRight(line, "\r\n")
	if f.Delimiter == ' ' {
		return bytes.Fields(line)
	}
	cells := splitQuoted(line, f.Delimiter)
	if n := len(cells); n > 1 && len(bytes.TrimSpace(cells[n-1])) == 0 {
		cells = cells[:n-1] // a delimiter at the end of each line
	}
	return cells
}

// splitQuoted cuts at delimiters that stand outside quotation marks.
func splitQuoted(line []byte, delimiter byte) [][]byte {
	var cells [][]byte
	start, quoted := 0, false
	for i, c := range line {
		switch {
		case c == '"':
			quoted = !quoted
		case c == delimiter && !quoted:
			cells = append(cells, line[start:i])
			start = i + 1
		}
	}
	return append(cells, line[start:])
}

// numbers reads the cells of a line; ok is false when one is no number or all
// are empty.
func (f format) numbers(line []byte) (list []float64, ok bool) {
	some := false
	for _, c := range f.split(line) {
		v, _, ok := cell(c, f.point())
		if !ok {
			v, ok = when(c)
		}
		if !ok {
			return nil, false
		}
		some = some || !math.IsNaN(v)
		list = append(list, v)
	}
	return list, some
}

// isComment tells whether a line is one by its first characters.
func isComment(line []byte) bool {
	line = bytes.TrimLeft(line, " \t\"")
	return len(line) == 0 || line[0] == '#' || line[0] == '%' || line[0] == '!' || line[0] == '\'' ||
		bytes.HasPrefix(line, []byte("//")) || bytes.HasPrefix(line, []byte("--")) || line[0] == ';' && len(bytes.Trim(line, "; \t\r\n")) > 0 && !numeral(line[1])
}

func numeral(c byte) bool {
	return c >= '0' && c <= '9' || c == '-' || c == '+' || c == '.' || c == ' '
}

// sniff learns how a recording is written from its beginning.
func sniff(head []byte, o Options) (format, error) {
	lines := bytes.SplitAfter(head, []byte("\n"))
	if len(head) >= sniffLength && len(lines) > 1 {
		lines = lines[:len(lines)-1] // the last is cut
	}
	f, first, ok := layout(lines)
	if !ok {
		return format{}, noRows(head)
	}
	f.FirstLine = first + 1
	f.heading(lines[:first])
	f.TimeUnit, f.Moments, f.Dates = 1, -1, -1
	f.findMoments(lines[first])
	if o.IntervalS > 0 {
		f.IntervalS = o.IntervalS
	}
	return f, f.findTime(lines[first:], o)
}

// layout picks delimiter and decimal sign: those that make most lines rows of
// numbers of one length. It returns the index of the first such row. The first lines
// usually settle it; only below a long heading must more be looked at.
func layout(lines [][]byte) (best format, first int, ok bool) {
	for look := 2 * enoughRows; ; look *= 4 {
		best, first, rows := bestLayout(lines[:min(look, len(lines))])
		if rows == enoughRows || look >= len(lines) {
			return best, first, rows > 0
		}
	}
}

// bestLayout is the one of these lines, the index of its first row and how many follow.
func bestLayout(lines [][]byte) (best format, first, rows int) {
	most := 0
	for _, f := range []format{
		{Delimiter: ';'}, {Delimiter: '\t'}, {Delimiter: ','}, {Delimiter: '|'}, {Delimiter: ';', DecimalComma: true}, {Delimiter: '|', DecimalComma: true},
		{Delimiter: '\t', DecimalComma: true}, {Delimiter: ',', DecimalComma: true}, {Delimiter: ' '}, {Delimiter: ' ', DecimalComma: true},
	} {
		at, n, columns := run(f, lines)
		// More rows; for as many rows the layout that finds more columns in them.
		if score := n * (20 + min(columns, maxChannels+1)); score > most {
			best, first, rows, most = f, at, n, score
			best.Names, best.Units = make([]string, columns), make([]string, columns)
		}
	}
	return best, first, rows
}

// enoughRows of numbers of one length in a row settle a layout.
const enoughRows = 100

// run finds the longest run of rows of numbers of one length.
func run(f format, lines [][]byte) (first, rows, columns int) {
	at, n, width := 0, 0, 0
	for i, line := range lines {
		if isComment(line) {
			continue
		}
		list, ok := f.numbers(line)
		if !ok || len(list) != width {
			n, width = 0, 0
		}
		if !ok {
			continue
		}
		if n == 0 {
			at, width = i, len(list)
		}
		if n++; n > rows {
			first, rows, columns = at, n, width
		}
		if n == enoughRows {
			break
		}
	}
	return first, rows, columns
}
