package app

import (
	"errors"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/quantity"
)

// libraryPane is the library on the screen: engine layouts, and the user's own
// engines and wheels, to be taken into the open job.
type libraryPane struct {
	u      *ui
	own    library
	dialog *kit.Box

	shelves *kit.OneOf
	list    *libraryList
	title   *widget.Label
	words   *widget.Label
	take    *kit.DialogButton
	rename  *kit.DialogButton
	remove  *kit.DialogButton
	save    *kit.DialogButton

	shown   int // of shelves: 0 are the layouts
	layouts []timing.Layout
	kept    []kept
	picked  int // in the list; -1: nothing
	asked   int // what comes of an older question to the disk is dropped
}

// ownShelves are the shelves behind the layouts, in the order of their buttons.
var ownShelves = []shelf{engineShelf, crankShelf, camShelf}

func (u *ui) shelfFolder() library {
	return library{filepath.Join(kit.PathOf(u.App.Storage().RootURI()), "library"), u.Files}
}

// openLibrary shows the library.
func (u *ui) openLibrary() {
	if u.Covered() {
		return
	}
	p := &libraryPane{u: u, own: u.shelfFolder(), layouts: timing.Layouts(), title: kit.Prose(), words: kit.Prose(), picked: -1}
	p.title.TextStyle.Bold = true
	p.title.SizeName = theme.SizeNameSubHeadingText
	p.shelves = kit.NewOneOf(p.show, tr("Engine layouts"), tr("My engines"), tr("My crank sensor wheels"), tr("My cam sensor wheels"))
	p.list = newLibraryList(p)
	p.take = kit.NewDialogButton(tr("Copy into the job"), p.taken)
	p.take.Importance = widget.HighImportance
	p.rename = kit.NewDialogButton(tr("Rename…"), p.renamed)
	p.remove = kit.NewDialogButton(tr("Delete…"), p.removed)
	p.save = kit.NewDialogButton("", p.saved)
	buttons := container.NewHScroll(container.NewHBox(p.take, p.rename, p.remove))
	about := container.NewBorder(p.title, buttons, nil, nil, container.NewVScroll(p.words))
	split := container.NewHSplit(p.list, about)
	split.Offset = 0.45
	content := container.NewBorder(container.NewHScroll(p.shelves.Content), container.NewHScroll(container.NewHBox(p.save)), nil, nil, split)
	p.dialog = u.NewBox(tr("Library"), content, u.Closing(tr("Close")))
	p.dialog.Marked = p.take
	s, k := u.Window.Canvas().Size(), u.Look.Scale
	p.dialog.Resize(fyne.NewSize(min(900*k, s.Width-40), min(600*k, s.Height-40)))
	p.shelves.Set(0)
	p.show(0)
	u.ShowBox(p.dialog)
	u.Window.Canvas().Focus(p.list)
}

// show shows a shelf.
func (p *libraryPane) show(i int) {
	p.shown = i
	p.load("")
}

// shelf returns the shelf shown; ok is false for the layouts.
func (p *libraryPane) shelf() (s shelf, ok bool) {
	if p.shown == 0 {
		return "", false
	}
	return ownShelves[p.shown-1], true
}

// load reads the shelf shown and picks the thing of a title, or the first.
func (p *libraryPane) load(title string) {
	p.kept, p.picked = nil, -1
	s, own := p.shelf()
	if !own {
		p.loaded(title)
		return
	}
	p.loaded("") // without the old shelf's things while the disk is asked
	p.asked++
	asked, library := p.asked, p.own
	p.u.Background(func() func() {
		list, err := library.list(s)
		return func() {
			if asked != p.asked {
				return
			}
			if err != nil {
				p.u.Tell(err)
			}
			p.kept = list
			p.loaded(title)
		}
	})
}

// loaded shows what is on the shelf.
func (p *libraryPane) loaded(title string) {
	p.save.SetText(map[int]string{1: tr("Keep the open job's engine…"), 2: tr("Keep the open job's crank sensor wheel…"), 3: tr("Keep the open job's cam sensor wheel…")}[p.shown])
	p.save.Hidden = p.shown == 0
	if s, own := p.shelf(); own && !s.has(p.u.Session.Job()) {
		p.save.Disable()
	} else {
		p.save.Enable()
	}
	p.list.UnselectAll()
	p.list.Refresh()
	for i := range p.count() {
		if p.name(i) == title {
			p.list.Select(i)
		}
	}
	if p.picked < 0 && p.count() > 0 {
		p.list.Select(0)
	}
	p.describe()
}

// alter changes the library on another goroutine, and shows the thing of a title then.
func (p *libraryPane) alter(title string, change func(library) error) {
	library := p.own
	p.u.Background(func() func() {
		err := change(library)
		return func() {
			if err != nil {
				p.u.Tell(errors.New(with("The library could not be changed: {{.Why}}.", map[string]any{"Why": kit.InFull(kit.Reason(err))})))
			}
			p.load(title)
		}
	})
}

// named is the readable thing of a title on the shelf shown, in any case of its letters.
func (p *libraryPane) named(title string) (kept, bool) { return named(p.kept, title) }

func (p *libraryPane) count() int {
	if p.shown == 0 {
		return len(p.layouts)
	}
	return len(p.kept)
}

func (p *libraryPane) name(i int) string {
	if p.shown == 0 {
		return layoutTitle(p.layouts[i])
	}
	return p.kept[i].title
}

func (p *libraryPane) pick(i int) {
	p.picked = i
	p.describe()
}

