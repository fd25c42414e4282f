package samples

import "bytes"

// parse reads a row into place n of the block and returns its time.
func (r *table) parse(line []byte, b *Block, n int) (t float64, ok bool) {
	delimiter, point := r.format.Delimiter, r.format.point()
	i, last := 0, len(r.column)-1
	for c, to := range r.column {
		var v float64
		if delimiter == ' ' {
			for i < len(line) && (line[i] == ' ' || line[i] == '\t') {
				i++
			}
		}
		var next, exp int
		var ok bool
		if c != r.format.Moments {
			v, next, exp, ok = plain(line, i, point)
		}
		if ok && next < len(line) && line[next] != delimiter && !(c == last && line[next] == '\r' && next == len(line)-1) {
			ok = false
		}
		if !ok {
			if i > len(line) {
				return 0, false
			}
			next = cellEnd(line, i, delimiter)
			if v, exp, ok = r.moment(c, line[i:next]); !ok {
				v, exp, ok = cell(line[i:next], point)
			}
			if !ok || c < last && next == len(line) {
				return 0, false
			}
		}
		if c == last && next < len(line) && len(bytes.TrimSpace(bytes.Trim(line[next:], string(delimiter)))) > 0 {
			return 0, false // more cells than the first rows have
		}
		if c < last && next >= len(line) {
			return 0, false
		}
		switch {
		case to >= 0:
			b.Values[to][n] = v
		case to == -1:
			if v != v {
				return 0, false // a row without its time is of no use
			}
			t = v * r.format.TimeUnit
			r.least = min(r.least, exp)
		}
		i = next + 1
	}
	return t, true
}

// cellEnd is where the cell that begins at i ends.
func cellEnd(line []byte, i int, delimiter byte) int {
	quoted := false
	for ; i < len(line); i++ {
		if line[i] == '"' {
			quoted = !quoted
		}
		if line[i] == delimiter && !quoted {
			break
		}
	}
	return i
}

// moment reads a cell of a column of times of day or of dates.
func (r *table) moment(column int, cell []byte) (v float64, exp int, ok bool) {
	switch column {
	case r.format.Moments:
		days, seconds, decimals, ok := moment(cell)
		return r.since(days, seconds), -decimals, ok
	case r.format.Dates:
		v, ok = when(cell)
	}
	return v, 0, ok
}
