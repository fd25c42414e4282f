// Package pinphase says what the programs are called: the name, the id and the
// version that stand in FyneApp.toml.
package pinphase

import (
	_ "embed"
	"sync"

	"github.com/pelletier/go-toml/v2"
)

//go:embed FyneApp.toml
var fyneApp []byte

// App is what a desktop knows of a program.
type App struct {
	Name    string
	ID      string // in reverse order of domains; names its folder of settings too
	Version string // of the release, the same for all of its programs
	Build   int    // counts what was built of a version

	Migrations map[string]bool // which of the toolkit's changes the window has followed
}

// About returns what FyneApp.toml says.
func About() App { return about() }

var about = sync.OnceValue(func() App {
	var file struct {
		Details    App
		Migrations map[string]bool
	}
	if err := toml.Unmarshal(fyneApp, &file); err != nil {
		panic("pinphase: FyneApp.toml: " + err.Error())
	}
	file.Details.Migrations = file.Migrations
	return file.Details
})
