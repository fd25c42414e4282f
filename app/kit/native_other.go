//go:build ci || android || ios || !(linux || freebsd || openbsd || netbsd || windows || darwin)

package kit

import "fyne.io/fyne/v2"

// ClickWhereItIs is for the toolkit's driver of windows on a desktop.
func ClickWhereItIs(fyne.Window) {}

// NameWindows is for desktops that want a name.
func NameWindows(string) {}
