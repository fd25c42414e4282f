package app

import "pinphase.org/pinphase/app/board"

// openBoard shows the open job to a class; a board that is shown already comes to the
// front.
func (u *ui) openBoard(second bool) {
	if u.board != nil {
		u.board.Window.RequestFocus()
		return
	}
	u.board = board.Open(u.Desk, second, u.setSpeed, func() {
		u.board = nil
		u.Window.RequestFocus()
	})
}
