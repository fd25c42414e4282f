// Package licences holds what must travel with the program: the licences of all
// that is linked into it and came from others, as the file THIRD-PARTY.txt. That
// file is gathered from the modules themselves by this package's test
// (make licences), which fails where the two differ.
package licences

import (
	_ "embed"
	"strings"
)

// ThirdParty is the whole file, as it lies in every archive and package.
//
//go:embed THIRD-PARTY.txt
var ThirdParty string

// Part is one entry of the file.
type Part struct {
	Name  string   // as the file's list has it: "golang.org/x/image v0.30.0"
	Lines []string // where it is linked in, where its source is, its licences
}

// rule stands above every part's name. No licence has a line like it.
const rule = "##############################################################################"

// Parts returns the entries in the order of the file.
func Parts() []Part {
	var list []Part
	for _, text := range strings.Split(ThirdParty, rule+"\n")[1:] {
		name, rest, _ := strings.Cut(text, "\n")
		list = append(list, Part{name, strings.Split(strings.TrimRight(rest, "\n"), "\n")})
	}
	return list
}
