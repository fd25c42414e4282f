package desktest

import (
	"time"
	_ "unsafe" // for go:linkname
)

// The toolkit forgets what it keeps of a widget while it paints, and the driver for
// tests never does: each window of a test would stay in memory until the last one,
// gigabytes in all.
//
//go:linkname forgetRenderers fyne.io/fyne/v2/internal/cache.destroyExpiredRenderers
func forgetRenderers(now time.Time)

//go:linkname forgetCanvases fyne.io/fyne/v2/internal/cache.destroyExpiredCanvases
func forgetCanvases(now time.Time)

// ForgetWidgets lets go of all widgets, at the end of a test.
func ForgetWidgets() {
	late := time.Now().Add(24 * time.Hour)
	forgetRenderers(late)
	forgetCanvases(late)
}
