package lesson

import (
	"context"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/lesson/plan"
	"pinphase.org/pinphase/timing/store"
)

// draftFile is where the lesson that is being made is kept in the program's own folder.
const draftFile = "draft" + plan.Ending

// draft is a lesson to be kept until it is saved.
type draft struct {
	page   *page // is told how it went
	file   string
	lesson plan.Lesson
}

// newDrafts writes drafts, the newest only.
func newDrafts(u *desk.Desk) *kit.Latest[draft] {
	drafts := kit.NewLatest(&u.InTurn, func(_ context.Context, d draft) func() {
		err := store.Mkdir(u.Files, filepath.Dir(d.file))
		if err == nil {
			_, err = store.Replace(u.Files, d.file, d.lesson.Bytes(), 0o600)
		}
		return func() { d.page.kept(err) }
	})
	u.Settles = append(u.Settles, drafts.Settle)
	return drafts
}

// keep hands the lesson over to be kept. Without a place for it the page goes on.
func (p *page) keep() {
	if p.file != "" && !p.reading {
		p.u.Prefs.SetString(prefPath, p.path)
		p.drafts.Give(draft{p, p.file, p.lesson})
	}
}

// prefPath is of the file that the kept lesson was saved in.
const prefPath = "lesson.path"

// kept says why the lesson could not be kept, and no longer once it was.
func (p *page) kept(err error) {
	words := ""
	if err != nil {
		words = with("The lesson cannot be kept: {{.Why}}. Save it to a file.", map[string]any{"Why": kit.InFull(kit.Reason(err))})
	}
	if words != "" || p.unkept != "" && p.notice.Text == p.unkept {
		p.say(words)
	}
	p.unkept = words
}

// say says something about where the lesson is kept; "" takes it away.
func (p *page) say(words string) {
	p.notice.SetText(words)
	p.notice.Hidden = words == ""
	p.notice.Refresh()
}

// keptBefore is a lesson that was kept, or what became of its file.
type keptBefore struct {
	lesson plan.Lesson
	path   string      // of the file that it was saved in; "": none that can be read
	saved  plan.Lesson // what that file holds
	err    error       // why the kept lesson could not be read
	aside  string      // where its file is kept then
	failed error       // why that is left where it is
}

// readKept reads the draft; where there is none the lesson is new. path is of the file
// that it was saved in.
func readKept(files store.Files, file, path string) (k keptBefore) {
	data, err := store.Read(files, file, plan.MaxBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return k
	}
	if err == nil {
		k.lesson, err = plan.Read(file, data)
	}
	if err != nil {
		fyne.LogError("the lesson kept from earlier could not be read", err)
		k.lesson, k.err = plan.Lesson{}, err
		k.aside, k.failed = store.Aside(files, file)
		return k
	}
	if path != "" {
		if l, err := plan.ReadFile(path); err == nil {
			k.path, k.saved = path, l
		}
	}
	return k
}

// keepIn reads the draft kept in a file and keeps it there from now on. One that cannot
// be read is put aside and said; one that cannot be put aside is left alone. Until it is
// read nothing is edited.
func (p *page) keepIn(file string) {
	p.reading = true
	p.load()
	files, path := p.u.Files, p.u.Prefs.String(prefPath)
	p.u.Background(func() func() {
		k, inTime := kit.Within(kit.Patience, func() keptBefore { return readKept(files, file, path) })
		if !inTime {
			k = keptBefore{err: os.ErrDeadlineExceeded, failed: os.ErrDeadlineExceeded}
		}
		return func() {
			p.reading = false
			p.lesson, p.path, p.saved, p.file, p.turned = k.lesson, k.path, k.saved, file, true
			switch {
			case k.failed != nil:
				p.file = ""
				p.say(tr("The lesson kept from earlier could not be read and is left as it is; a new one cannot be kept. Save it to a file."))
			case k.err != nil:
				p.say(with("The lesson kept from earlier could not be read. It is kept as {{.Name}}.", map[string]any{"Name": filepath.Base(k.aside)}))
			}
			p.load()
			waiting := p.waiting
			p.waiting = nil
			for _, then := range waiting {
				then(p)
			}
		}
	})
}

// ready does something with the lesson, once the one kept from earlier is read.
func (p *page) ready(then func(*page)) {
	if p.reading {
		p.waiting = append(p.waiting, then)
		return
	}
	then(p)
}

// changed tells whether the lesson holds what its file does not.
func (p *page) changed() bool { return !p.lesson.Equal(p.saved) }

// sure does something that leaves the lesson, after asking where it is not saved.
func (p *page) sure(then func()) {
	if !p.changed() {
		then()
		return
	}
	p.u.Confirm(tr("Leave this lesson?"), tr("The lesson has changes that are in no file yet. They will be lost."), tr("Discard"), then)
}

// begin begins an empty lesson.
func (p *page) begin() {
	p.ready(func(p *page) {
		p.finish()
		p.sure(func() { p.set(plan.Lesson{}, "") })
	})
}

// set makes another lesson the one that is worked at.
func (p *page) set(l plan.Lesson, path string) {
	p.lesson, p.saved, p.path = l, l, path
	p.turnTo(0)
	p.keep()
	p.load()
}

// open lets the instructor choose a lesson.
func (p *page) open() {
	p.u.Open(Name, "")
	p.u.AskFile(tr("Open a lesson"), []string{plan.Ending}, p.Take)
}

// Take opens a lesson's file. What was changed while it was read is asked about again.
func (p *page) Take(path string) {
	p.u.Open(Name, "")
	p.ready(func(p *page) {
		p.finish()
		p.sure(func() {
			left := p.lesson
			p.u.Opening.Start(path, func() func() {
				l, err := plan.ReadFile(path)
				return func() {
					if err != nil {
						p.u.Tell(told(p.u, err))
						return
					}
					p.finish()
					if p.lesson.Equal(left) {
						p.set(l, path)
						return
					}
					p.sure(func() { p.set(l, path) })
				}
			})
		})
	})
}

// save lets the instructor say where to save the lesson.
func (p *page) save() {
	p.u.Open(Name, "")
	p.ready((*page).askPath)
}

func (p *page) askPath() {
	p.finish()
	folder, _ := p.u.Suggest(plan.Ending)
	name := desk.FileName(p.lesson.Title) + plan.Ending
	if p.lesson.Title == "" {
		name = tr("lesson") + plan.Ending
	}
	if p.path != "" {
		folder, name = filepath.Dir(p.path), filepath.Base(p.path)
	}
	p.u.AskPath(tr("Save the lesson as"), folder, name, plan.Ending, func(path string) {
		l := p.lesson
		p.u.WriteOut(desk.Output{Path: path, Make: func() ([]byte, error) { return l.Bytes(), nil },
			Done: func() {
				p.saved, p.path = l, path
				p.keep()
			}})
	})
}
