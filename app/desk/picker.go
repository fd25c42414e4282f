package desk

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
)

// picker lets the user choose a file or a folder. The toolkit's own dialog lists
// folders, and opens what is chosen, while the window waits.
type picker struct {
	u       *Desk
	endings []string // of the files to choose from, in small letters; none: a folder is chosen
	then    func(path string)

	folder string // the one shown
	number int    // of the listing asked for last
	list   []listed
	picked int // -1: none

	dialog *kit.Box
	place  *kit.DialogEntry
	names  *pickerList
	status *widget.Label
	open   *kit.DialogButton
}

// listed is something in a folder.
type listed struct {
	name   string
	folder bool
}

// AskFile lets the user choose a file with one of some endings, beside the job's own
// to begin with.
func (u *Desk) AskFile(title string, endings []string, then func(path string)) {
	u.PickFrom(title, tr("Open"), u.startFolder(), endings, then)
}

// AskFolder lets the user choose a folder.
func (u *Desk) AskFolder(start string, then func(path string)) {
	u.PickFrom(tr("Choose a folder"), tr("Use this folder"), start, nil, then)
}

// startFolder is where files are looked for first.
func (u *Desk) startFolder() string {
	if u.Session.Path != "" {
		return filepath.Dir(u.Session.Path)
	}
	if u.lastFolder != "" {
		return u.lastFolder
	}
	if home, err := os.UserHomeDir(); err == nil {
		return home
	}
	return "."
}

func (u *Desk) PickFrom(title, openText, folder string, endings []string, then func(path string)) {
	p := &picker{u: u, then: then, status: kit.Prose(), picked: -1}
	for _, e := range endings {
		p.endings = append(p.endings, strings.ToLower(e))
	}
	p.place = kit.NewDialogEntry()
	up := kit.NewDialogButton(tr("Up"), p.up)
	up.SetIcon(theme.MoveUpIcon())
	p.names = newPickerList(p)
	p.open = kit.NewDialogButton(openText, p.chosen)
	content := container.NewBorder(
		container.NewBorder(nil, nil, container.NewHBox(widget.NewLabel(tr("Folder")), up), nil, p.place), p.status, nil, nil, p.names)
	p.dialog = u.NewBox(title, content, u.Closing(tr("Cancel")), p.open)
	p.place.Keys = p.placeKey
	s := u.Window.Canvas().Size()
	p.dialog.Resize(fyne.NewSize(min(900, s.Width-40), min(620, s.Height-40)))
	u.ShowBox(p.dialog)
	u.Window.Canvas().Focus(p.names)
	p.visit(folder)
}

// visit lists a folder. It is read on another goroutine; until it is there nothing
// can be chosen but another folder.
func (p *picker) visit(folder string) {
	p.number++
	number := p.number
	p.folder = filepath.Clean(folder)
	p.place.SetText(p.folder)
	p.set(nil, "")
	p.open.Disable()
	p.u.After(openingDelay, func() {
		if number == p.number && p.list == nil && p.status.Text == "" {
			p.status.SetText(tr("Reading the folder…"))
		}
	})
	p.u.Background(func() func() {
		full, list, err := listFolder(folder, p.endings)
		return func() {
			if number != p.number {
				return
			}
			words := ""
			switch {
			case err != nil:
				words = with("The folder cannot be read: {{.Why}}", map[string]any{"Why": kit.InFull(err)})
			case len(list) == 0 && p.endings != nil:
				words = with("No file here ends in {{.Endings}}.", map[string]any{"Endings": strings.Join(slices.Compact(slices.Clone(p.endings)), ", ")})
			}
			p.folder = full
			p.place.SetText(full)
			p.set(list, words)
			if p.endings == nil && err == nil {
				p.open.Enable()
			}
		}
	})
}

// placeKey is Enter in the name of another folder, which goes there.
func (p *picker) placeKey(e *fyne.KeyEvent) bool {
	if (e.Name == fyne.KeyReturn || e.Name == fyne.KeyEnter) && p.place.Text != p.folder {
		p.visit(p.place.Text)
		return true
	}
	return p.u.BoxKey(e)
}

