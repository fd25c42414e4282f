package app

import (
	"image"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/jobs"
	"pinphase.org/pinphase/timing/phrase"
)

// jobList is the list of the jobs in the folders that the user named. Folders and files
// are read, and figures drawn, on other goroutines, a few at a time; the window shows what
// is there by now.
type jobList struct {
	u      *ui
	dialog *kit.Box

	words    *kit.DialogEntry
	place    *kit.DialogSelect
	folder   *kit.DialogSelect
	without  *kit.DialogButton // takes the folder chosen off the list
	list     *jobRows
	answer   *widget.Label
	about    *widget.Label
	picture  *canvas.Image
	status   *widget.Label
	open     *kit.DialogButton
	all      []jobs.Entry // in the folder that is chosen, the newest first
	found    []int        // of all, what has the words
	picked   int          // of found; -1: nothing
	asked    int          // what comes of an older question to the disk is dropped
	reading  bool
	failed   string // why a folder cannot be read
	closed   bool
	filling  bool // a row is being filled in
	pictures map[string]jobPicture
	wanted   []jobs.Entry // to be drawn, the last first
	drawing  bool
}

// jobPicture is the figure of a job, beside the list and in its row; nil where nothing
// can be drawn.
type jobPicture struct {
	of       jobs.File
	image    image.Image
	rowImage image.Image
}

// How large the figure of a job is drawn, in pixels, and in a row in units of Fyne. In a
// row it is drawn for that size, with as many words as it then has room for.
const (
	jobPictureW, jobPictureH = 480, 320
	rowPictureW, rowPictureH = 120, 84
	rowPixels                = 2 // for each unit, so that it is sharp on a fine screen
)

// jobsAtOnce is how many files are read before the window shows them.
const jobsAtOnce = 50

// placeWords say where words are looked for, in the order of [jobs.Place].
var placeWords = []phrase.Text{"anywhere", "customer", "machine or engine", "part, supplier or order"}

// openJobs shows the list of jobs.
func (u *ui) openJobs() {
	if u.Covered() {
		return
	}
	p := &jobList{u: u, picked: -1, pictures: map[string]jobPicture{}, answer: kit.Prose(), about: kit.Prose(), status: kit.Prose(),
		picture: &canvas.Image{FillMode: canvas.ImageFillContain, ScaleMode: canvas.ImageScaleSmooth}}
	p.answer.TextStyle.Bold = true
	p.picture.SetMinSize(fyne.NewSize(180, 120))
	p.words = kit.NewDialogEntry()
	p.words.SetPlaceHolder(tr("Customer, engine, part or any words"))
	p.words.OnChanged = func(string) { p.search() }
	var places []string
	for _, w := range placeWords {
		places = append(places, tr(w))
	}
	p.place = kit.NewDialogSelect(places, nil)
	p.place.SetSelectedIndex(0)
	p.place.OnChanged = func(string) { p.search() }
	p.folder = kit.NewDialogSelect(nil, nil)
	p.without = kit.NewDialogButton(tr("Take this folder off the list"), p.removeFolder)
	p.list = newJobRows(p)
	add := kit.NewDialogButton(tr("Add a folder…"), p.addFolder)
	p.open = kit.NewDialogButton(tr("Open"), p.chosen)
	found := container.NewBorder(nil, nil, widget.NewLabel(tr("Search")), p.place, p.words)
	folders := container.NewBorder(nil, nil, widget.NewLabel(tr("Folder")), container.NewHBox(add, p.without), p.folder)
	said := container.NewBorder(container.NewVBox(p.picture, p.answer), nil, nil, nil, container.NewVScroll(p.about))
	split := container.NewHSplit(p.list, said)
	split.Offset = 0.58
	content := container.NewBorder(container.NewVBox(folders, found), p.status, nil, nil, split)
	p.dialog = u.NewBox(tr("Jobs"), content, u.Closing(tr("Close")), p.open)
	p.words.Keys = p.key
	s, k := u.Window.Canvas().Size(), u.Look.Scale
	p.dialog.Resize(fyne.NewSize(min(1100*k, s.Width-40), min(700*k, s.Height-40)))
	p.loadFolders("")
	u.ShowBox(p.dialog)
	p.dialog.SetOnClosed(func() {
		p.closed = true
		p.asked++
	})
	u.Window.Canvas().Focus(p.words)
	p.read()
}

