package sheet

import (
	"fmt"
	"slices"
	"strings"
)

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

// letterRegions are where paper is letter-sized: Unicode CLDR 45, supplemental data,
// measurementData, paperSize type="US-Letter".
var letterRegions = []string{"BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"}

// PaperFor returns the paper that is usual where a language is read: language is the one
// that is written in, as "es", and region what the computer says where it stands, as
// "MX"; "" is not known. Nowhere that German is read is paper letter-sized.
func PaperFor(language, region string) Paper {
	if language != "de" && slices.Contains(letterRegions, strings.ToUpper(region)) {
		return Letter
	}
	return A4
}
