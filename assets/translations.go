package assets

import "embed"

// Translations are the program's texts in other languages, a file for each by
// its code: translations/de.json holds the translation of each English text.
// translations/toolkit holds the words of the file dialogs and field menus in
// every language.
//
//go:embed translations/*.json translations/toolkit/*.json
var Translations embed.FS