// folders are those that the user named.
func (p *jobList) folders() []string { return p.u.Prefs.StringList(desk.PrefJobFolders) }

// loadFolders offers the folders, one of them chosen; "" is all.
func (p *jobList) loadFolders(chosen string) {
	list := p.folders()
	p.folder.OnChanged = nil
	p.folder.Options = append([]string{tr("all folders")}, list...)
	p.folder.SetSelectedIndex(slices.Index(list, chosen) + 1)
	p.folder.OnChanged = func(string) { p.read() }
	kit.Able(p.without, p.folder.SelectedIndex() > 0)
	p.folder.Refresh()
}

// addFolder adds a folder to the list.
func (p *jobList) addFolder() {
	start := filepath.Dir(p.u.Session.Path)
	if list := p.folders(); len(list) > 0 {
		start = filepath.Dir(list[len(list)-1])
	} else if p.u.Session.Path == "" {
		start, _ = p.u.Suggest("")
	}
	p.u.AskFolder(start, func(folder string) {
		if list := p.folders(); !slices.Contains(list, folder) {
			p.u.Prefs.SetStringList(desk.PrefJobFolders, append(list, folder))
		}
		p.loadFolders("")
		p.read()
	})
}

// removeFolder takes the folder that is chosen off the list. Its files stay as they are.
func (p *jobList) removeFolder() {
	list := p.folders()
	if i := p.folder.SelectedIndex() - 1; i >= 0 && i < len(list) {
		p.u.Prefs.SetStringList(desk.PrefJobFolders, slices.Delete(slices.Clone(list), i, i+1))
	}
	p.loadFolders("")
	p.read()
}

// read looks through the folders chosen, and then reads what was not read before.
func (p *jobList) read() {
	p.asked++
	asked := p.asked
	folders := p.folders()
	if i := p.folder.SelectedIndex() - 1; i >= 0 && i < len(folders) {
		folders = folders[i : i+1]
	}
	kit.Able(p.without, p.folder.SelectedIndex() > 0)
	before := maps.Clone(p.u.readJobs)
	p.all, p.found, p.picked = nil, nil, -1
	p.list.UnselectAll()
	p.list.Refresh()
	p.reading, p.failed = len(folders) > 0, ""
	p.say()
	p.u.Background(func() func() {
		files, err := jobs.Find(folders)
		var known []jobs.Entry
		var rest []jobs.File
		for _, f := range files {
			if e, ok := before[f.Path]; ok && e.Same(f) {
				if e.IsJob() {
					known = append(known, e)
				}
			} else {
				rest = append(rest, f)
			}
		}
		return func() {
			if asked != p.asked {
				return
			}
			if err != nil {
				p.failed = kit.InFull(err)
			}
			p.all = known
			p.more(asked, rest)
		}
	})
}

// more shows what was read, and reads the next files.
func (p *jobList) more(asked int, rest []jobs.File) {
	p.reading = len(rest) > 0
	p.search()
	if !p.reading {
		return
	}
	now := rest[:min(len(rest), jobsAtOnce)]
	p.u.Background(func() func() {
		var list []jobs.Entry
		for _, f := range now {
			list = append(list, jobs.Read(f))
		}
		return func() {
			for _, e := range list {
				p.u.readJobs[e.Path] = e
			}
			if asked != p.asked {
				return
			}
			p.all = append(p.all, slices.DeleteFunc(list, func(e jobs.Entry) bool { return !e.IsJob() })...)
			slices.SortStableFunc(p.all, func(a, b jobs.Entry) int { return jobs.Newest(a.File, b.File) })
			p.more(asked, rest[len(now):])
		}
	})
}

// search shows the jobs that have the words.
func (p *jobList) search() {
	was := ""
	if e := p.now(); e != nil {
		was = e.Path
	}
	p.found = jobs.Search(p.all, jobs.Place(max(0, p.place.SelectedIndex())), p.words.Text)
	// What cannot be read comes last.
	slices.SortStableFunc(p.found, func(a, b int) int {
		return boolInt(p.all[a].Err != nil) - boolInt(p.all[b].Err != nil)
	})
	p.list.Refresh()
	at := slices.IndexFunc(p.found, func(i int) bool { return p.all[i].Path == was })
	if at < 0 || at != p.picked {
		// To select scrolls to it: what is looked at stays where the job is the same.
		top := p.list.GetScrollOffset()
		p.picked = -1
		p.list.UnselectAll()
		if len(p.found) > 0 {
			p.list.Select(max(0, at))
		}
		if at >= 0 {
			p.list.ScrollToOffset(top)
		}
	}
	p.say()
}