// set shows what is in the folder, and words below it.
func (p *picker) set(list []listed, words string) {
	p.list, p.picked = list, -1
	p.names.UnselectAll()
	p.names.ScrollToTop()
	p.names.Refresh()
	p.status.SetText(words)
}

func (p *picker) up() { p.visit(filepath.Dir(p.folder)) }

// pick picks a file; a folder that was clicked is gone into.
func (p *picker) pick(i int) {
	p.picked = i
	at := p.list[i]
	switch {
	case at.folder && !p.names.byKey:
		p.visit(filepath.Join(p.folder, at.name))
	case at.folder == (p.endings == nil):
		p.open.Enable()
	default:
		p.open.Disable()
	}
}

// chosen goes on with what was picked.
func (p *picker) chosen() {
	path := p.folder
	if p.picked >= 0 {
		path = filepath.Join(path, p.list[p.picked].name)
	}
	p.u.lastFolder = p.folder
	p.dialog.Hide()
	fyne.Do(func() { p.then(path) }) // once the key is let go of: it would be typed into the next dialog
}

// enter goes into the folder that is picked, or chooses the file.
func (p *picker) enter() {
	switch {
	case p.picked >= 0 && p.list[p.picked].folder:
		p.visit(filepath.Join(p.folder, p.list[p.picked].name))
	case !p.open.Disabled():
		p.chosen()
	}
}

// listFolder returns the whole path of a folder, the folders in it and the files
// with one of the endings, each by name. What is hidden is left out, and what is
// no ordinary file.
func listFolder(folder string, endings []string) (full string, list []listed, err error) {
	full, err = filepath.Abs(folder)
	if err != nil {
		return folder, nil, err
	}
	entries, err := os.ReadDir(full)
	for _, e := range entries {
		mode := e.Type()
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		if mode&os.ModeSymlink != 0 {
			if st, err := os.Stat(filepath.Join(full, e.Name())); err == nil {
				mode = st.Mode()
			}
		}
		wanted := slices.Contains(endings, strings.ToLower(filepath.Ext(e.Name())))
		if mode.IsDir() || wanted && mode.IsRegular() {
			list = append(list, listed{e.Name(), mode.IsDir()})
		}
	}
	slices.SortStableFunc(list, func(a, b listed) int {
		if a.folder != b.folder {
			if a.folder {
				return -1
			}
			return 1
		}
		return strings.Compare(strings.ToLower(a.name), strings.ToLower(b.name))
	})
	return full, list, err
}

// pickerList is the list of a folder. The arrows pick, Enter goes into a folder or
// opens a file, Backspace goes up, Escape closes.
type pickerList struct {
	widget.List
	of    *picker
	byKey bool // what is picked now is picked by a key
}

func newPickerList(p *picker) *pickerList {
	l := &pickerList{of: p}
	l.Length = func() int { return len(p.list) }
	l.CreateItem = func() fyne.CanvasObject {
		name := widget.NewLabel("")
		name.Truncation = fyne.TextTruncateEllipsis
		return container.NewBorder(nil, nil, widget.NewIcon(theme.FileIcon()), nil, name)
	}
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		c := o.(*fyne.Container)
		icon := theme.FileIcon()
		if p.list[i].folder {
			icon = theme.FolderIcon()
		}
		c.Objects[0].(*widget.Label).SetText(p.list[i].name)
		c.Objects[1].(*widget.Icon).SetResource(icon)
	}
	l.OnSelected = p.pick
	l.ExtendBaseWidget(l)
	return l
}

// TypedKey implements [fyne.Focusable].
func (l *pickerList) TypedKey(e *fyne.KeyEvent) {
	p := l.of
	to := -1
	switch e.Name {
	case fyne.KeyEscape:
		p.u.BoxKey(e)
	case fyne.KeyReturn, fyne.KeyEnter:
		p.enter()
	case fyne.KeyBackspace:
		p.up()
	case fyne.KeyDown:
		to = p.picked + 1
	case fyne.KeyUp:
		to = p.picked - 1
	case fyne.KeyHome:
		to = 0
	case fyne.KeyEnd:
		to = len(p.list) - 1
	}
	if to >= 0 && to < len(p.list) {
		l.byKey = true
		l.Select(to)
		l.byKey = false
	}
}
