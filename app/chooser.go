package app

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// chooser is the dialog in which a file or a folder is chosen. The toolkit's own asks
// the disk on the main goroutine, where a network that is gone stops the window, and
// does not listen to Escape and Enter.
type chooser struct {
	u       *ui
	box     *box
	endings []string // of the files to choose from; nil: a folder is wanted
	then    func(path string)

	folder  string // shown
	entries []chooserEntry
	picked  int // of entries; -1: nothing
	asked   int // what comes of an older question to the disk is dropped

	place *dialogEntry
	list  *chooserList
	note  *widget.Label
	open  *dialogButton
}

// chooserEntry is a file, or a folder to go to.
type chooserEntry struct {
	name   string
	folder bool
}

// newChooser shows the chooser in a folder, "" for the current one.
func newChooser(u *ui, title, folder string, endings []string, then func(path string)) *chooser {
	c := &chooser{u: u, endings: endings, then: then, picked: -1, place: newDialogEntry(), note: prose()}
	c.list = newChooserList(c)
	c.note.Hide()
	goTo := newDialogButton(tr("Go there"), func() { c.show(c.place.Text) })
	up := newDialogButton(tr("Folder above"), c.up)
	home := newDialogButton(tr("Home folder"), func() {
		if at, err := os.UserHomeDir(); err == nil {
			c.show(at)
		}
	})
	c.open = newDialogButton(tr("Open"), c.accept)
	if endings == nil {
		c.open.SetText(tr("Take this folder"))
	}
	top := container.NewBorder(nil, nil, widget.NewLabel(tr("Folder")), container.NewHBox(goTo, up, home), c.place)
	c.box = u.newBox(title, container.NewBorder(top, c.note, nil, nil, c.list), u.closing(tr("Cancel")), c.open)
	s := u.window.Canvas().Size()
	c.box.Resize(fyne.NewSize(min(900, s.Width-40), min(620, s.Height-40)))
	c.place.keys = c.placeKey
	c.load()
	u.show(c.box)
	u.window.Canvas().Focus(c.list)
	if full, err := filepath.Abs(folder); err == nil {
		folder = full
	}
	c.show(folder)
	return c
}

// askFolder lets the user choose a folder.
func (u *ui) askFolder(at string, then func(path string)) {
	newChooser(u, tr("Choose a folder"), at, nil, then)
}

// show asks the disk what is in a folder, on another goroutine, and shows it.
func (c *chooser) show(folder string) {
	c.asked++
	asked := c.asked
	c.u.background(func() func() {
		list, err := c.read(folder)
		return func() {
			switch {
			case asked != c.asked:
			case err != nil:
				c.note.SetText(with("{{.Folder}} cannot be shown: {{.Why}}.", map[string]any{"Folder": folder, "Why": inFull(reason(err))}))
				c.note.Show()
			default:
				c.folder, c.entries, c.picked = folder, list, -1
				c.place.SetText(folder)
				c.note.Hide()
				c.load()
			}
		}
	})
}

// read returns what is to be shown of a folder: folders first, then the files that can
// be chosen, by name.
func (c *chooser) read(folder string) ([]chooserEntry, error) {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return nil, err
	}
	var list []chooserEntry
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		is := e.IsDir()
		if e.Type()&os.ModeSymlink != 0 {
			st, err := os.Stat(filepath.Join(folder, e.Name()))
			is = err == nil && st.IsDir()
		}
		if is || slices.ContainsFunc(c.endings, func(end string) bool { return strings.HasSuffix(strings.ToLower(e.Name()), strings.ToLower(end)) }) {
			list = append(list, chooserEntry{e.Name(), is})
		}
	}
	slices.SortStableFunc(list, func(a, b chooserEntry) int {
		if a.folder != b.folder {
			if a.folder {
				return -1
			}
			return 1
		}
		return strings.Compare(strings.ToLower(a.name), strings.ToLower(b.name))
	})
	return list, nil
}

// load shows what is in the folder.
func (c *chooser) load() {
	c.list.UnselectAll()
	c.list.Refresh()
	c.list.ScrollToTop()
	c.pick(-1)
}

// pick marks an entry.
func (c *chooser) pick(i int) {
	c.picked = i
	if c.endings == nil && c.folder != "" || i >= 0 {
		c.open.Enable()
	} else {
		c.open.Disable()
	}
}

func (c *chooser) up() {
	if c.folder != "" {
		c.show(filepath.Dir(c.folder))
	}
}

