package part

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// pointKind is a kind of points on a photograph.
type pointKind struct {
	kind string
	name phrase.Text
	most int // of them; 0: any number
	hint phrase.Text
}

// pointKinds are all of them, in the order in which they are marked.
var pointKinds = []pointKind{
	{"rim", "Rim of the face", 0, "Mark five points or more, spread all round the rim. More points reduce the uncertainty of the angle."},
	{"keyway", "Keyway", 2, "Mark the two corners where the walls of the keyway meet the rim."},
	{"dowel", "Dowel", 0, "Mark three points or more on its edge where it meets the face, or only its middle."},
	{"throw", "No. 1 throw", 0, "Mark three points or more on the edge of the crankpin, or only its middle."},
	{"centre", "Centre drilling", 1, "Optional. Its middle removes the perspective of a picture taken from close by."},
	{"bolts", "Bolt holes", 0, "Optional. Mark all holes of an evenly spaced circle, clockwise as you see them."},
}

func kindOf(kind string) pointKind {
	return pointKinds[slices.IndexFunc(pointKinds, func(k pointKind) bool { return k.kind == kind })]
}

// marksPanel stands beside a photograph: which it is, which points it has, and
// which kind the next click places.
type marksPanel struct {
	p       *page
	which   string // "drawing" or "measured"
	content *fyne.Container
	file    *widget.Label
	kinds   []string
	rows    *kit.OneOf
	hint    *widget.Label
	clear   *widget.Button
}

func newMarksPanel(p *page, b *bench, which string) *marksPanel {
	m := &marksPanel{p: p, which: which, file: kit.Wrapped("").(*widget.Label), hint: kit.Prose()}
	other := "throw"
	if b.feature == figure.KeywayFromThrow {
		other = "dowel"
	}
	var names []string
	for _, k := range pointKinds {
		if k.kind != other {
			m.kinds, names = append(m.kinds, k.kind), append(names, tr(k.name))
			if k.kind != "centre" { // which coordinates have too, where it is no drilling
				p.u.Labels[b.section+"."+which+"."+k.kind] = tr(k.name)
			}
		}
	}
	p.u.Labels[b.section+"."+which+".file"] = tr("Photograph")
	m.rows = kit.NewOneOf(func(int) { m.show() }, names...).InColumn()
	m.rows.Set(0)
	open := widget.NewButton(tr("Open a photograph…"), func() {
		m.show()
		p.photo.open()
	})
	m.clear = widget.NewButton(tr("Remove all points"), func() {
		m.show()
		p.photo.clear()
	})
	m.content = container.NewVBox(
		container.NewBorder(nil, nil, nil, container.NewVBox(open), m.file),
		m.rows.Content, m.hint, container.NewHBox(m.clear))
	return m
}

// kind is the kind that the next click places.
func (m *marksPanel) kind() string { return m.kinds[m.rows.Chosen] }

// set chooses the kind that the next click places.
func (m *marksPanel) set(kind string) {
	m.rows.Set(slices.Index(m.kinds, kind))
	m.place()
}

// show brings the panel's own photograph into the view.
func (m *marksPanel) show() {
	m.p.looks.Set(lookAt(m.which))
	m.p.showFigure()
	m.place()
}

// place tells the user of the chosen kind, and the view where it shows the panel's
// photograph.
func (m *marksPanel) place() {
	m.hint.SetText(tr(kindOf(m.kind()).hint))
	if m.p.photo != nil && m.p.photo.panel() == m {
		m.p.photo.view.PlaceKind = m.kind()
	}
}

// load shows the points of a reading.
func (m *marksPanel) load(r *job.Reading) {
	file := r.File
	if file == "" {
		file = tr("No photograph yet")
	}
	if m.file.Text != file {
		m.file.SetText(file)
	}
	any := false
	for i, kind := range m.kinds {
		n := len(*desk.PointsOf(r, kind))
		any = any || n > 0
		text := m.says(kind, n)
		if b := m.rows.Buttons[i]; b.Text != text {
			b.SetText(text)
		}
	}
	if any == m.clear.Disabled() {
		if any {
			m.clear.Enable()
		} else {
			m.clear.Disable()
		}
	}
	m.place()
}

// says is a kind with how many of its points are there.
func (m *marksPanel) says(kind string, n int) string {
	k := kindOf(kind)
	data := map[string]any{"Name": tr(k.name), "N": n, "Most": k.most}
	switch {
	case n == 0:
		return with("{{.Name}}: no points", data)
	case k.most > 0:
		return with("{{.Name}}: {{.N}} of {{.Most}}", data)
	case kind == "rim" && n < 5:
		return with("{{.Name}}: {{.N}} of 5 or more", data)
	}
	return with("{{.Name}}: {{.N}}", data)
}
