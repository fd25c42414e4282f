package app

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/assets/licences"
	"pinphase.org/pinphase/timing/part/photo/pixels"
)

// licencesView shows under which licences the program and all that is linked into
// it stand: the parts beside the text of the one chosen. The texts are long, so
// only the lines in sight are made.
type licencesView struct {
	content fyne.CanvasObject
	search  *kit.DialogEntry
	names   *nameList
	text    *lineList

	parts []licences.Part // those that have what is looked for
}

func newLicencesView(other func(*fyne.KeyEvent)) *licencesView {
	v := &licencesView{search: kit.NewDialogEntry(), text: newLineList(other)}
	v.names = newNameList(func() int { return len(v.parts) }, func(i int) string { return v.parts[i].Name }, other)
	v.names.OnSelected = v.choose
	v.search.SetPlaceHolder(tr("Search all licences for a name or a word"))
	v.search.OnChanged = v.find
	split := container.NewHSplit(v.names, v.text)
	split.Offset = 0.33
	v.content = container.NewBorder(v.search, nil, nil, nil, split)
	v.find("")
	return v
}

// ownLicence is that of the program itself.
func ownLicence() licences.Part {
	lines := []string{
		tr("The program is free software under the BSD 3-Clause licence: it may be used, copied and changed, and comes without any warranty."),
		"",
		tr("It contains the work of others. Each is in this list, with where its source is and its licence."),
	}
	if pixels.HEIC {
		lines = append(lines, "", tr("The pictures of phones are decoded by libheif and libde265, under the GNU Lesser General Public License, version 3, whose text is with them in this list."))
	}
	return licences.Part{Name: "Pinphase " + pinphase.About().Version, Lines: lines}
}

// find keeps the parts that have a word in their name or text, whatever its case,
// and shows the first.
func (v *licencesView) find(word string) {
	word = strings.ToLower(word)
	v.parts = slices.DeleteFunc(append([]licences.Part{ownLicence()}, licences.Parts()...), func(p licences.Part) bool {
		return !strings.Contains(strings.ToLower(p.Name), word) && lineWith(p.Lines, word) < 0
	})
	v.names.UnselectAll()
	v.names.Refresh()
	if len(v.parts) == 0 {
		v.text.set(nil)
		return
	}
	v.names.pick(0)
}

// choose shows a part's text, from the line with the word looked for.
func (v *licencesView) choose(i widget.ListItemID) {
	p := v.parts[i]
	v.text.set(p.Lines)
	if word := strings.ToLower(v.search.Text); word != "" {
		v.text.from(max(0, lineWith(p.Lines, word)))
	}
}

func lineWith(lines []string, word string) int {
	return slices.IndexFunc(lines, func(l string) bool { return strings.Contains(strings.ToLower(l), word) })
}

// nameList is a list of names of which one is chosen, by the arrow keys too.
type nameList struct {
	widget.List
	other func(*fyne.KeyEvent) // gets the keys there is no use for here
}

var _ fyne.Focusable = (*nameList)(nil)

func newNameList(count func() int, name func(int) string, other func(*fyne.KeyEvent)) *nameList {
	l := &nameList{other: other}
	l.Length = count
	l.CreateItem = func() fyne.CanvasObject {
		label := widget.NewLabel("")
		label.Truncation = fyne.TextTruncateEllipsis
		return label
	}
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) { o.(*widget.Label).SetText(name(i)) }
	l.ExtendBaseWidget(l)
	return l
}

// pick chooses a name; the arrow keys go on from it.
func (l *nameList) pick(i int) {
	l.Highlight(i)
	l.Select(i)
}

// TypedKey implements [fyne.Focusable].
func (l *nameList) TypedKey(e *fyne.KeyEvent) {
	if e.Name != fyne.KeyUp && e.Name != fyne.KeyDown {
		l.other(e)
		return
	}
	// The pointer highlights too, and chooses nothing.
	l.OnHighlighted = l.Select
	l.List.TypedKey(e)
	l.OnHighlighted = nil
}

