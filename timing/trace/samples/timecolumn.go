package samples

import (
	"math"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// timeName tells whether a column is called after time.
func timeName(name string) bool {
	switch strings.ToLower(strings.Trim(name, " :.")) {
	case "t", "time", "times", "zeit", "uhrzeit", "temps", "heure", "horodatage", "tiempo", "hora", "tempo", "tijd", "tid", "aika", "idő", "czas", "čas", "время", "zaman", "時間", "时间",
		"clock", "date", "datetime", "x", "x-axis", "x axis", "second", "seconds", "sec", "timestamp", "elapsed", "s", "ms", "us", "µs":
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
// the interval counts; and whether the rows are samples or changes of level.
func (f *format) findTime(lines [][]byte, o Options) error {
	var rows [][]float64
	for _, line := range lines {
		if len(rows) == mostLooked {
			break
		}
		if list, ok := f.numbers(line); ok && len(list) == len(f.Names) {
			rows = append(rows, list)
		}
	}
	if f.Moments >= 0 {
		throughMidnight(rows, f.Moments)
	}
	f.pickTime(rows)
	if f.TimeColumn >= 0 && !clockLike(rows, f.TimeColumn) && len(rows) > 2 && o.IntervalS == 0 {
		switch constant := isConstant(rows, f.TimeColumn); {
		case constant && f.IntervalS > 0:
			f.TimeColumn = -1 // the interval that the heading states counts
		case constant:
			return phrase.Errorf("column %d (%q): %v", f.TimeColumn+1, f.Names[f.TimeColumn], ErrStands)
		default:
			return phrase.Errorf("column %d (%q): %v", f.TimeColumn+1, f.Names[f.TimeColumn], ErrBackward)
		}
	}
	if f.TimeColumn >= 0 && clockLike(rows, f.TimeColumn) && o.IntervalS > 0 {
		return phrase.Errorf("column %d (%q): %v", f.TimeColumn+1, f.Names[f.TimeColumn], ErrTimed)
	}
	f.Channels = f.channelColumns(rows)
	if f.TimeColumn >= 0 && o.IntervalS == 0 {
		f.Steps = f.changes(rows)
		f.settleUnit(rows)
		f.IntervalS = 0
	} else if f.IntervalS == 0 {
		return ErrNoTime
	}
	if n := len(f.Channels); n < 1 || n > maxChannels {
		return phrase.Errorf("%v; this one has %d", ErrColumns, n)
	}
	return nil
}

// mostLooked is how many rows are looked at to learn what the columns are.
const mostLooked = 2000

// pickTime finds the column of time: of times of day, called after time, or the first
// where it rises as time does.
func (f *format) pickTime(rows [][]float64) {
	f.TimeColumn = f.Moments
	for i, name := range f.Names {
		if f.TimeColumn < 0 && timeName(name) && !indexName(name) {
			f.TimeColumn = i
		}
	}
	if f.TimeColumn >= 0 || len(f.Names) < 2 || !clockLike(rows, 0) {
		return
	}
	if indexName(f.Names[0]) {
		if f.IntervalS > 0 && !wholeSteps(rows, 0) { // counts of samples at which something changed
			f.TimeColumn, f.Units[0], f.count = 0, "", true
		}
		return
	}
	whole := wholeSteps(rows, 0)
	if straight(rows[:min(len(rows), 200)], 0) && (!whole || f.Units[0] != "") { // a bare count of samples is no time
		f.TimeColumn = 0
		return
	}
	if g := *f; !whole {
		g.TimeColumn = 0
		g.Channels = g.channelColumns(rows)
		if g.changes(rows) {
			f.TimeColumn = 0
		}
	}
}

// settleUnit finds the unit of the time.
func (f *format) settleUnit(rows [][]float64) {
	if f.Moments >= 0 {
		f.TimeUnit, f.UnitGiven = 1, true
		return
	}
	if f.count {
		f.TimeUnit, f.UnitGiven = f.IntervalS, true
		return
	}
	unit, ok := seconds(f.Units[f.TimeColumn])
	if !ok {
		unit, ok = seconds(f.Names[f.TimeColumn])
	}
	switch {
	case ok:
		f.TimeUnit, f.UnitGiven = unit, true
	case f.Steps:
		f.TimeUnit = likelyStepUnit(rows, f.TimeColumn)
	default:
		f.TimeUnit = likelyUnit(rows, f.TimeColumn)
	}
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

// likelyStepUnit is the unit of a time of changes that does not say it: teeth pass a
// sensor 4 to 6000 times a second, on wheels of 4 to 120 teeth at 60 to 3000 rpm.
func likelyStepUnit(rows [][]float64, c int) float64 {
	switch step := median(steps(rows, c)); {
	case step > 1e5:
		return 1e-9
	case step > 100:
		return 1e-6
	case step > 0.1:
		return 1e-3
	}
	return 1
}

// isConstant tells whether a column is the same in all rows.
func isConstant(rows [][]float64, c int) bool {
	for _, row := range rows {
		if row[c] != rows[0][c] {
			return false
		}
	}
	return true
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

// channelColumns are the columns that are neither time nor a date nor a count of samples,
// and not empty throughout without a name.
func (f format) channelColumns(rows [][]float64) []int {
	var list []int
	for i, name := range f.Names {
		count := indexName(name) || name == "" && i == 0 && f.TimeColumn < 0 && len(f.Names) > 1 && len(rows) > 2 && wholeSteps(rows, 0)
		if i != f.TimeColumn && !count && i != f.Dates && !(name == "" && isEmpty(rows, i)) {
			list = append(list, i)
		}
	}
	return list
}

// isEmpty tells whether a column holds nothing.
func isEmpty(rows [][]float64, c int) bool {
	for _, row := range rows {
		if row[c] == row[c] {
			return false
		}
	}
	return true
}
