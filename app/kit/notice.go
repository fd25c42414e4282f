package kit

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
	u       *Frame
	Content *fyne.Container // over the whole window; it takes nothing from what is below
	ground  *canvas.Rectangle
	Words   *widget.Label
	Button  *widget.Button
	number  int             // of what it says
	closed  func()          // told when the button or Escape takes it away
	wait    *fyne.Animation // until it goes by itself
}

func NewNotice(u *Frame) *notice {
	n := &notice{u: u, ground: canvas.NewRectangle(nil), Words: Prose()}
	n.ground.StrokeWidth, n.ground.CornerRadius = 1, 6
	n.Button = widget.NewButton("", n.Close)
	card := container.NewStack(n.ground, container.NewBorder(nil, nil, nil, container.NewCenter(n.Button), n.Words))
	n.Content = container.New(&noticeLayout{u}, card)
	n.Content.Hide()
	return n
}

// noticeStays is how long a notice of what is done stays.
const noticeStays = 15 * time.Second

// Done says what has been done, for a while.
func (n *notice) Done(words string) {
	n.show(words, Tr("Close"), nil)
	if n.u.InTurn { // animations of tests are over before they begin
		return
	}
	n.wait = fyne.NewAnimation(noticeStays, func(done float32) {
		if done >= 1 {
			n.Hide()
		}
	})
	n.wait.Curve = fyne.AnimationLinear
	n.wait.Start()
}

// Underway says what is being done until it is over; stopped is told when the user
// calls it off.
func (n *notice) Underway(words string, stopped func()) (over func()) {
	n.show(words, Tr("Cancel"), stopped)
	number := n.number
	return func() {
		if number == n.number {
			n.Hide()
		}
	}
}

func (n *notice) show(words, button string, closed func()) {
	n.Hide()
	n.number++
	n.closed = closed
	n.ground.FillColor, n.ground.StrokeColor = n.u.Look.FigureColor(figure.Surface), n.u.Look.FigureColor(figure.Ink)
	n.Words.SetText(words)
	n.Button.SetText(button)
	n.Content.Show()
	n.Content.Refresh()
}

// Hide takes it away; whoever it told of is not told.
func (n *notice) Hide() {
	if n.wait != nil {
		n.wait.Stop()
		n.wait = nil
	}
	n.closed = nil
	n.Content.Hide()
}

// Close takes it away as its button does.
func (n *notice) Close() {
	closed := n.closed
	n.Hide()
	if closed != nil {
		closed()
	}
}

// noticeLayout puts the notice along the bottom, in the middle.
type noticeLayout struct{ u *Frame }

func (l *noticeLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.Size{} }

func (l *noticeLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	card, pad := objects[0], theme.Padding()
	w := min(700*l.u.Look.Scale, size.Width-4*pad)
	card.Resize(fyne.NewSize(w, card.MinSize().Height)) // words are wrapped to the width first
	h := card.MinSize().Height
	card.Resize(fyne.NewSize(w, h))
	card.Move(fyne.NewPos((size.Width-w)/2, size.Height-h-2*pad))
}
