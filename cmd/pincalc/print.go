package main

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"pinphase.org/pinphase/timing/finding"
)

// column is the heading of a column of a table. Numbers stand at the right.
type column struct {
	name   string
	number bool
}

// table prints rows under their headings, in columns two spaces apart.
func table(out *bytes.Buffer, columns []column, rows [][]string) {
	heading := make([]string, len(columns))
	for i, c := range columns {
		heading[i] = c.name
	}
	rows = append([][]string{heading}, rows...)
	widths := make([]int, len(columns))
	for _, r := range rows {
		for i, cell := range r {
			widths[i] = max(widths[i], utf8.RuneCountInString(cell))
		}
	}
	for _, r := range rows {
		var line strings.Builder
		for i, cell := range r {
			room := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
			if columns[i].number {
				cell = room + cell
			} else {
				cell += room
			}
			line.WriteString(cell + "  ")
		}
		out.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
}

// unknown stands where something cannot be said for want of a key in the job.
const unknown = "–"

// Lines under a table that say what is missing for what it cannot tell.
const (
	needsLinkage = "Piston heights need engine.bore_mm, engine.stroke_mm and engine.rod_mm."
	needsValves  = "Valves need their opening and closing in [engine.valves]."
)

// printNeeds prints the lines that apply.
func printNeeds(out *bytes.Buffer, needs ...string) {
	before := "\n"
	for _, n := range needs {
		if n != "" {
			fmt.Fprintf(out, "%s%s %s\n", before, unknown, n)
			before = ""
		}
	}
}

// degrees writes an angle for people; see [finding.Num].
func degrees(v float64) string { return finding.Num{Value: v, Decimals: 2}.String() + "°" }

// btdc writes an angle before top dead centre; negative is after.
func btdc(v float64) string {
	switch {
	case degrees(v) == degrees(0):
		return "TDC"
	case v < 0:
		return degrees(-v) + " ATDC"
	}
	return degrees(v) + " BTDC"
}

// maybeDegrees writes an angle that may not be known.
func maybeDegrees(v *float64) string {
	if v == nil {
		return unknown
	}
	return degrees(*v)
}

// height writes a piston's height in hundredths of a millimetre.
func height(mm *float64) string {
	if mm == nil {
		return unknown
	}
	return fmt.Sprintf("%.2f mm", *mm)
}

// percent writes a probability. None is ever quite 0 or 1.
func percent(p float64) string {
	switch {
	case p < 0.0005:
		return "under 0.1 %"
	case p >= 0.9995:
		return "over 99.9 %"
	}
	return fmt.Sprintf("%.1f %%", 100*p)
}

func openShut(b *bool) string {
	switch {
	case b == nil:
		return unknown
	case *b:
		return "open"
	}
	return "shut"
}

func printSentences(out *bytes.Buffer, heading string, list []finding.Sentence) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(out, "\n%s\n", heading)
	for _, s := range list {
		fmt.Fprintf(out, "  %s\n", s)
	}
}

// texts are the sentences as JSON has them, never null.
func texts(list []finding.Sentence) []string {
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = s.String()
	}
	return words
}

func printCautions(out *bytes.Buffer) {
	fmt.Fprintln(out, "\nBefore you measure or turn the engine")
	for _, c := range finding.Cautions {
		fmt.Fprintf(out, "  %s\n", c)
	}
}
