// Package kit is what every part of the window is built with: the frame of a window
// with its look, tips, dialogs and notices, layouts, folding groups, buttons, lists and
// labels, the texts in the reader's language, and work on other goroutines. It knows
// no job.
package kit
