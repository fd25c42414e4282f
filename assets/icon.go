package assets

import _ "embed"

// IconPNG is the program's icon, 512 pixels square on a transparent ground. It
// is rendered from icon.svg: rsvg-convert -w 512 icon.svg -o icon.png. Callers
// must not write to it.
//
//go:embed icon.png
var IconPNG []byte
