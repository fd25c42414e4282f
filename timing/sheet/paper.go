package sheet

import "fmt"

// Paper is a size of paper, upright.
type Paper struct {
	Name string  // as on the command line: "a4"
	W, H float64 // points
}

// mm is a millimetre in points.
const mm = 72 / 25.4

// The papers a sheet can be printed on: ISO 216, and the letter size of ANSI
// Y14.1, 8.5 by 11 inches.
var (
	A4     = Paper{"a4", 210 * mm, 297 * mm}
	Letter = Paper{"letter", 612, 792}
)

// Papers are all of them.
var Papers = []Paper{A4, Letter}

// PaperNamed returns the paper of a name; "" is A4.
func PaperNamed(name string) (Paper, error) {
	for _, p := range Papers {
		if p.Name == name || name == "" {
			return p, nil
		}
	}
	return Paper{}, fmt.Errorf("there is no paper %q; there are a4 and letter", name)
}
