package app

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/plate"
	"pinphase.org/pinphase/timing/quantity"
)

// results is the answer in numbers: the table, how it was reached, what must be
// known beside it, and the cautions.
type results struct {
	content *container.AppTabs
	table   *grid
	steps   *widget.Label
	notes   *widget.Label
}

func newResults() *results {
	r := &results{table: newGrid(6), steps: prose(), notes: prose()}
	cautions := prose()
	var list []string
	for _, c := range finding.Cautions {
		list = append(list, tr(c))
	}
	cautions.SetText("• " + strings.Join(list, "\n• "))
	r.content = container.NewAppTabs(
		container.NewTabItem(tr("Injection"), container.NewScroll(r.table.content)),
		container.NewTabItem(tr("How it was reached"), container.NewVScroll(r.steps)),
		container.NewTabItem(tr("To know"), container.NewVScroll(r.notes)),
		container.NewTabItem(tr("Cautions"), container.NewVScroll(cautions)),
	)
	return r
}

func prose() *widget.Label {
	l := widget.NewLabel("")
	l.Wrapping = fyne.TextWrapWord
	return l
}

func (r *results) load(u *desk, j job.Job) {
	s, err := finding.ShiftOf(j)
	if err != nil {
		r.table.set([][]string{{tr("Missing"), ""}})
		r.steps.SetText(u.errorWords(err))
		r.notes.SetText(u.errorWords(err))
		return
	}
	rows := [][]string{{tr("Cyl"), tr("asked for"), tr("happens"), tr("crank at"), tr("stroke"), tr("piston down")}}
	for _, in := range s.Injections {
		piston := "–"
		if in.PistonMM != nil {
			piston = amount(quantity.Length(*in.PistonMM, 1))
		}
		rows = append(rows, []string{
			number(float64(in.Cylinder), 0),
			plate.Say(say).BTDC(in.CommandedBTDCDeg),
			plate.Say(say).BTDC(in.ActualBTDCDeg),
			voice().Write(finding.Beside(in.ActualCrankDeg, 1)) + "°",
			tr(in.Stroke),
			piston,
		})
	}
	r.table.set(rows)
	r.steps.SetText(lines(s.Steps))
	r.notes.SetText(lines(s.Notes))
}

func lines(list []finding.Sentence) string {
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = say(s)
	}
	return strings.Join(words, "\n\n")
}

// grid is a small table of texts that changes its texts in place.
type grid struct {
	content *fyne.Container
	cells   [][]*widget.Label
	columns int
}

func newGrid(columns int) *grid {
	return &grid{content: container.New(&columnsLayout{n: columns}), columns: columns}
}

// set shows rows of texts, the first being the heading.
func (g *grid) set(rows [][]string) {
	for len(g.cells) < len(rows) {
		row := make([]*widget.Label, g.columns)
		for i := range row {
			row[i] = widget.NewLabel("")
			row[i].TextStyle.Bold = len(g.cells) == 0
			g.content.Add(row[i])
		}
		g.cells = append(g.cells, row)
	}
	for len(g.cells) > len(rows) {
		last := len(g.cells) - 1
		for _, c := range g.cells[last] {
			g.content.Remove(c)
		}
		g.cells = g.cells[:last]
	}
	for i, row := range rows {
		for k, c := range g.cells[i] {
			text := ""
			if k < len(row) {
				text = row[k]
			}
			if c.Text != text {
				c.SetText(text)
			}
		}
	}
	g.content.Layout.Layout(g.content.Objects, g.content.Size()) // the texts have refreshed themselves
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
