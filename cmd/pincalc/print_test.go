package main

import (
	"bytes"
	"testing"
)

// Columns are as wide as their widest cell, counted in characters; numbers stand
// at the right, and no line ends in spaces.
func TestTable(t *testing.T) {
	var out bytes.Buffer
	table(&out, []column{{"n", true}, {"angle", true}, {"stroke", false}, {"piston", false}}, [][]string{
		{"1", "−5°", "intake", unknown}, {"10", "101.25°", "compression", ""},
	})
	want := " n    angle  stroke       piston\n" +
		" 1      −5°  intake       –\n" +
		"10  101.25°  compression\n"
	if got := out.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestWordsForNumbers(t *testing.T) {
	for v, want := range map[float64]string{
		10: "10° BTDC", -18.003: "18° ATDC", 0: "TDC", -0.004: "TDC", 0.004: "TDC", -0.006: "0.01° ATDC", 4.14159: "4.14° BTDC",
	} {
		if got := btdc(v); got != want {
			t.Errorf("%g before TDC: %s, want %s", v, got, want)
		}
	}
	for p, want := range map[float64]string{
		0: "under 0.1 %", 0.0004: "under 0.1 %", 0.0006: "0.1 %", 0.5: "50.0 %", 0.99: "99.0 %", 0.9994: "99.9 %", 0.9996: "over 99.9 %", 1: "over 99.9 %",
	} {
		if got := percent(p); got != want {
			t.Errorf("a probability of %g: %s, want %s", p, got, want)
		}
	}
}