// lineList is a long text as lines, broken where they are too long for its width,
// that is scrolled by keys as well as by the mouse.
type lineList struct {
	widget.List
	lines []string
	rows  []textRow
	width float32 // for which the rows were broken, at a size of text
	size  float32
	other func(*fyne.KeyEvent) // gets the keys there is no use for here
}

// textRow is a line, or a piece of one, as it is shown.
type textRow struct {
	text string
	line int // of the text
}

var _ fyne.Focusable = (*lineList)(nil)

func newLineList(other func(*fyne.KeyEvent)) *lineList {
	l := &lineList{other: other}
	l.Length = func() int { return len(l.rows) }
	l.CreateItem = func() fyne.CanvasObject {
		return container.New(layout.NewCustomPaddedLayout(0, 0, theme.InnerPadding(), theme.InnerPadding()), canvas.NewText("", nil))
	}
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		t := o.(*fyne.Container).Objects[0].(*canvas.Text)
		t.Text, t.Color, t.TextSize = l.rows[i].text, theme.Color(theme.ColorNameForeground), theme.CaptionTextSize()
		t.Refresh()
	}
	l.HideSeparators = true
	l.ExtendBaseWidget(l)
	return l
}

// set shows other lines, from the first on.
func (l *lineList) set(lines []string) {
	l.lines = lines
	l.broken()
	l.ScrollToTop()
}

// from scrolls to a line.
func (l *lineList) from(line int) {
	i := slices.IndexFunc(l.rows, func(r textRow) bool { return r.line == line })
	l.ScrollToBottom() // the row comes to the top, not just into sight
	l.ScrollTo(max(0, i))
}

// broken breaks the lines for the present width.
func (l *lineList) broken() {
	l.width, l.size = l.Size().Width, theme.CaptionTextSize()
	room := l.width - 4*theme.InnerPadding()
	l.rows = l.rows[:0]
	for i, text := range l.lines {
		for _, piece := range broken(text, func(s string) bool {
			return room <= 0 || fyne.MeasureText(s, l.size, fyne.TextStyle{}).Width <= room
		}) {
			l.rows = append(l.rows, textRow{piece, i})
		}
	}
	l.Refresh()
}

// broken breaks a line at its spaces so that each piece fits; a word that does
// not fit alone stays whole.
func broken(line string, fits func(string) bool) (list []string) {
	for !fits(line) {
		at, indent := -1, len(line)-len(strings.TrimLeft(line, " "))
		for i := indent; i < len(line); i++ {
			if line[i] == ' ' {
				if at >= 0 && !fits(line[:i]) {
					break
				}
				at = i
			}
		}
		if at < 0 {
			break
		}
		list = append(list, line[:at])
		line = strings.TrimLeft(line[at:], " ")
	}
	return append(list, line)
}

// Resize implements [fyne.Widget].
func (l *lineList) Resize(s fyne.Size) {
	l.List.Resize(s)
	if s.Width != l.width || theme.CaptionTextSize() != l.size {
		l.broken()
	}
}

// TypedKey implements [fyne.Focusable].
func (l *lineList) TypedKey(e *fyne.KeyEvent) {
	line, page := 2*theme.CaptionTextSize(), 0.9*l.Size().Height
	by := map[fyne.KeyName]float32{fyne.KeyDown: line, fyne.KeyUp: -line, fyne.KeyPageDown: page, fyne.KeyPageUp: -page, fyne.KeySpace: page}[e.Name]
	switch {
	case e.Name == fyne.KeyHome:
		l.ScrollToTop()
	case e.Name == fyne.KeyEnd:
		l.ScrollToBottom()
	case by == 0:
		l.other(e)
	default:
		l.ScrollToOffset(l.GetScrollOffset() + by)
	}
}