func boolInt(b bool) int {
	if b {
		return 1
	}
	return 0
}

// now is the job that is picked, nil for none.
func (p *jobList) now() *jobs.Entry {
	if p.picked < 0 || p.picked >= len(p.found) {
		return nil
	}
	return &p.all[p.found[p.picked]]
}

// pick picks a job.
func (p *jobList) pick(i int) {
	p.picked = i
	p.say()
}

// say describes the job picked, and how many there are.
func (p *jobList) say() {
	words := with("{{.N}} of {{.All}} jobs", map[string]any{"N": len(p.found), "All": len(p.all)})
	switch {
	case p.failed != "":
		words += " · " + strings.ReplaceAll(p.failed, "\n", "; ")
	case len(p.folders()) == 0:
		words = tr("Add the folders in which your jobs are. The folders in them are looked through too.")
	case p.reading:
		words += " · " + tr("reading…")
	}
	kit.SetText(p.status, words)
	e := p.now()
	kit.Able(p.open, e != nil && e.Err == nil)
	answer, about := "", ""
	if e != nil {
		p.filling = true // what is found at once is shown below
		p.picture.Image = p.pictureOf(*e).image
		p.filling = false
		answer, about = p.answerOf(*e), p.aboutOf(*e)
	} else {
		p.picture.Image = nil
	}
	kit.SetText(p.answer, answer)
	kit.SetText(p.about, about)
	p.picture.Refresh()
}

// answerOf is what a job comes to.
func (p *jobList) answerOf(e jobs.Entry) string {
	switch {
	case e.Err != nil:
		return tr("This file cannot be read. It is left as it is:") + " " + kit.InFull(e.Err)
	case e.Answer.Text != "":
		return say(e.Answer)
	case e.Worked:
		return tr("When injection starts is not known yet.")
	}
	return "…"
}

// aboutOf is what a job says of its case, a line each, and where it is.
func (p *jobList) aboutOf(e jobs.Entry) string {
	var lines []string
	line := func(name phrase.Text, what string) {
		if what = strings.TrimSpace(what); what != "" {
			lines = append(lines, with("{{.Field}}: {{.What}}", map[string]any{"Field": tr(name), "What": what}))
		}
	}
	if e.Err == nil {
		if c := e.Job.Case; c != nil {
			line("Customer", c.Customer)
			line("Machine", c.Machine)
			line("Engine's serial number", c.EngineSerial)
			line("Supplier", c.Supplier)
			line("Order number", c.Order)
			line("Part number", c.PartNumber)
			line("Part's serial number", c.PartSerial)
			line("Measured by", c.MeasuredBy)
			line("Measured on", c.MeasuredOn)
		}
		line("Firing order", timing.OrderText(e.Job.Engine.FiringOrder))
	}
	line("File", e.Path)
	return strings.Join(lines, "\n")
}

// rowOf are the two lines of a job in the list.
func (p *jobList) rowOf(e jobs.Entry) (title, words string) {
	title = e.Job.Title
	if title == "" {
		title = filepath.Base(e.Path)
	}
	if c := e.Job.Case; c != nil {
		for _, s := range []string{c.Customer, c.Machine, c.PartNumber} {
			if s = strings.TrimSpace(s); s != "" {
				title += " · " + s
			}
		}
	}
	return title, strings.ReplaceAll(p.answerOf(e), "\n", " ")
}

// chosen opens the job picked.
func (p *jobList) chosen() {
	e := p.now()
	if e == nil || e.Err != nil {
		return
	}
	path := e.Path
	p.dialog.Hide()
	fyne.Do(func() { p.u.sure(func() { p.u.openFile(path) }) }) // once the key is let go of
}

// key is a key in the field for words: the arrows pick, Enter opens.
func (p *jobList) key(e *fyne.KeyEvent) bool {
	by := map[fyne.KeyName]int{fyne.KeyDown: 1, fyne.KeyUp: -1, fyne.KeyPageDown: 5, fyne.KeyPageUp: -5}[e.Name]
	if by == 0 {
		return p.u.BoxKey(e)
	}
	if n := len(p.found); n > 0 {
		p.list.Select(max(0, min(p.picked+by, n-1)))
	}
	return true
}

