package assets

import "embed"

// Words explains the words of the trade, a file for each language. See
// [pinphase.org/pinphase/timing/lesson/glossary].
//
//go:embed words/*.toml
var Words embed.FS
