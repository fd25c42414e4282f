package samples

import (
	"bytes"
	"time"
)

// day is how many seconds one has.
const day = 24 * 60 * 60

// moment reads a time of day, 12:34:56.789, or a date and time as ISO 8601 and RFC 3339
// write them, 2024-05-06T12:34:56.789+02:00, also with a blank between the two. days
// counts from a day long past, 0 where no date is given; seconds are those of the day.
// decimals is how many stand behind the decimal sign, a point or a comma. ok is false for
// anything else, and for a date alone.
func moment(b []byte) (days int, seconds float64, decimals int, ok bool) {
	b = bytes.Trim(b, " \t\r\"'")
	if d, rest, found := date(b); found {
		if len(rest) < 2 || rest[0] != 'T' && rest[0] != 't' && rest[0] != ' ' {
			return 0, 0, 0, false
		}
		days, b = d, bytes.TrimLeft(rest[1:], " ")
	}
	hours, b, ok := twoDigits(b, ':')
	if !ok {
		return 0, 0, 0, false
	}
	minutes, b, ok := twoDigits(b, ':')
	if !ok || minutes > 59 || len(b) == 0 {
		return 0, 0, 0, false
	}
	size := 0
	for size < len(b) && (numeral(b[size]) && b[size] != ' ' && b[size] != '-' && b[size] != '+' || b[size] == ',') {
		size++
	}
	point := byte('.')
	if bytes.IndexByte(b[:size], ',') >= 0 {
		point = ','
	}
	v, next, exp, ok := plain(b[:size], 0, point)
	if !ok || next != size || v >= 61 || v < 0 {
		return 0, 0, 0, false
	}
	shift, ok := zone(b[size:])
	return days, float64(hours*3600+minutes*60) + v - shift, -exp, ok
}

// date reads 2024-05-06 or 2024/05/06 at the beginning of a text, as days.
func date(b []byte) (days int, rest []byte, ok bool) {
	if len(b) < 10 || b[4] != b[7] || b[4] != '-' && b[4] != '/' {
		return 0, b, false
	}
	t, err := time.Parse(time.DateOnly, string(b[:4])+"-"+string(b[5:7])+"-"+string(b[8:10]))
	if err != nil {
		return 0, b, false
	}
	return int(t.Unix() / day), b[10:], true
}

// zone reads how far the clock is ahead of universal time, Z, +02:00 or nothing, in
// seconds.
func zone(b []byte) (ahead float64, ok bool) {
	b = bytes.TrimLeft(b, " ")
	if len(b) == 0 || len(b) == 1 && b[0]|0x20 == 'z' {
		return 0, true
	}
	t, err := time.Parse("-07:00", string(b))
	if err != nil {
		return 0, false
	}
	_, offset := t.Zone()
	return float64(offset), true
}

// twoDigits reads one or two digits and the sign behind them.
func twoDigits(b []byte, sign byte) (n int, rest []byte, ok bool) {
	for i, c := range b {
		switch {
		case c == sign && i > 0:
			return n, b[i+1:], true
		case c < '0' || c > '9' || i > 1:
			return 0, b, false
		}
		n = 10*n + int(c-'0')
	}
	return 0, b, false
}

// when is a moment or a date as seconds from a day long past.
func when(b []byte) (seconds float64, ok bool) {
	if days, s, _, ok := moment(b); ok {
		return float64(days)*day + s, true
	}
	days, rest, ok := date(bytes.Trim(b, " \t\r\"'"))
	return float64(days) * day, ok && len(rest) == 0
}

// findMoments finds the columns that hold times of day and dates by the first row.
func (f *format) findMoments(row []byte) {
	for i, c := range f.split(row) {
		if _, _, number := cell(c, f.point()); number {
			continue
		}
		if _, _, _, ok := moment(c); ok && f.Moments < 0 {
			f.Moments = i
		} else if !ok && f.Dates < 0 {
			f.Dates = i
		}
	}
}

// since is the time of a moment after the first one, in seconds. A time of day that falls
// by more than half a day has passed midnight.
func (r *table) since(days int, seconds float64) float64 {
	if r.row == 0 {
		r.day, r.second = days, seconds
	}
	t := float64(days-r.day)*day + seconds - r.second
	if days == 0 && t < r.last-day/2 {
		r.day--
		t += day
	}
	return t
}

// throughMidnight lets a column of times of day go on where a day ends.
func throughMidnight(rows [][]float64, c int) {
	days := 0.0
	for i := range rows {
		rows[i][c] += days
		if i > 0 && rows[i][c] < rows[i-1][c]-day/2 {
			days += day
			rows[i][c] += day
		}
	}
}