// pictureOf is the figure of a job, with nothing in it while it is being drawn.
func (p *jobList) pictureOf(e jobs.Entry) jobPicture {
	if e.Err != nil {
		return jobPicture{}
	}
	if known, ok := p.pictures[e.Path]; !ok || !known.of.Same(e.File) {
		p.wanted = slices.DeleteFunc(p.wanted, func(w jobs.Entry) bool { return w.Path == e.Path })
		p.wanted = append(p.wanted, e)
		p.draw()
	}
	return p.pictures[e.Path]
}

// draw draws the figure that was wanted last, and then the next.
func (p *jobList) draw() {
	if p.drawing || p.closed || len(p.wanted) == 0 {
		return
	}
	last := len(p.wanted) - 1
	e := p.wanted[last]
	p.wanted = p.wanted[:last]
	p.drawing = true
	o, style := p.u.FigureOptions(figure.Box{}), p.u.Look.FigureStyle()
	o.Cursor, o.Selected, o.Bare, o.Say = nil, 0, true, voice().Say
	p.u.Background(func() func() {
		e := e.Work()
		picture := jobPicture{e.File, drawn(e, o, style, jobPictureW, jobPictureH, 1), drawn(e, o, style, rowPictureW, rowPictureH, rowPixels)}
		return func() {
			p.drawing = false
			p.pictures[e.Path] = picture
			if known := p.u.readJobs[e.Path]; known.Same(e.File) {
				p.u.readJobs[e.Path] = e
			}
			if p.closed {
				return
			}
			if i := slices.IndexFunc(p.all, func(a jobs.Entry) bool { return a.Same(e.File) }); i >= 0 {
				p.all[i] = e
			}
			if !p.filling {
				p.list.Refresh()
				p.say()
			}
			p.draw()
		}
	})
}

// drawn is a job's part, or its cycle where no part was measured, drawn for a box and
// with so many pixels for each unit of it.
func drawn(e jobs.Entry, o chart.Options, style figure.Style, w, h, pixels float64) image.Image {
	name := "cycle"
	if e.Angles.Dowel != nil || e.Angles.Keyway != nil {
		name = "part"
	}
	o.Box = figure.Box{W: w, H: h}
	d, err := chart.Drawing(name, e.Angles, o)
	if err != nil {
		return nil
	}
	scale := pixels * min(w/d.W, h/d.H)
	var r figure.Raster
	return r.Render(d, style, int(d.W*scale), int(d.H*scale), scale)
}

// jobRows is the list. Enter opens what is picked, Escape closes.
type jobRows struct {
	widget.List
	of   *jobList
	keys func(*fyne.KeyEvent) bool
}

func (l *jobRows) HandOn(keys func(*fyne.KeyEvent) bool) { l.keys = keys }

func newJobRows(p *jobList) *jobRows {
	l := &jobRows{of: p}
	l.Length = func() int { return len(p.found) }
	l.CreateItem = func() fyne.CanvasObject {
		title, words := kit.NewLineLabel(), kit.NewLineLabel()
		title.TextStyle.Bold = true
		words.SizeName = theme.SizeNameCaptionText
		img := &canvas.Image{FillMode: canvas.ImageFillContain, ScaleMode: canvas.ImageScaleSmooth}
		img.SetMinSize(fyne.NewSize(rowPictureW, rowPictureH))
		return container.NewBorder(nil, nil, img, nil, container.New(&kit.Tight{}, title, words))
	}
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) {
		if i >= len(p.found) {
			return
		}
		p.filling = true
		now := p.pictureOf(p.all[p.found[i]]).rowImage
		p.filling = false
		title, words := p.rowOf(p.all[p.found[i]]) // worked out by now, perhaps
		c := o.(*fyne.Container)
		lines := c.Objects[0].(*fyne.Container)
		kit.SetText(&lines.Objects[0].(*kit.LineLabel).Label, title)
		kit.SetText(&lines.Objects[1].(*kit.LineLabel).Label, words)
		if img := c.Objects[1].(*canvas.Image); img.Image != now {
			img.Image = now
			img.Refresh()
		}
	}
	l.OnSelected = p.pick
	l.ExtendBaseWidget(l)
	return l
}

// TypedKey implements [fyne.Focusable].
func (l *jobRows) TypedKey(e *fyne.KeyEvent) {
	if l.of.key(e) || l.keys != nil && l.keys(e) {
		return
	}
	l.List.TypedKey(e)
}