// enter goes into the folder picked, or takes the file.
func (c *chooser) enter() {
	if c.picked >= 0 && c.entries[c.picked].folder {
		c.show(filepath.Join(c.folder, c.entries[c.picked].name))
		return
	}
	if c.picked >= 0 || c.endings == nil {
		c.accept()
	}
}

// accept takes the file picked, or the folder shown where one is wanted.
func (c *chooser) accept() {
	path := c.folder
	if c.endings != nil {
		if c.picked < 0 {
			return
		}
		if c.entries[c.picked].folder {
			c.enter()
			return
		}
		path = filepath.Join(c.folder, c.entries[c.picked].name)
	}
	c.box.Hide()
	fyne.Do(func() { c.then(path) }) // once the key is let go of: it would be typed into the next dialog
}

// placeKey is Enter in the folder's name: it goes there.
func (c *chooser) placeKey(e *fyne.KeyEvent) bool {
	if (e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter) && c.place.Text != c.folder {
		c.show(c.place.Text)
		return true
	}
	return c.u.boxKey(e)
}

// chooserList shows the entries. The arrows pick, Enter goes into a folder or takes a
// file, Backspace goes to the folder above, letters to the next name that begins with
// them. A click picks, a second one does as Enter.
type chooserList struct {
	widget.List
	of   *chooser
	keys func(*fyne.KeyEvent) bool
}

func newChooserList(c *chooser) *chooserList {
	l := &chooserList{of: c}
	l.Length = func() int { return len(c.entries) }
	l.CreateItem = func() fyne.CanvasObject { return newChooserRow(l) }
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) { o.(*chooserRow).show(i, c.entries[i]) }
	l.OnSelected = c.pick
	l.ExtendBaseWidget(l)
	return l
}

func (l *chooserList) handOn(keys func(*fyne.KeyEvent) bool) { l.keys = keys }

// TypedKey implements [fyne.Focusable].
func (l *chooserList) TypedKey(e *fyne.KeyEvent) {
	c := l.of
	move := map[fyne.KeyName]int{fyne.KeyDown: 1, fyne.KeyUp: -1, fyne.KeyPageDown: 10, fyne.KeyPageUp: -10, fyne.KeyHome: -len(c.entries), fyne.KeyEnd: len(c.entries)}
	switch {
	case move[e.Name] != 0:
		if n := len(c.entries); n > 0 {
			l.Select(min(max(c.picked+move[e.Name], 0), n-1))
		}
	case e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter:
		c.enter()
	case e.Name == fyne.KeyBackspace:
		c.up()
	case l.keys == nil || !l.keys(e):
		l.List.TypedKey(e)
	}
}

// TypedRune implements [fyne.Focusable].
func (l *chooserList) TypedRune(r rune) {
	c := l.of
	for k := range c.entries {
		i := (c.picked + 1 + k) % len(c.entries)
		if strings.HasPrefix(strings.ToLower(c.entries[i].name), strings.ToLower(string(r))) {
			l.Select(i)
			return
		}
	}
}

// chooserRow is a line of the list.
type chooserRow struct {
	widget.BaseWidget
	list  *chooserList
	at    int
	icon  *widget.Icon
	label *widget.Label
}

func newChooserRow(l *chooserList) *chooserRow {
	r := &chooserRow{list: l, icon: widget.NewIcon(nil), label: widget.NewLabel("")}
	r.label.Truncation = fyne.TextTruncateEllipsis
	r.ExtendBaseWidget(r)
	return r
}

func (r *chooserRow) show(i int, e chooserEntry) {
	r.at = i
	r.label.SetText(e.name)
	r.icon.SetResource(theme.FileIcon())
	if e.folder {
		r.icon.SetResource(theme.FolderIcon())
	}
}

// Tapped implements [fyne.Tappable].
func (r *chooserRow) Tapped(*fyne.PointEvent) {
	c := r.list.of
	again := c.picked == r.at
	r.list.Select(r.at)
	c.u.window.Canvas().Focus(r.list)
	if again || c.entries[r.at].folder {
		c.enter()
	}
}

// AccessibilityLabel is the entry's name.
func (r *chooserRow) AccessibilityLabel() string { return r.label.Text }

// CreateRenderer implements [fyne.Widget].
func (r *chooserRow) CreateRenderer() fyne.WidgetRenderer {
	return widget.NewSimpleRenderer(container.NewBorder(nil, nil, r.icon, nil, r.label))
}
