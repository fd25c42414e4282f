package part

import (
	"strings"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
)

// open lets the user choose a photograph.
func (b *photoBench) open() {
	b.p.u.AskFile(tr("Open a photograph"), pictureEndings, b.Take)
}

var pictureEndings = []string{".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif"}

// Take makes a file the photograph of the reading shown. Points of another
// picture mean nothing on it and are taken away, which undo brings back; they stay
// where their picture could not be found, for it is likely to be this one.
func (b *photoBench) Take(path string) { b.p.openPicture(path, func() { b.taken(path) }) }

// openPicture goes on once a file has turned out to be a picture; what else it is
// is told.
func (p *page) openPicture(path string, then func()) {
	p.u.Opening.Start(path, func() func() {
		_, err := photo.InspectFile(path)
		return func() {
			if err != nil {
				p.u.Tell(err)
				return
			}
			then()
		}
	})
}

// taken makes a picture the photograph of the reading shown.
func (b *photoBench) taken(path string) {
	u := b.p.u
	lost := b.picture.failed != nil
	b.picture.forget()
	u.Session.Seal()
	u.Edit(b.key()+".file", func(j *job.Job) {
		r := b.reading(j)
		if r == nil {
			return
		}
		file := desk.Filed(u.Folder(), path)
		if file != r.File && !lost {
			*r = job.Reading{Method: r.Method, SeenFrom: r.SeenFrom, Side: r.Side, UPx: r.UPx}
		}
		r.File = file
	})
	u.Session.Seal()
	b.p.showFigure() // also where the name is the old one
}

// Take makes a picture that was dropped on the window the photograph in view; where
// none is, the feature shown is measured on it from now on, however it was before.
func (p *page) Take(path string) { p.openPicture(path, func() { p.dropped(path) }) }

// dropped is take, once it is known to be a picture.
func (p *page) dropped(path string) {
	p.u.Open(name, "")
	if p.which.Chosen == tdcPlace {
		p.which.Set(int(p.feature))
		p.showBench(int(p.feature))
	}
	if p.pictured() == "" {
		p.looks.Set(lookMeasured)
		if !p.benches[p.feature].now().IsPhoto() {
			p.benches[p.feature].take(form.Photograph)
		}
		p.showFigure()
	}
	p.photo.taken(path)
}

// placeIn is the place of the part that a key belongs to.
func placeIn(key string) (int, bool) {
	of, _, _ := strings.Cut(key, ".")
	return desk.PlaceOfPart(of)
}

// holdsMarks tells whether a key is of marks on a photograph, or of a part that is not
// compared.
func holdsMarks(d *desk.Desk, key string) bool {
	if _, ok := placeIn(key); ok {
		return true
	}
	section, which, kind := desk.CutKey(key)
	j := d.Session.Job()
	return desk.PhotoIn(&j, section, which) != nil && kind != "u_px"
}

// ShowField shows the photograph that a key belongs to, or gives the keyboard to the
// field of a part.
func (p *page) ShowField(key string) {
	section, which, kind := desk.CutKey(key)
	j := p.u.Session.Job()
	p.parts.show(key)
	if _, ok := placeIn(key); ok {
		p.parts.editing = which != "" && kind == "" && section != "dowel" && section != "keyway"
	} else if held := j.PartHolding(section, which); held != nil { // the chosen one's picture is the one to be seen
		for i := range j.Parts {
			if held == &j.Parts[i] {
				p.parts.choose(i)
			}
		}
	}
	p.looks.Set(lookAt(which))
	p.TurnTo(section)
	if _, ok := placeIn(key); ok {
		p.form.Focus(key)
	}
}
