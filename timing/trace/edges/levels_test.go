package edges

import (
	"fmt"
	"math"
	"testing"
)

// told lets a finder be told levels and returns the times of its falling and rising edges.
func told(rows ...[2]float64) string {
	var f Finder
	for _, r := range rows {
		f.Change(r[0], r[1])
	}
	f.Finish()
	falling, rising := Split(f.Edges(0))
	s := ""
	for _, list := range [][]Edge{falling, rising} {
		for _, e := range list {
			s += fmt.Sprintf("%g ", e.At)
		}
		s += "| "
	}
	return s
}

// An edge is where a level changes, at that very time; told again it is none, and in a band
// between two levels it is neither.
func TestLevels(t *testing.T) {
	for _, c := range []struct {
		name, want string
		rows       [][2]float64
	}{
		{"two levels", "2 4 | 1 3 | ", [][2]float64{{0, 0}, {1, 1}, {2, 0}, {3, 1}, {4, 0}}},
		{"begins high", "1 | 2 | ", [][2]float64{{0, 5}, {1, 0}, {2, 5}}},
		{"told again", "2 | 1 | ", [][2]float64{{0, 0}, {0.5, 0}, {1, 1}, {1.5, 1}, {2, 0}, {3, 0}}},
		{"never changes", "| | ", [][2]float64{{0, 3}, {1, 3}}},
		{"a step on the way up, seen before the top", "4 | 1 | ", [][2]float64{{0, 0}, {1, 2.5}, {2, 5}, {3, 2.5}, {4, 0}}},
		{"a ripple on the levels", "3 | 1 | ", [][2]float64{{0, 0}, {1, 5}, {2, 4.9}, {2.5, 5}, {3, 0.1}, {3.5, 0}}},
	} {
		if got := told(c.rows...); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

// A value written at each change goes up and down in turn, however many values it takes.
func TestLevelsOfAWave(t *testing.T) {
	var f Finder
	for i := range 1000 {
		f.Change(float64(i)/100, math.Round(50*math.Sin(float64(i)/100*2*math.Pi+0.1)))
	}
	f.Finish()
	list := f.Edges(0)
	if len(list) < 18 || len(list) > 21 {
		t.Fatalf("%d edges in ten waves", len(list))
	}
	for i := 1; i < len(list); i++ {
		if list[i].Rising() == list[i-1].Rising() {
			t.Errorf("edges %d and %d go the same way", i-1, i)
		}
	}
}
