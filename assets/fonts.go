// Package assets holds the files the program carries with it. It imports
// nothing of the program.
package assets

import _ "embed"

// FontRegular and FontBold are the TrueType files of the one font family of
// window, figures and paper: DejaVu Sans Condensed. Its licence stands in
// fonts/LICENSE.txt. Callers must not write to them.
var (
	//go:embed fonts/DejaVuSansCondensed.ttf
	FontRegular []byte
	//go:embed fonts/DejaVuSansCondensed-Bold.ttf
	FontBold []byte
	// FontLicence is the licence both fonts are shipped under.
	//go:embed fonts/LICENSE.txt
	FontLicence string
)

// FontFamily is the name under which systems that have the font know it.
const FontFamily = "DejaVu Sans Condensed"
