package part

import (
	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
)

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
	for which, e := range map[string]*form.ReadingEditor{"measured": p.benches[p.feature].editor, "drawing": p.benches[p.feature].drawing} {
		if b := p.looks.Buttons[lookAt(which)]; b.Hidden == e.IsPhoto() {
			b.Hidden = !b.Hidden
			p.looks.Content.Refresh()
		}
	}
	p.looks.Content.Hidden = p.looks.Buttons[lookMeasured].Hidden && p.looks.Buttons[lookDrawing].Hidden
	if which := p.pictured(); which != "" {
		p.looks.Set(lookAt(which))
	}
}

// loadMarks shows the points of the feature's photographs beside their readings.
func (p *page) loadMarks() {
	j := p.u.Session.Job() // with the points just placed, too few as they may be
	for which, m := range p.benches[p.feature].marks {
		if r := desk.PhotoIn(&j, desk.SectionOf(p.feature), which); r != nil {
			m.load(r)
		}
	}
}
