// Package app is the desktop program: its window, menu, files, dialogs, help and tour. It
// lays out widgets and asks package timing and those below it for every number: an angle
// worked out here would be a mistake.
//
// The pages are packages below page. A page knows the desk (package desk: the open job
// with undo, what is supposed of it, what the reader chose, where the crank stands) and
// no other page; what one wants of another goes through the desk. pageKinds lists them,
// and nothing else does: a page says its name, figures, files and keys itself, and is
// built when it is first shown.
//
// The job is the truth, not the widgets: pages are functions of the desk's job, and an
// edit makes the next job. All of it runs on Fyne's main goroutine.
package app
