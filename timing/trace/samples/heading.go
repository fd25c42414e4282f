package samples

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// heading takes names, units and the sample interval from the lines above the
// values.
func (f *format) heading(lines [][]byte) {
	var rows [][]string
	for _, line := range lines {
		text := strings.TrimSpace(strings.TrimLeft(string(line), "#%!'/ \t"))
		if s, ok := statedInterval(text); ok && f.IntervalS == 0 {
			f.IntervalS = s
		}
		text = strings.TrimLeft(text, "; ")
		if row := f.headingRow(text); len(row) == len(f.Names) {
			rows = append(rows, row)
		}
	}
	if n := len(rows); n > 0 && isUnits(rows[n-1]) {
		for i, u := range rows[n-1] {
			f.Units[i] = strings.Trim(u, "()[]{}/ ")
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

// headingRow cuts a line above the values into cells; nil where it holds nothing but rules
// and blanks.
func (f *format) headingRow(text string) (row []string) {
	if strings.Trim(text, "-+=:_|;,\t\" ") == "" {
		return nil
	}
	for _, c := range f.split([]byte(text)) {
		row = append(row, strings.Trim(string(c), " \t\r\"'"))
	}
	return row
}

// unitNames are units that stand alone in a row of units.
var unitNames = map[string]bool{"s": true, "ms": true, "us": true, "µs": true, "μs": true, "ns": true, "sec": true, "v": true, "mv": true, "kv": true,
	"a": true, "ma": true, "c": true, "%": true, "bar": true, "kpa": true, "mpa": true, "psi": true, "hz": true, "rpm": true, "1/min": true, "deg": true, "°": true, "volt": true,
	"volts": true, "amp": true, "amps": true, "ampere": true, "msec": true, "usec": true, "milliseconds": true, "microseconds": true, "nanoseconds": true, "seconds": true, "second": true, "": true, "-": true, "°c": true}

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

// cutUnit parts "Time (ms)", "time [ms]", "crank/V" and "time_us" into name and unit. A
// letter at the end of a name is a unit only behind a stroke or a low line, and A not there
// either: "Channel A" and "CH_A" are names.
func cutUnit(name string) (bare, unit string) {
	for _, b := range []string{"()", "[]", "{}"} {
		i, j := strings.IndexByte(name, b[0]), strings.LastIndexByte(name, b[1])
		if i >= 0 && j > i && strings.Trim(name[j+1:], " .:") == "" && unitNames[strings.ToLower(strings.TrimSpace(name[i+1:j]))] {
			return strings.TrimSpace(name[:i]), strings.TrimSpace(name[i+1 : j])
		}
	}
	i := strings.LastIndexAny(name, "/_ ")
	if i <= 0 || i+1 == len(name) {
		return name, ""
	}
	bare, unit = strings.TrimRight(name[:i], " ,"), name[i+1:]
	low := strings.ToLower(unit)
	_, duration := seconds(low)
	if before := strings.TrimSuffix(bare, " in"); duration && timeName(before) { // "Time in ms", "Zeit ms"
		return before, unit
	}
	if unitNames[low] && name[i] != ' ' && (low != "a" || name[i] == '/' && !strings.HasSuffix(bare, "/")) {
		return bare, unit
	}
	return name, ""
}

// seconds is how long a unit of time lasts.
func seconds(unit string) (float64, bool) {
	switch strings.ToLower(strings.TrimSpace(unit)) {
	case "s", "sec", "secs", "second", "seconds", "sek", "sekunden", "segundos", "secondes":
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
