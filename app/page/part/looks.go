package part

import (
	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
)

// readingOf says which reading of the job an editor's is.
func (p *page) readingOf(which string) string {
	if which == form.Other {
		return desk.PartAt(p.parts.chosen)
	}
	return which
}

// What the page's right side can show of a feature, as the buttons stand.
const (
	lookMeasured = iota // the photograph it was measured on
	lookDrawing         // the one its drawing's angle is taken from, as of an old part
	lookToScale
)

// lookAt is the button for a reading's photograph.
func lookAt(which string) int {
	if which == "drawing" {
		return lookDrawing
	}
	return lookMeasured
}

// pictured is the reading whose photograph is shown, "" where none is.
func (p *page) pictured() string {
	if p.parts.several() {
		if e := p.benches[p.feature].now(); p.looks.Chosen != lookToScale && e.IsPhoto() {
			return e.Which
		}
		return ""
	}
	measured, drawing := p.benches[p.feature].editor.IsPhoto(), p.benches[p.feature].drawing.IsPhoto()
	switch {
	case p.looks.Chosen == lookToScale || !measured && !drawing:
		return ""
	case drawing && (p.looks.Chosen == lookDrawing || !measured):
		return "drawing"
	}
	return "measured"
}

// loadLooks offers the photographs there are.
func (p *page) loadLooks() {
	bench := p.benches[p.feature]
	has := map[string]bool{"measured": bench.editor.IsPhoto(), "drawing": bench.drawing.IsPhoto()}
	if p.parts.several() {
		has = map[string]bool{"measured": bench.now().IsPhoto(), "drawing": false}
	}
	for which, on := range has {
		if b := p.looks.Buttons[lookAt(which)]; b.Hidden == on {
			b.Hidden = !b.Hidden
			p.looks.Content.Refresh()
		}
	}
	p.looks.Content.Hidden = p.looks.Buttons[lookMeasured].Hidden && p.looks.Buttons[lookDrawing].Hidden
	switch which := p.pictured(); {
	case which != "" && p.parts.several():
		p.looks.Set(lookMeasured)
	case which != "":
		p.looks.Set(lookAt(which))
	}
}

// loadMarks shows the points of the feature's photographs beside their readings.
func (p *page) loadMarks() {
	j := p.u.Session.Job() // with the points just placed, too few as they may be
	for which, m := range p.benches[p.feature].marks {
		if r := desk.PhotoIn(&j, desk.SectionOf(p.feature), p.readingOf(which)); r != nil {
			m.load(r)
		}
	}
}
