package samples

import (
	"bytes"
	"math"
	"regexp"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// Format is how a recording is written, as it was found.
type Format struct {
	Gzip         bool
	Delimiter    byte // ',', ';', tab or ' ', the last standing for any run of blanks
	DecimalComma bool
	Names        []string // of the columns; "" where none is given
	Units        []string // of the columns; "" where none is given
	TimeColumn   int      // -1: none, the interval counts
	TimeUnit     float64  // seconds; 1 also when nothing says it
	UnitGiven    bool     // the unit of time is written in the file
	IntervalS    float64  // seconds between samples; 0: the time column says it
	FirstLine    int      // of the values, from 1
	Channels     []int    // the columns that are neither time nor a count of samples
}

// Errors of a recording that cannot be read.
var (
	ErrEmpty    = phrase.Errorf("the recording holds no rows of numbers")
	ErrBinary   = phrase.Errorf("the recording is not text: save it as CSV")
	ErrBomb     = phrase.Errorf("the recording unpacks to more than 200 times its size: unpack it and look what it is")
	ErrUTF16    = phrase.Errorf("the recording is written in UTF-16: save it as UTF-8 or plain text")
	ErrNoTime   = phrase.Errorf("the recording has no column of time and states no sample interval: give the interval")
	ErrColumns  = phrase.Errorf("a recording has 1 to 8 channels beside the time")
	ErrBackward = phrase.Errorf("the time runs backwards")
)

// maxChannels is the most a recording may have; scopes and loggers have 2 to 8.
const maxChannels = 8

// sniffLength is how much of the file is looked at to learn how it is written.
const sniffLength = 64 << 10

// point is the decimal sign.
func (f Format) point() byte {
	if f.DecimalComma {
		return ','
	}
	return '.'
}

// split cuts a line into its cells.
func (f Format) split(line []byte) [][]byte {
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
func (f Format) numbers(line []byte) (list []float64, ok bool) {
	some := false
	for _, c := range f.split(line) {
		v, _, ok := cell(c, f.point())
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
func sniff(head []byte, o Options) (Format, error) {
	if bytes.HasPrefix(head, []byte("\xff\xfe")) || bytes.HasPrefix(head, []byte("\xfe\xff")) {
		return Format{}, ErrUTF16
	}
	if bytes.IndexByte(head, 0) >= 0 {
		return Format{}, ErrBinary
	}
	lines := bytes.SplitAfter(head, []byte("\n"))
	if len(head) >= sniffLength && len(lines) > 1 {
		lines = lines[:len(lines)-1] // the last is cut
	}
	f, first, ok := layout(lines)
	if !ok {
		return Format{}, ErrEmpty
	}
	f.FirstLine = first + 1
	f.heading(lines[:first])
	f.TimeUnit = 1
	if o.IntervalS > 0 {
		f.IntervalS = o.IntervalS
	}
	return f, f.findTime(lines[first:], o)
}

// layout picks delimiter and decimal sign: those that make most lines rows of
// numbers of one length. It returns the index of the first such row. The first lines
// usually settle it; only below a long heading must more be looked at.
func layout(lines [][]byte) (best Format, first int, ok bool) {
	for look := 2 * enoughRows; ; look *= 4 {
		best, first, rows := bestLayout(lines[:min(look, len(lines))])
		if rows == enoughRows || look >= len(lines) {
			return best, first, rows > 0
		}
	}
}

// bestLayout is the one of these lines, the index of its first row and how many follow.
func bestLayout(lines [][]byte) (best Format, first, rows int) {
	most := 0
	for _, f := range []Format{
		{Delimiter: ';'}, {Delimiter: '\t'}, {Delimiter: ','}, {Delimiter: ';', DecimalComma: true},
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
func run(f Format, lines [][]byte) (first, rows, columns int) {
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

// heading takes names, units and the sample interval from the lines above the
// values.
func (f *Format) heading(lines [][]byte) {
	var rows [][]string
	for _, line := range lines {
		text := strings.TrimSpace(strings.TrimLeft(string(line), "#%!'/ \t"))
		if s, ok := statedInterval(text); ok && f.IntervalS == 0 {
			f.IntervalS = s
		}
		var row []string
		for _, c := range f.split([]byte(text)) {
			row = append(row, strings.Trim(string(c), " \t\r\""))
		}
		if len(row) == len(f.Names) && text != "" {
			rows = append(rows, row)
		}
	}
	if n := len(rows); n > 0 && isUnits(rows[n-1]) {
		for i, u := range rows[n-1] {
			f.Units[i] = strings.Trim(u, "()[]/ ")
		}
		rows = rows[:n-1]
	}
	if n := len(rows); n > 0 {
		for i, name := range rows[n-1] {
			var unit string
			f.Names[i], unit = cutUnit(name)
			if f.Units[i] == "" {
				f.Units[i] = unit
			}
		}
	}
}

// unitNames are units that stand alone in a row of units.
var unitNames = map[string]bool{"s": true, "ms": true, "us": true, "µs": true, "μs": true, "ns": true, "sec": true, "v": true, "mv": true, "kv": true,
	"a": true, "ma": true, "bar": true, "kpa": true, "mpa": true, "psi": true, "hz": true, "rpm": true, "1/min": true, "deg": true, "°": true, "volt": true,
	"volts": true, "amps": true, "seconds": true, "second": true, "": true, "-": true, "°c": true}

// isUnits tells whether a row holds nothing but units.
func isUnits(row []string) bool {
	some := false
	for _, c := range row {
		bare := strings.Trim(c, "()[]/ ")
		if !unitNames[strings.ToLower(bare)] {
			return false
		}
		some = some || bare != ""
	}
	return some
}

// cutUnit parts "Time (ms)", "time [ms]" or "crank/V" and "time_us" into name and
// unit.
func cutUnit(name string) (bare, unit string) {
	for _, b := range []string{"()", "[]"} {
		if i := strings.IndexByte(name, b[0]); i >= 0 {
			if j := strings.IndexByte(name[i:], b[1]); j > 0 {
				return strings.TrimSpace(name[:i]), strings.TrimSpace(name[i+1 : i+j])
			}
		}
	}
	if i := strings.LastIndexAny(name, "/_ "); i > 0 && unitNames[strings.ToLower(name[i+1:])] && i+1 < len(name) {
		return strings.TrimSpace(name[:i]), name[i+1:]
	}
	return name, ""
}

// seconds is how long a unit of time lasts.
func seconds(unit string) (float64, bool) {
	switch strings.ToLower(strings.TrimSpace(unit)) {
	case "s", "sec", "second", "seconds":
		return 1, true
	case "ms", "msec", "millisecond", "milliseconds":
		return 1e-3, true
	case "us", "µs", "μs", "usec", "microsecond", "microseconds":
		return 1e-6, true
	case "ns", "nanosecond", "nanoseconds":
		return 1e-9, true
	}
	return 0, false
}

var (
	statedPeriod = regexp.MustCompile(`(?i)(?:sampl\w* (?:interval|period|time)|\binterval|increment|\bdelta[ _]?t|\bdt)\b[^0-9+.\-]*([0-9]+(?:[.,][0-9]+)?(?:e[+-]?[0-9]+)?)[ ,;\t"(\[]*(ns|us|µs|μs|ms|s|sec|seconds)?\b`)
	statedRate   = regexp.MustCompile(`(?i)(?:sampl\w*[ _]?(?:rate|frequency|freq)|\bsps|\bfs)\b[^0-9+.\-]*([0-9]+(?:[.,][0-9]+)?(?:e[+-]?[0-9]+)?)[ ,;\t"(\[]*(hz|khz|mhz|s/s|ks/s|ms/s|sa/s|ksa/s|msa/s|sps|ksps|msps)?`)
)

// statedInterval reads "Sample interval: 10 us" or "Sampling rate, 100 kHz"
// as seconds between samples. A unit left out is seconds or hertz.
func statedInterval(line string) (float64, bool) {
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
		if err != nil || !(v > 0) || math.IsInf(v, 0) {
			return 0
		}
		return v
	}
	if m := statedPeriod.FindStringSubmatch(line); m != nil {
		unit, ok := seconds(m[2])
		if !ok {
			unit = 1
		}
		v := number(m[1]) * unit
		return v, v > 0
	}
	if m := statedRate.FindStringSubmatch(line); m != nil {
		v := number(m[1])
		switch strings.ToLower(m[2]) {
		case "khz", "ks/s", "ksa/s", "ksps":
			v *= 1e3
		case "mhz", "ms/s", "msa/s", "msps":
			v *= 1e6
		}
		return 1 / v, v > 0
	}
	return 0, false
}

// timeName tells whether a column is called after time.
func timeName(name string) bool {
	switch strings.ToLower(strings.Trim(name, " :.")) {
	case "t", "time", "times", "zeit", "temps", "tiempo", "tempo", "tijd", "x", "x-axis", "x axis", "second", "seconds", "sec", "timestamp", "elapsed", "s", "ms", "us", "µs":
		return true
	}
	low := strings.ToLower(name)
	return strings.HasPrefix(low, "time") || strings.HasSuffix(low, " time") || strings.HasPrefix(low, "zeit")
}

// indexName tells whether a column counts the samples.
func indexName(name string) bool {
	switch strings.ToLower(strings.Trim(name, " :.#")) {
	case "n", "no", "nr", "index", "sample", "samples", "point", "points", "row", "count":
		return true
	}
	return false
}

// findTime settles which column is time, in which unit, or that there is none and
// the interval counts.
func (f *Format) findTime(lines [][]byte, o Options) error {
	var rows [][]float64
	for _, line := range lines {
		if len(rows) == 200 {
			break
		}
		if list, ok := f.numbers(line); ok && len(list) == len(f.Names) {
			rows = append(rows, list)
		}
	}
	f.TimeColumn = -1
	named := false
	for i, name := range f.Names {
		if timeName(name) && !indexName(name) {
			f.TimeColumn, named = i, true
			break
		}
	}
	if f.TimeColumn < 0 && len(f.Names) > 1 && !indexName(f.Names[0]) && clockLike(rows, 0) && straight(rows, 0) {
		whole := wholeSteps(rows, 0)
		if !whole || f.Units[0] != "" { // a bare count of samples is no time
			f.TimeColumn = 0
		}
	}
	if f.TimeColumn >= 0 && o.IntervalS == 0 {
		unit, ok := seconds(f.Units[f.TimeColumn])
		if !ok {
			unit, ok = seconds(f.Names[f.TimeColumn])
		}
		if ok {
			f.TimeUnit, f.UnitGiven = unit, true
		} else {
			f.TimeUnit = likelyUnit(rows, f.TimeColumn)
		}
		f.IntervalS = 0
	} else if f.IntervalS == 0 {
		return ErrNoTime
	}
	if named && !clockLike(rows, f.TimeColumn) && len(rows) > 2 && f.IntervalS == 0 {
		return phrase.Errorf("column %q: %v", f.Names[f.TimeColumn], ErrBackward)
	}
	f.Channels = f.channelColumns(rows)
	if n := len(f.Channels); n < 1 || n > maxChannels {
		return phrase.Errorf("%v; this one has %d", ErrColumns, n)
	}
	return nil
}

// likelyUnit is the unit of a time that does not say it: samples lie 5 to 100
// microseconds apart when they are taken 10 to 200 thousand times a second, so that
// no two units can be meant but at the far ends.
func likelyUnit(rows [][]float64, c int) float64 {
	if len(rows) < 3 {
		return 1
	}
	step := (rows[len(rows)-1][c] - rows[0][c]) / float64(len(rows)-1)
	switch {
	case step > 0.7:
		return 1e-6
	case step > 0.0015:
		return 1e-3
	}
	return 1
}

// clockLike tells whether a column never falls and rises in all.
func clockLike(rows [][]float64, c int) bool {
	for i := 1; i < len(rows); i++ {
		if !(rows[i][c] >= rows[i-1][c]) {
			return false
		}
	}
	return len(rows) > 1 && rows[len(rows)-1][c] > rows[0][c]
}

// straight tells whether a column rises along a straight line, as the time of
// samples does and a signal that happens to rise does not.
func straight(rows [][]float64, c int) bool {
	n := len(rows) - 1
	span := rows[n][c] - rows[0][c]
	for i, row := range rows {
		if math.Abs(row[c]-rows[0][c]-span*float64(i)/float64(n)) > 0.1*span {
			return false
		}
	}
	return true
}

// wholeSteps tells whether a column counts 1, 2, 3.
func wholeSteps(rows [][]float64, c int) bool {
	for i := 1; i < len(rows); i++ {
		if rows[i][c]-rows[i-1][c] != 1 {
			return false
		}
	}
	return true
}

// channelColumns are the columns that are neither time nor a count of samples.
func (f Format) channelColumns(rows [][]float64) []int {
	var list []int
	for i, name := range f.Names {
		count := indexName(name) || name == "" && i == 0 && f.TimeColumn < 0 && len(f.Names) > 1 && len(rows) > 2 && wholeSteps(rows, 0)
		if i != f.TimeColumn && !count {
			list = append(list, i)
		}
	}
	return list
}
