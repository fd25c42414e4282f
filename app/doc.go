// Package app is the desktop program: its window and pages, the open job with
// undo and recovery, menus, files, preferences and translations. It lays out
// widgets and asks package timing and those below it for every number: an
// angle worked out here would be a mistake.
//
// The job is the truth, not the widgets: pages are functions of the session's
// job, and an edit makes the next job. All of it runs on Fyne's main goroutine.
//
// # Choices
//
// Groups of a form are our own: the toolkit's accordion keeps the
// height it once needed, so that fields that came later could not be reached,
// and stretches its groups over a tall window. A horizontal scroll inside a
// vertical one takes the mouse wheel from it.
//
// What has the keyboard is scrolled into sight. The toolkit
// tells nobody that the focus has moved, so the window looks once a frame.
//
// The job in the window may be wrong while it is typed. Figures show the newest
// sound state, faults stand beside their fields, and saving waits until nothing
// is wrong, so that what is saved can be opened again. The recovery snapshot
// keeps the wrong state too.
//
// Whether a window can open is found out before the toolkit tries
// (cmd/pinphase/display.go), by the library that it opens windows with: the
// toolkit goes on without one and breaks, or waits for ever. Where the system
// names no home folder, settings go into a temporary one: the
// toolkit would write where the program was started.
//
// A file is opened away from the window's goroutine: a disk that is asleep or a network that is
// gone would stop the window. After 0.3 s a line along the bottom
// says what is on its way; Escape or its button calls it off.
// What comes after that is dropped. A pipe, device, socket or folder is refused
// as "not a file".
//
// The clipboard takes text only, so a figure is copied as SVG.
//
// Nothing is written on the main goroutine: the job counts as
// saved as it was when writing began, saving again meanwhile waits its turn, and
// the program ends when all is written, or without waiting when told so.
// Snapshots and settings are written by latest, which keeps the newest only. All
// of it goes through ui.files; TestEveryWriterWhenTheDiskFails has a row for
// each writer and lets every operation of it fail in turn.
//
// A snapshot that was taken back is removed only when the job is kept anew: a
// disk may be full. What cannot be kept is said in a line below the answer
// until it can be again, and is tried again every ten seconds.
//
// Settings are in a file of our own, choices.json: the toolkit empties its
// preferences before it writes them, does so on the main goroutine, and writes
// over what it could not read. Only what a window itself chose is put into the
// file, so two windows do not undo each other's. Its old preferences.json is
// read once, and put out of its way where reading it would stop the program
// .
//
// Dialogs are made by ui.newBox: Escape closes them wherever the keyboard is,
// Enter presses the button that has it and else the marked one, and neither the
// page's keys nor the menu's shortcuts act below them. The toolkit's dialogs do
// none of that. A new dialog needs a row in dialogsOf,
// which finds it missing.
//
// Saving as has a dialog of our own, because the toolkit's empties an existing
// file before anything is written.
//
// Another language or unit in the running window builds all widgets anew
// (ui.rebuild) and keeps the session, the page and the cursor.
//
// The toolkit lays all text out with one shaper whose buffer keeps every font it
// ever saw, and reads its fonts anew at each change of the settings; shaper.go
// empties it. The toolkit also holds on to parts of closed windows, so a
// figure's pixels go with its renderer, a minute after it was last seen.
// scripts/growth does one thing after the other in the real window and holds
// memory to what it was; growing in cmd/pinphase/monkey_test.go does so for what
// is done at random.
package app