// describe says what is picked, and what can be done with it.
func (p *libraryPane) describe() {
	able := func(b *kit.DialogButton, on bool) {
		b.Hidden = p.shown == 0 && b != p.take
		if on {
			b.Enable()
		} else {
			b.Disable()
		}
	}
	title, words, sound := "", "", false
	switch {
	case p.picked < 0:
		words = tr("Nothing is kept here yet. The button below keeps that part of the open job under a name of yours.")
	case p.shown == 0:
		title, words, sound = p.name(p.picked), layoutWords(p.layouts[p.picked]), true
	default:
		k := p.kept[p.picked]
		title, sound = k.title, k.err == nil
		if sound {
			words = p.keptWords(k)
		} else {
			words = tr("This file cannot be read. It is left as it is:") + "\n\n" + kit.InFull(k.err)
		}
	}
	p.title.SetText(title)
	p.words.SetText(words)
	able(p.take, sound)
	able(p.rename, sound)
	able(p.remove, sound)
}

// keptWords says what is kept.
func (p *libraryPane) keptWords(k kept) string {
	var list []string
	e := k.job.Engine
	if s, _ := p.shelf(); s == crankShelf {
		list = append(list, wheelWords(k.job.CrankWheel))
	} else if s == camShelf {
		list = append(list, camWords(k.job.CamWheel))
	}
	list = append(list, with("Firing order {{.Order}}.", map[string]any{"Order": timing.OrderText(e.FiringOrder)}))
	if len(e.FiringIntervalsDeg) > 0 {
		list = append(list, with("Firing intervals {{.Intervals}} degrees.", map[string]any{"Intervals": kit.Describe(e.FiringIntervalsDeg)}))
	}
	if e.StrokeMM.Given && e.BoreMM.Given {
		list = append(list, with("Bore {{.Bore}}, stroke {{.Stroke}}.", map[string]any{"Bore": quantity.Length(e.BoreMM.Value, 2), "Stroke": quantity.Length(e.StrokeMM.Value, 2)}))
	}
	return strings.Join(append(list, tr("Copying it into the open job can be undone.")), "\n\n")
}

func wheelWords(w *job.CrankWheel) string {
	return with("A crank sensor wheel with {{.N}} tooth positions, {{.Missing}} of them missing.", map[string]any{"N": w.Positions, "Missing": len(w.Missing)})
}

func camWords(w *job.CamWheel) string {
	return with("A cam sensor wheel with {{.N}} teeth.", map[string]any{"N": len(w.TeethCamDeg)})
}

// taken puts what is picked into the open job as one step that can be undone.
func (p *libraryPane) taken() {
	if p.picked < 0 {
		return
	}
	change := func(j *job.Job) { useLayout(j, p.layouts[p.picked]) }
	if s, own := p.shelf(); own {
		from := p.kept[p.picked].job
		change = func(j *job.Job) { s.put(j, from) }
	}
	p.dialog.Hide()
	p.u.Session.Seal()
	p.u.Forget()
	p.u.Edit("library", change)
	p.u.Session.Seal()
}

// saved keeps part of the open job under a name.
func (p *libraryPane) saved() {
	s, _ := p.shelf()
	if p.u.unsound() {
		return
	}
	j := p.u.Session.Job()
	keep := func(title string) {
		p.alter(title, func(l library) error { return l.keep(s, title, j) })
	}
	p.u.AskName(tr("Keep it in the library"), j.Title, func(title string) {
		if _, there := p.named(title); there {
			p.u.Confirm(tr("The name already exists"), with("“{{.Name}}” already exists. Replace it?", map[string]any{"Name": title}), tr("Replace"), func() { keep(title) })
			return
		}
		keep(title)
	})
}

// renamed gives what is picked another name.
func (p *libraryPane) renamed() {
	s, _ := p.shelf()
	k := p.kept[p.picked]
	p.u.AskName(tr("Rename"), k.title, func(title string) {
		if other, there := p.named(title); there && other.path != k.path {
			p.u.Tell(errors.New(with("“{{.Name}}” already exists.", map[string]any{"Name": title})))
			return
		}
		p.alter(title, func(l library) error { return l.rename(s, k, title) })
	})
}

// removed takes what is picked out of the library, after asking.
func (p *libraryPane) removed() {
	k := p.kept[p.picked]
	p.u.Confirm(tr("Delete from the library"), with("Delete “{{.Name}}” from the library? Jobs stay as they are.", map[string]any{"Name": k.title}), tr("Delete"), func() {
		p.alter("", func(l library) error { return l.remove(k) })
	})
}

// libraryList is the list of a shelf. Enter takes what is picked into the job,
// Escape closes.
type libraryList struct {
	widget.List
	pane *libraryPane
	keys func(*fyne.KeyEvent) bool
}

func (l *libraryList) HandOn(keys func(*fyne.KeyEvent) bool) { l.keys = keys }

func newLibraryList(p *libraryPane) *libraryList {
	l := &libraryList{pane: p}
	l.Length = p.count
	l.CreateItem = func() fyne.CanvasObject {
		label := widget.NewLabel("")
		label.Truncation = fyne.TextTruncateEllipsis
		return label
	}
	l.UpdateItem = func(i widget.ListItemID, o fyne.CanvasObject) { o.(*widget.Label).SetText(p.name(i)) }
	l.OnSelected = p.pick
	l.ExtendBaseWidget(l)
	return l
}

// TypedKey implements [fyne.Focusable]: the arrows pick at once.
func (l *libraryList) TypedKey(e *fyne.KeyEvent) {
	p := l.pane
	switch e.Name {
	case fyne.KeyDown, fyne.KeyUp:
		by := 1
		if e.Name == fyne.KeyUp {
			by = -1
		}
		if i := p.picked + by; i >= 0 && i < p.count() {
			l.Select(i)
		}
	default:
		if l.keys == nil || !l.keys(e) {
			l.List.TypedKey(e)
		}
	}
}
