package app

import (
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/figure"
)

// notice is a line along the bottom of the window that says what has been done, or
// is being done, and keeps nobody from going on: it takes no key and covers no page.
type notice struct {
	u       *frame
	content *fyne.Container // over the whole window; it takes nothing from what is below
	ground  *canvas.Rectangle
	words   *widget.Label
	button  *widget.Button
	number  int             // of what it says
	closed  func()          // told when the button or Escape takes it away
	wait    *fyne.Animation // until it goes by itself
}

func newNotice(u *frame) *notice {
	n := &notice{u: u, ground: canvas.NewRectangle(nil), words: prose()}
	n.ground.StrokeWidth, n.ground.CornerRadius = 1, 6
	n.button = widget.NewButton("", n.close)
	card := container.NewStack(n.ground, container.NewBorder(nil, nil, nil, container.NewCenter(n.button), n.words))
	n.content = container.New(&noticeLayout{u}, card)
	n.content.Hide()
	return n
}

// noticeStays is how long a notice of what is done stays.
const noticeStays = 15 * time.Second

// done says what has been done, for a while.
func (n *notice) done(words string) {
	n.show(words, tr("Close"), nil)
	if n.u.inTurn { // animations of tests are over before they begin
		return
	}
	n.wait = fyne.NewAnimation(noticeStays, func(done float32) {
		if done >= 1 {
			n.hide()
		}
	})
	n.wait.Curve = fyne.AnimationLinear
	n.wait.Start()
}

// underway says what is being done until it is over; stopped is told when the user
// calls it off.
func (n *notice) underway(words string, stopped func()) (over func()) {
	n.show(words, tr("Cancel"), stopped)
	number := n.number
	return func() {
		if number == n.number {
			n.hide()
		}
	}
}

func (n *notice) show(words, button string, closed func()) {
	n.hide()
	n.number++
	n.closed = closed
	n.ground.FillColor, n.ground.StrokeColor = n.u.look.figureColor(figure.Surface), n.u.look.figureColor(figure.Ink)
	n.words.SetText(words)
	n.button.SetText(button)
	n.content.Show()
	n.content.Refresh()
}

// hide takes it away; whoever it told of is not told.
func (n *notice) hide() {
	if n.wait != nil {
		n.wait.Stop()
		n.wait = nil
	}
	n.closed = nil
	n.content.Hide()
}

// close takes it away as its button does.
func (n *notice) close() {
	closed := n.closed
	n.hide()
	if closed != nil {
		closed()
	}
}

// noticeLayout puts the notice along the bottom, in the middle.
type noticeLayout struct{ u *frame }

func (l *noticeLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (l *noticeLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	card, pad := objects[0], theme.Padding()
	w := min(700*l.u.look.scale, size.Width-4*pad)
	card.Resize(fyne.NewSize(w, card.MinSize().Height)) // words are wrapped to the width first
	h := card.MinSize().Height
	card.Resize(fyne.NewSize(w, h))
	card.Move(fyne.NewPos((size.Width-w)/2, size.Height-h-2*pad))
}
