package assets

import "embed"

// Course is the course: a folder for each step, in their order by name, with what is to
// be done in step.toml and its words in a file for each language; and the engines that
// the steps are about, as job files. See [pinphase.org/pinphase/timing/lesson/course].
//
//go:embed course
var Course embed.FS
