package figure

import (
	"fmt"
	"strconv"
	"strings"
)

// String writes the drawing as text, one shape a line, the same from run to
// run: what the golden files hold and a difference can be read in.
func (d Drawing) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "drawing%s\ntitle %q\ndesc %q\n", nums(d.W, d.H), d.Title, d.Desc)
	for _, s := range d.Shapes {
		b.WriteString(s.String())
		b.WriteByte('\n')
	}
	for _, h := range d.Hits {
		fmt.Fprintf(&b, "hit %q%s %q\n", h.Name, nums(h.X, h.Y, h.W, h.H), h.Label)
	}
	return b.String()
}

// nums writes each number after a space with at most two decimals, and never a
// negative zero.
func nums(v ...float64) string {
	var b strings.Builder
	for _, x := range v {
		b.WriteByte(' ')
		b.WriteString(num(x, 2))
	}
	return b.String()
}

// num writes x with at most n decimals, n at least 1, without trailing zeros.
func num(x float64, n int) string {
	s := strings.TrimRight(strconv.FormatFloat(x, 'f', n, 64), "0")
	s = strings.TrimSuffix(s, ".")
	if s == "-0" {
		return "0"
	}
	return s
}
