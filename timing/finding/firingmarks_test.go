package finding

import (
	"fmt"
	"testing"

	"pinphase.org/pinphase/timing/internal/sample"
)

// Firing orders in a row; the angles are hand calculations.
func TestFiringMarks(t *testing.T) {
	for _, c := range []struct{ name, engine, want string }{
		{"six", "strokes = 4\nfiring_order = [1, 5, 3, 6, 2, 4]", "[{0 [1 6]} {120 [2 5]} {240 [3 4]}]"},
		{"five", "strokes = 4\nfiring_order = [1, 2, 4, 5, 3]", "[{0 [1]} {72 [5]} {144 [2]} {216 [3]} {288 [4]}]"},
		{"two-stroke three", "strokes = 2\nfiring_order = [1, 3, 2]", "[{0 [1]} {120 [3]} {240 [2]}]"},
		{"one", "strokes = 4\nfiring_order = [1]", "[{0 [1]}]"},
		{"uneven twin", "strokes = 4\nfiring_order = [1, 2]\nfiring_intervals_deg = [405, 315]", "[{0 [1]} {45 [2]}]"},
		{"seven", "strokes = 4\nfiring_order = [1, 2, 3, 4, 5, 6, 7]", "[{0 [1]} {51.428571429 [5]} {102.857142857 [2]} {154.285714286 [6]} {205.714285714 [3]} {257.142857143 [7]} {308.571428571 [4]}]"},
	} {
		got, err := FiringMarks(sample.Read(t, "[engine]\n"+c.engine+"\n"))
		if err != nil || fmt.Sprint(got) != c.want {
			t.Errorf("%s: %v, %v; want %s", c.name, got, err, c.want)
		}
	}
}
