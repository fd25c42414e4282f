package main

import (
	"testing"
)

func english() *page { return newShell(streams{}).page() }

// Columns are as wide as their widest cell, counted in characters; numbers stand
// at the right, and no line ends in spaces.
func TestTable(t *testing.T) {
	p := english()
	p.table([]column{{"n", true}, {"angle", true}, {"stroke", false}, {"piston", false}}, [][]string{
		{"1", "−5°", "intake", unknown}, {"10", "101.25°", "compression", ""},
	})
	want := " n    angle  stroke       piston\n" +
		" 1      −5°  intake       –\n" +
		"10  101.25°  compression\n"
	if got := p.out.String(); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

// Angles have two decimals, and more where two would put them onto a dead centre
// that they are not at.
func TestWordsForNumbers(t *testing.T) {
	p := english()
	for v, want := range map[float64]string{
		10: "10° BTDC", -18.003: "18° ATDC", 0: "TDC", -0.004: "0.004° ATDC", 0.004: "0.004° BTDC", -0.006: "0.01° ATDC", 4.14159: "4.14° BTDC",
		-179.9999: "179.9999° ATDC", -180: "180° ATDC", 180.004: "180.004° BTDC",
	} {
		if got := p.btdc(v); got != want {
			t.Errorf("%g before TDC: %s, want %s", v, got, want)
		}
	}
	for v, want := range map[float64]string{
		179.9999: "179.9999°", 180: "180°", 719.99999: "719.99999°", 90.004: "90°", 359.996: "359.996°", 359.994: "359.99°", 1e-9: "0.000000001°",
	} {
		if got := p.degrees(v); got != want {
			t.Errorf("%g: %s, want %s", v, got, want)
		}
	}
	for v, want := range map[float64]string{
		0: "under 0.1 %", 0.0004: "under 0.1 %", 0.0006: "0.1 %", 0.5: "50.0 %", 0.99: "99.0 %", 0.9994: "99.9 %", 0.9996: "over 99.9 %", 1: "over 99.9 %",
	} {
		if got := p.percent(v); got != want {
			t.Errorf("a probability of %g: %s, want %s", v, got, want)
		}
	}
}
