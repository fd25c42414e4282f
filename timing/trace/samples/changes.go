package samples

import (
	"math"
	"slices"
)

// leastChanges is how many rows must differ before a file counts as one of changes.
const leastChanges = 6

// changes tells whether rows are changes of level, as logic analysers write them, and not
// samples: no channel has more than two levels, the times are uneven, and nearly every row
// differs from the one before it. Some write each change twice, with the old levels and
// right after it with the new ones.
func (f format) changes(rows [][]float64) bool {
	if f.TimeColumn < 0 || len(rows) <= leastChanges {
		return false
	}
	for _, c := range f.Channels {
		if levels(rows, c) > 2 {
			return false
		}
	}
	took := steps(rows, f.TimeColumn)
	usual := median(took)
	differ, twice := 0, 0
	for i := 1; i < len(rows); i++ {
		switch {
		case f.differ(rows[i], rows[i-1]):
			differ++
		case i+1 < len(rows) && f.differ(rows[i+1], rows[i]) && took[i] < 0.2*took[i-1]:
			twice++
		}
	}
	return differ >= leastChanges && float64(differ+twice) >= 0.9*float64(len(rows)-2) && uneven(took, usual)
}

// uneven tells whether some steps are clearly shorter or longer than is usual: by more than
// a time that is written coarsely makes them.
func uneven(took []float64, usual float64) bool {
	finest := math.Inf(1)
	for i := 1; i < len(took); i++ {
		if d := math.Abs(took[i] - took[i-1]); d > 1e-9*usual {
			finest = min(finest, d)
		}
	}
	other := 0
	for _, d := range took {
		if away := math.Abs(d - usual); away > 0.2*usual && away > 1.5*finest {
			other++
		}
	}
	return other >= 2 && other*300 > len(took)
}

// differ tells whether two rows show different levels.
func (f format) differ(a, b []float64) bool {
	return slices.ContainsFunc(f.Channels, func(c int) bool { return a[c] != b[c] && (a[c] == a[c] || b[c] == b[c]) })
}

// levels counts how many values a column has, up to three.
func levels(rows [][]float64, c int) int {
	var seen [3]float64
	n := 0
	for _, row := range rows {
		if v := row[c]; v == v && !slices.Contains(seen[:n], v) {
			if seen[n] = v; n == 2 {
				return 3
			}
			n++
		}
	}
	return n
}

// steps are the ways from each row of a column to the next.
func steps(rows [][]float64, c int) []float64 {
	list := make([]float64, max(len(rows)-1, 0))
	for i := range list {
		list[i] = rows[i+1][c] - rows[i][c]
	}
	return list
}

// median is 0 of nothing.
func median(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	v = slices.Sorted(slices.Values(v))
	return v[len(v)/2]
}
