// Package desk is what every page of the window works on: the open job with undo, what
// is kept against a crash, the reader's choices, where the crank stands, and the files
// that are read and written. It knows no page; [Shell] is what shows it.
package desk
