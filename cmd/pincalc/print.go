package main

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"pinphase/timing/finding"
)

// table prints rows in columns; the first row is the heading.
func table(w io.Writer, rows [][]string) error {
	tw := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, r := range rows {
		fmt.Fprintln(tw, strings.TrimRight(strings.Join(r, "\t"), "\t"))
	}
	return tw.Flush()
}

// degrees writes an angle for people; see [finding.Num].
func degrees(v float64) string { return finding.Num{Value: v, Decimals: 2}.String() + "°" }

// btdc writes an angle before top dead centre; negative is after.
func btdc(v float64) string {
	switch {
	case v < 0:
		return degrees(-v) + " ATDC"
	case v > 0:
		return degrees(v) + " BTDC"
	}
	return "TDC"
}

// maybe writes a number that may not be known.
func maybe(v *float64, unit string) string {
	if v == nil {
		return "–"
	}
	return finding.Num{Value: *v, Decimals: 2}.String() + unit
}

func yesNo(b *bool, yes, no string) string {
	switch {
	case b == nil:
		return "–"
	case *b:
		return yes
	}
	return no
}

func printSentences(w io.Writer, heading string, list []finding.Sentence) {
	if len(list) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s\n", heading)
	for _, s := range list {
		fmt.Fprintf(w, "  %s\n", s)
	}
}

func printCautions(w io.Writer) {
	fmt.Fprintln(w, "\nBefore you measure or turn the engine")
	for _, c := range finding.Cautions {
		fmt.Fprintf(w, "  %s\n", c)
	}
}
