package sheet

import (
	"fmt"
	"strings"
)

// Group is blocks that stay on one page together, as far as one page holds them.
type Group struct{ Blocks []Block }

func (g Group) dump(b *strings.Builder) {
	b.WriteString("together:\n")
	for _, block := range g.Blocks {
		block.dump(b)
	}
}

// endless is a page that holds anything, for measuring.
const endless = 1e6

// height is how much room a group takes.
func (s *setter) height(g Group) float64 {
	trial := &setter{paper: Paper{W: s.paper.W, H: endless}, doc: s.doc}
	trial.turn()
	for i, b := range g.Blocks {
		trial.set(b, g.next(i))
	}
	return trial.y - above
}

// next is the block that follows block i of the group.
func (g Group) next(i int) Block {
	if i+1 < len(g.Blocks) {
		return g.Blocks[i+1]
	}
	return nil
}

func (s *setter) group(g Group) {
	if h := s.height(g); h <= s.bottom()-above {
		s.need(h)
	}
	for i, b := range g.Blocks {
		s.set(b, g.next(i))
	}
}

func (h *htmlWriter) group(g Group) error {
	h.body.WriteString("<section class=\"together\">\n")
	for _, b := range g.Blocks {
		if err := h.block(b); err != nil {
			return err
		}
	}
	_, err := fmt.Fprintln(&h.body, "</section>")
	return err
}
