// Package app is the desktop program: its window and pages, the open job with
// undo and recovery, menus, files, preferences and translations. It lays out
// widgets and asks package timing and those below it for every number: an
// angle worked out here would be a mistake.
//
// The job is the truth, not the widgets: pages are functions of the session's
// job, and an edit makes the next job. All of it runs on Fyne's main goroutine.
package app
