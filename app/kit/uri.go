package kit

import (
	"path/filepath"

	"fyne.io/fyne/v2"
)

// PathOf is the path of a file that the toolkit names, as this system writes paths: the
// toolkit has slashes everywhere.
func PathOf(uri fyne.URI) string { return filepath.FromSlash(uri.Path()) }
