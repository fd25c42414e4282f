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
	if p.u.Own != "" && !p.reading {
		p.drafts.Give(draft{p, filepath.Join(p.u.Own, draftFile), p.lesson})
	}
}

func (p *page) kept(err error) {
	words := ""
	if err != nil {
		words = with("The lesson cannot be kept: {{.Why}}. Save it to a file.", map[string]any{"Why": kit.InFull(kit.Reason(err))})
	}
	p.say(words)
}

// say says something about where the lesson is kept; "" takes it away.
func (p *page) say(words string) {
	p.notice.SetText(words)
	p.notice.Hidden = words == ""
	p.notice.Refresh()
}

// keepIn reads the draft kept in a file. One that cannot be read is put aside and said.
func (p *page) keepIn(file string) {
	p.reading = true
	files := p.u.Files
	type before struct {
		lesson plan.Lesson
		err    error
		aside  string
	}
	p.u.Background(func() func() {
		found, inTime := kit.Within(kit.Patience, func() (b before) {
			data, err := store.Read(files, file, plan.MaxBytes)
			if errors.Is(err, fs.ErrNotExist) {
				return b
			}
			if err == nil {
				b.lesson, err = plan.Read(file, data)
			}
			if b.err = err; err != nil {
				b.aside, _ = store.Aside(files, file)
			}
			return b
		})
		if !inTime {
			found = before{err: os.ErrDeadlineExceeded}
		}
		return func() {
			p.reading = false
			if found.err != nil {
				fyne.LogError("the lesson kept from earlier could not be read", found.err)
				p.say(with("The lesson kept from earlier could not be read. It is kept as {{.Name}}.", map[string]any{"Name": filepath.Base(found.aside)}))
			} else if len(p.lesson.Engines) == 0 { // nothing was begun meanwhile
				p.lesson = found.lesson
			}
			p.load()
		}
	})
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
	p.finish()
	p.sure(func() { p.set(plan.Lesson{}, "") })
}

// set makes another lesson the one that is worked at.
func (p *page) set(l plan.Lesson, path string) {
	p.lesson, p.saved, p.path, p.at = l, l, path, 0
	p.preview.page, p.preview.answer = 0, false
	p.keep()
	p.load()
}

// open lets the instructor choose a lesson.
func (p *page) open() {
	p.u.Open(Name, "")
	p.u.AskFile(tr("Open a lesson"), []string{plan.Ending}, p.Take)
}

// Take opens a lesson's file.
func (p *page) Take(path string) {
	p.u.Open(Name, "")
	p.finish()
	p.sure(func() {
		p.u.Opening.Start(path, func() func() {
			l, err := plan.ReadFile(path)
			return func() {
				if err != nil {
					p.u.Tell(told(p.u, err))
					return
				}
				p.set(l, path)
			}
		})
	})
}

// save lets the instructor say where to save the lesson.
func (p *page) save() {
	p.u.Open(Name, "")
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
			Done: func() { p.saved, p.path = l, path }})
	})
}
