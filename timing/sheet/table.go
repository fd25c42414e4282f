package sheet

import (
	"strings"

	"gonum.org/v1/gonum/floats"

	"pinphase.org/pinphase/timing/figure"
)

const (
	between = 11.0 // columns
	padding = 2.2  // above and below a row's text
	writing = 10.0 // what a row to be written in is higher
)

// columnWidths shares a width among columns: each gets what its texts ask for,
// and where that is too much, at least what its longest word asks for. least and
// most are the two for each column; spare goes to all alike.
func columnWidths(least, most []float64, room float64) []float64 {
	room -= between * float64(len(most)-1)
	widths := make([]float64, len(most))
	low, high := floats.Sum(least), floats.Sum(most)
	for i := range widths {
		switch {
		case high <= room:
			widths[i] = most[i] + (room-high)/float64(len(most))
		case low <= room:
			widths[i] = least[i]
			if high > low {
				widths[i] += (room - low) * (most[i] - least[i]) / (high - low)
			}
		default: // words will have to be broken
			widths[i] = room * least[i] / low
		}
	}
	return widths
}

// measure returns what a text asks for: its longest word, and all of it on one
// line.
func measure(words string, f face) (least, most float64) {
	for _, par := range strings.Split(clean(words), "\n") {
		most = max(most, width(strings.Join(strings.Fields(par), " "), f.size, f.bold))
		for _, w := range pieces(par) {
			least = max(least, width(w, f.size, f.bold))
		}
	}
	return least, most
}

// blankWidth is what a column to write in asks for.
const blankWidth = 70.0

func (t Table) widths(room float64) []float64 {
	least, most := make([]float64, len(t.Columns)), make([]float64, len(t.Columns))
	for i, c := range t.Columns {
		least[i], most[i] = measure(c.Head, boldFace)
		if c.Blank {
			least[i], most[i] = max(least[i], blankWidth), max(most[i], 2*blankWidth)
		}
		for _, r := range t.Rows {
			if i < len(r) {
				lo, hi := measure(r[i], cellFace)
				least[i], most[i] = max(least[i], lo), max(most[i], hi)
			}
		}
	}
	return columnWidths(least, most, room)
}

// tableSetter sets the rows of one table.
type tableSetter struct {
	*setter
	t      Table
	widths []float64
}

// heads are the headings of the columns.
func (ts tableSetter) heads() [][]string {
	heads := make([]string, len(ts.t.Columns))
	for i, c := range ts.t.Columns {
		heads[i] = c.Head
	}
	return ts.cells(heads, boldFace)
}

// tableStart is the height of a table's headings and its first two rows, which stay
// together.
func (s *setter) tableStart(t Table) float64 {
	ts := tableSetter{s, t, t.widths(s.width())}
	h := ts.height(ts.heads(), false)
	for _, r := range t.Rows[:min(2, len(t.Rows))] {
		h += ts.height(ts.cells(r, cellFace), t.Written)
	}
	return h
}

func (s *setter) table(t Table) {
	if len(t.Columns) == 0 {
		return
	}
	ts := tableSetter{s, t, t.widths(s.width())}
	head := ts.heads()
	s.need(min(s.tableStart(t), s.bottom()-above))
	ts.row(head, boldFace, false)
	s.rule(s.y, figure.Fine)
	for i, r := range t.Rows {
		cells := ts.cells(r, cellFace)
		for len(cells) > 0 {
			h := ts.height(cells, t.Written)
			if s.y > above && s.y+h > s.bottom() {
				s.turn()
				ts.row(head, boldFace, false)
				s.rule(s.y, figure.Fine)
			}
			now, rest := cells, [][]string(nil)
			if most := s.bottom() - s.y; h > most { // higher than a page
				now, rest = split(cells, max(1, int((most-2*padding)/cellFace.lead)))
			}
			ts.row(now, cellFace, t.Written)
			cells = rest
		}
		if i < len(t.Rows)-1 || t.Written {
			s.rule(s.y, figure.Hair)
		}
	}
	s.y += gap + 2
}

// split divides a row's cells after so many lines.
func split(cells [][]string, n int) (now, rest [][]string) {
	for _, c := range cells {
		k := min(n, len(c))
		now, rest = append(now, c[:k]), append(rest, c[k:])
	}
	return now, rest
}

// cells are a row's texts as lines.
func (ts tableSetter) cells(row []string, f face) [][]string {
	cells := make([][]string, len(ts.t.Columns))
	for i := range cells {
		if i < len(row) {
			cells[i] = wrapped(row[i], f.size, f.bold, ts.widths[i]+0.01)
		}
	}
	return cells
}

func (ts tableSetter) height(cells [][]string, written bool) float64 {
	most := 0
	for _, c := range cells {
		most = max(most, len(c))
	}
	h := float64(most)*cellFace.lead + 2*padding
	if written {
		h += writing
	}
	return h
}

func (ts tableSetter) row(cells [][]string, f face, written bool) {
	x := side
	for i, c := range cells {
		for k, l := range c {
			y := ts.y + padding + float64(k)*f.lead
			if ts.t.Columns[i].Number {
				ts.text(x+ts.widths[i], y, f, l, figure.Right)
			} else {
				ts.text(x, y, f, l, figure.Left)
			}
		}
		x += ts.widths[i] + between
	}
	ts.y += ts.height(cells, written)
}

// pairs are set in two columns, each name beside its value, as high as each
// other.
func (s *setter) pairs(p Pairs) {
	const middle = 20.0
	w := (s.width() - middle) / 2
	half := (len(p.Items) + 1) / 2
	var widest float64
	for _, i := range p.Items {
		_, most := measure(i[0], cellFace)
		widest = max(widest, most)
	}
	names := min(widest, 0.5*w)
	cell := func(i int) (name, value []string) {
		if i >= len(p.Items) {
			return nil, nil
		}
		return wrapped(p.Items[i][0], cellFace.size, false, names+0.01), wrapped(p.Items[i][1], boldFace.size, true, w-names-between)
	}
	for i := range half {
		var columns [2][2][]string
		most := 1
		for c, at := range []int{i, i + half} {
			if c == 1 && at >= len(p.Items) {
				continue
			}
			columns[c][0], columns[c][1] = cell(at)
			most = max(most, len(columns[c][0]), len(columns[c][1]))
		}
		for from := 0; from < most; { // a value may be longer than a page
			if from == 0 {
				s.need(min(float64(most), 3) * cellFace.lead)
			} else {
				s.turn()
			}
			n := min(most-from, max(1, int((s.bottom()-s.y)/cellFace.lead)))
			for c, column := range columns {
				x := side + float64(c)*(w+middle)
				for k := from; k < from+n; k++ {
					y := s.y + float64(k-from)*cellFace.lead
					if k < len(column[0]) {
						s.text(x, y, cellFace, column[0][k], figure.Left)
					}
					if k < len(column[1]) {
						s.text(x+names+between, y, boldFace, column[1][k], figure.Left)
					}
				}
			}
			s.y += float64(n) * cellFace.lead
			from += n
		}
		s.y += 1.5
	}
	s.y += gap
}
