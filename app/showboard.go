package app

import (
	"pinphase.org/pinphase/app/board"
	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson/plan"
)

// openBoard shows the open job to a class; a board that is shown already comes to the
// front.
func (u *ui) openBoard(second bool) { u.showOnBoard(nil, second) }

// ShowBoard implements [desk.Shell].
func (u *ui) ShowBoard(l *plan.Lesson) { u.showOnBoard(l, false) }

// showOnBoard shows a lesson, or the open job where it is nil.
func (u *ui) showOnBoard(l *plan.Lesson, second bool) {
	if u.board != nil {
		if l != nil || u.board.HasLesson() {
			u.board.Show(l)
		}
		u.board.Window.RequestFocus()
		return
	}
	u.board = board.Open(u.Desk, l, second, u.setSpeed, func() {
		u.board = nil
		u.Window.RequestFocus()
	})
}

// OpenJob implements [desk.Shell].
func (u *ui) OpenJob(doc *job.Document) {
	u.sure(func() { u.Begin(desk.NewSession("", doc, nil)) })
}
