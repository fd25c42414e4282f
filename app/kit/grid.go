package kit

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Grid is a small table of texts that changes its texts in place.
type Grid struct {
	Content *fyne.Container
	Cells   [][]*widget.Label
	columns int
}

func NewGrid(columns int) *Grid {
	return &Grid{Content: container.New(&columnsLayout{n: columns}), columns: columns}
}

// Set shows rows of texts, the first being the heading.
func (g *Grid) Set(rows [][]string) {
	for len(g.Cells) < len(rows) {
		row := make([]*widget.Label, g.columns)
		for i := range row {
			row[i] = widget.NewLabel("")
			row[i].TextStyle.Bold = len(g.Cells) == 0
			g.Content.Add(row[i])
		}
		g.Cells = append(g.Cells, row)
	}
	for len(g.Cells) > len(rows) {
		last := len(g.Cells) - 1
		for _, c := range g.Cells[last] {
			g.Content.Remove(c)
		}
		g.Cells = g.Cells[:last]
	}
	for i, row := range rows {
		for k, c := range g.Cells[i] {
			text := ""
			if k < len(row) {
				text = row[k]
			}
			if c.Text != text {
				c.SetText(text)
			}
		}
	}
	g.Content.Layout.Layout(g.Content.Objects, g.Content.Size()) // the texts have refreshed themselves
}

// between is how much of two labels' padding may lie over one another sideways.
const between = overlap / 4

// columnsLayout puts objects in rows of n, each column as wide as its widest.
type columnsLayout struct{ n int }

func (l *columnsLayout) measure(objects []fyne.CanvasObject) (widths []float32, row float32) {
	widths = make([]float32, l.n)
	for i, o := range objects {
		m := o.MinSize()
		widths[i%l.n] = max(widths[i%l.n], m.Width)
		row = max(row, m.Height-overlap)
	}
	return widths, row
}

func (l *columnsLayout) MinSize(objects []fyne.CanvasObject) fyne.Size {
	widths, row := l.measure(objects)
	s := fyne.NewSize(0, row*float32((len(objects)+l.n-1)/l.n)+overlap)
	for _, w := range widths {
		s.Width += w - between
	}
	return s.AddWidthHeight(between, 0)
}

func (l *columnsLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	widths, row := l.measure(objects)
	spare := max(0, size.Width-l.MinSize(objects).Width) / float32(l.n)
	x := float32(0)
	for i, o := range objects {
		c := i % l.n
		if c == 0 {
			x = 0
		}
		o.Move(fyne.NewPos(x, row*float32(i/l.n)))
		o.Resize(fyne.NewSize(widths[c]+spare, row+overlap))
		x += widths[c] + spare - between
	}
}
