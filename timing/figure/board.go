package figure

// BoardHeight is the height of a board's page in points. A board is always laid
// out on a page of this height and then drawn as large as the screen is, so that
// a class sees the same page on every projector: type, lines and patterns grow
// with it.
const BoardHeight = 336.0

// Sizes on a board's page, in points.
const (
	boardSentence = BoardHeight / 20 // type of the sentence: its capitals alone are 1/28 of the height
	boardLeast    = BoardHeight / 28 // to which it shrinks before anything is lost
	boardHeading  = BoardHeight / 25 // type of a panel's heading
	boardMargin   = BoardHeight / 28
	boardLines    = 3 // of the sentence, before it shrinks
)

// boardType makes the smallest type of a figure on a board 1/28 of its height, or
// 1/34 where two that are alike stand beside one another.
const (
	boardType      = BoardHeight / 28 / smallest
	boardTypeOfTwo = BoardHeight / 34 / smallest
)

// BoardInput is one page for a class: a sentence and, below it, one figure or
// two beside one another.
type BoardInput struct {
	Sentence string
	Others   []string // sentences that may stand here instead: room is kept for the longest
	Panels   []BoardPanel
	Desc     string // for those who cannot see it
}

// BoardPanel is one figure of a board.
type BoardPanel struct {
	Heading string  // over it; may be empty
	Share   float64 // of the page's width, where the panels are not alike; 0: they are
	Draw    func(Box) Drawing
}

// Board draws a page whose width is aspect times its height.
func Board(in BoardInput, aspect float64) Drawing {
	w := BoardHeight * min(max(aspect, 0.5), 4)
	d := Drawing{W: w, H: BoardHeight, Title: in.Sentence, Desc: in.Desc}
	size, high := boardRoom(append([]string{in.Sentence}, in.Others...), w-2*boardMargin)
	y := boardMargin
	for _, line := range wrap(in.Sentence, size, true, w-2*boardMargin) {
		d.add(Text{X: boardMargin, Y: y + 0.5*size*lineHeight, S: line, Size: size, Bold: true, V: Middle, Role: Ink})
		y += size * lineHeight
	}
	y = boardMargin + high
	room := Rect{0, y, w, BoardHeight - y}
	scale, x := boardType, room.X
	if len(in.Panels) > 1 && in.Panels[0].Share == 0 {
		scale = boardTypeOfTwo
	}
	for i, p := range in.Panels {
		at := room
		at.X, at.W = x, w/float64(len(in.Panels))
		if p.Share > 0 {
			at.W = w * p.Share
		}
		x += at.W
		if i > 0 && p.Share == 0 {
			d.add(Path{Segs: Line(at.X, at.Y+boardMargin, at.X, at.Bottom()-boardMargin), Stroke: Grid, Weight: Medium})
		}
		if p.Heading != "" {
			d.add(Text{X: at.X + at.W/2, Y: at.Y + 0.75*boardHeading, S: cut(p.Heading, boardHeading, true, at.W-boardMargin),
				Size: boardHeading, Bold: true, H: Centre, V: Middle, Role: Ink})
			at.Y, at.H = at.Y+1.4*boardHeading, at.H-1.4*boardHeading
		}
		d.Place(p.Draw(Box{W: at.W, H: at.H, Type: scale}), at.X, at.Y)
	}
	return d
}

// boardRoom picks the size at which the longest of the sentences takes no more
// than a few lines, and says how high those are.
func boardRoom(sentences []string, room float64) (size, high float64) {
	lines := func() int {
		n := 1
		for _, s := range sentences {
			n = max(n, len(wrap(s, size, true, room)))
		}
		return n
	}
	size = boardSentence
	for size > boardLeast && lines() > boardLines {
		size = max(boardLeast, size*0.96)
	}
	return size, size * lineHeight * float64(lines())
}
