package figure

import (
	"strings"
	"testing"
)

func cyclePanel(in CycleInput) BoardPanel {
	return BoardPanel{Draw: func(b Box) Drawing { d, _ := Cycle(in, b); return d }}
}

func wheelPanel(heading string, in WheelInput) BoardPanel {
	return BoardPanel{Heading: heading, Draw: func(b Box) Drawing { d, _ := Wheel(in, b); return d }}
}

// boards are pages as a class sees them.
func boards() map[string]BoardInput {
	six := cycleInput(engine(4, []int{1, 5, 3, 6, 2, 4}), -25)
	six.Heading, six.AxisTitle = "", ""
	sixteen := cycleInput(engine(4, order16, intervals16...), 12)
	plain := func(in WheelInput) WheelInput {
		in.Heading, in.Caption = "", nil
		return in
	}
	return map[string]BoardInput{
		"board-cycle": {Sentence: "Every injection starts 16° after TDC: 25° later than the controller believes.", Panels: []BoardPanel{cyclePanel(six)}},
		"board-wheels": {Sentence: "What differs?", Others: []string{strings.Repeat("The wheel as drilled sits behind. ", 3)},
			Panels: []BoardPanel{wheelPanel("Correct, as drawn", plain(wheelInput(36, []int{36}, 0))), wheelPanel("Dowel as drilled", plain(wheelInput(36, []int{36}, -25)))}},
		"board-many": {Sentence: strings.Repeat("A sentence of many words that has to be wrapped over the page. ", 4), Panels: []BoardPanel{cyclePanel(sixteen)}},
	}
}

func TestGoldenBoards(t *testing.T) {
	t.Parallel()
	for name, in := range boards() {
		golden(t, name+".txt", Board(in, 16.0/9).String())
	}
	goldenPicture(t, "board-cycle.png", Board(boards()["board-cycle"], 16.0/9), BoardLight())
	goldenPicture(t, "board-wheels.png", Board(boards()["board-wheels"], 16.0/9), BoardDark())
}

// On any screen, nothing leaves the page, the sentence is at least 1/28 as high as
// the page and no line of it touches another or a figure, and no other type is
// smaller than 1/34.
func TestBoardCanBeReadFromTheBack(t *testing.T) {
	t.Parallel()
	for name, in := range boards() {
		for _, aspect := range []float64{16.0 / 9, 16.0 / 10, 1024.0 / 640, 4.0 / 3, 21.0 / 9} {
			d := Board(in, aspect)
			var sentence, bottom float64
			for _, s := range d.Shapes {
				b := s.Bounds()
				if b.X < -0.01 || b.Y < -0.01 || b.Right() > d.W+0.01 || b.Bottom() > d.H+0.01 {
					t.Errorf("%s at %.2f: %v leaves the page", name, aspect, s)
				}
				txt, ok := s.(Text)
				if !ok {
					continue
				}
				if strings.Contains(in.Sentence, txt.S) && txt.Bold && txt.X == boardMargin {
					sentence += width(txt.Size, true, txt.S)
					if txt.Size < d.H/28 || b.Y < bottom {
						t.Errorf("%s at %.2f: %v is %g of %g high or touches what is above it", name, aspect, txt, txt.Size, d.H)
					}
					bottom = b.Bottom()
				} else if txt.Size < d.H/34-0.01 || txt.Y < bottom {
					t.Errorf("%s at %.2f: %v is %g high, or in the sentence", name, aspect, txt, txt.Size)
				}
			}
			if sentence == 0 {
				t.Errorf("%s at %.2f has no sentence", name, aspect)
			}
		}
	}
}

// A page leaves the same room for its question and its answer, so that the
// figure stands still.
func TestBoardStandsStill(t *testing.T) {
	t.Parallel()
	short, long := "What differs?", strings.Repeat("A long answer of many words. ", 5)
	at := func(sentence string) Rect {
		var box Box
		Board(BoardInput{Sentence: sentence, Others: []string{short, long},
			Panels: []BoardPanel{{Draw: func(b Box) Drawing { box = b; return Drawing{} }}}}, 16.0/9)
		return Rect{W: box.W, H: box.H}
	}
	if at(short) != at(long) {
		t.Errorf("with the question the figure has %v, with the answer %v", at(short), at(long))
	}
}

func TestBoardStyles(t *testing.T) {
	t.Parallel()
	for _, st := range []struct{ board, screen Style }{{BoardLight(), Light()}, {BoardDark(), Dark()}} {
		for _, w := range []Weight{Hair, Fine, Medium, Heavy, Broad} {
			if got, screen := st.board.Width(w), st.screen.Width(w); got < 1.5*screen-1e-9 {
				t.Errorf("%s: a line of weight %v is %g wide, on a screen %g", st.board.Name, w, got, screen)
			}
		}
		faint := func(s Style) float64 { return contrast(s.Color(Faint), s.Color(Surface)) }
		if faint(st.board) < 7 || faint(st.board) < faint(st.screen) {
			t.Errorf("%s: second-rank text has a contrast of %.1f, on a screen %.1f", st.board.Name, faint(st.board), faint(st.screen))
		}
	}
}
