package app

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/job"
)

// pointKind is a kind of points on a photograph.
type pointKind struct {
	kind, name string
	most       int // of them; 0: any number
	hint       string
}

// pointKinds are all of them, in the order in which they are marked.
var pointKinds = []pointKind{
	{"rim", "Rim of the face", 0, "Mark five points or more, spread all round the rim. More points make the angle surer."},
	{"keyway", "Keyway", 2, "Mark the two corners where the walls of the keyway meet the rim."},
	{"dowel", "Dowel", 0, "Mark three points or more on its edge where it meets the face, or only its middle."},
	{"throw", "No. 1 throw", 0, "Mark three points or more on the edge of the crankpin, or only its middle."},
	{"centre", "Centre drilling", 1, "May be left out. Its middle takes out the perspective of a picture taken from near by."},
	{"bolts", "Bolt holes", 0, "May be left out. Mark all holes of an evenly spaced circle, clockwise as you see them."},
}

func kindOf(kind string) pointKind {
	return pointKinds[slices.IndexFunc(pointKinds, func(k pointKind) bool { return k.kind == kind })]
}

// pointsOf is the list of a kind's points in a reading.
func pointsOf(r *job.Reading, kind string) *[]job.Point {
	switch kind {
	case "keyway":
		return &r.Keyway
	case "dowel":
		return &r.Dowel
	case "throw":
		return &r.Throw
	case "centre":
		return &r.Centre
	case "bolts":
		return &r.Bolts
	}
	return &r.Rim
}

// wanted says how much more of a kind's points a reading of a section needs, ""
// for none; the kind "file" is the picture itself.
func wanted(r *job.Reading, section, kind string) string {
	n := 0
	if kind != "file" {
		n = len(*pointsOf(r, kind))
	}
	more := func(text string, most int) string { return with(text, map[string]any{"N": most - n}) }
	switch own := featureKind(section); {
	case kind == "file" && strings.TrimSpace(r.File) == "":
		return tr("a photograph to mark")
	case kind == "rim" && n < 4:
		return more("{{.N}} points on the rim", 5)
	case kind == "rim" && n == 4:
		return tr("one more point on the rim")
	case kind == "keyway" && n == 0:
		return tr("both corners of the keyway")
	case kind == "keyway" && n == 1:
		return tr("the other corner of the keyway")
	case kind == own && n == 0 && own == "throw":
		return tr("the No. 1 throw")
	case kind == own && n == 0:
		return tr("the dowel")
	case kind == own && n == 2:
		return tr("one more point on the edge of the dowel or throw")
	case kind == "bolts" && n == 3:
		return tr("one more bolt hole")
	case kind == "bolts" && n > 0 && n < 3:
		return more("{{.N}} more bolt holes", 4)
	}
	return ""
}

// featureKind is the kind of points of the feature that a section measures
// besides the keyway.
func featureKind(section string) string {
	if section == "keyway" {
		return "throw"
	}
	return "dowel"
}

// photoIn is the photograph that a reading of a section was taken from, nil where it
// was taken otherwise.
func photoIn(j *job.Job, section, which string) *job.Reading {
	if r := readingAt(j, section, which); r != nil && r.Method == "photo" {
		return r
	}
	return nil
}

// marksPanel stands beside a photograph: which it is, which points it has, and
// which kind the next click places.
type marksPanel struct {
	p       *partPage
	which   string // "drawing" or "measured"
	content *fyne.Container
	file    *widget.Label
	kinds   []string
	rows    *oneOf
	hint    *widget.Label
	clear   *widget.Button
}

func newMarksPanel(p *partPage, b *bench, which string) *marksPanel {
	m := &marksPanel{p: p, which: which, file: wrapped("").(*widget.Label), hint: prose()}
	other := "throw"
	if b.feature == figure.KeywayFromThrow {
		other = "dowel"
	}
	var names []string
	for _, k := range pointKinds {
		if k.kind != other {
			m.kinds, names = append(m.kinds, k.kind), append(names, tr(k.name))
			if k.kind != "centre" { // which coordinates have too, where it is no drilling
				p.u.labels[b.section+"."+which+"."+k.kind] = tr(k.name)
			}
		}
	}
	p.u.labels[b.section+"."+which+".file"] = tr("Photograph")
	m.rows = newOneOf(func(int) { m.show() }, names...).inColumn()
	m.rows.set(0)
	open := widget.NewButton(tr("Open a photograph…"), func() {
		m.show()
		p.photo.open()
	})
	m.clear = widget.NewButton(tr("Take all points away"), func() {
		m.show()
		p.photo.clear()
	})
	m.content = container.NewVBox(
		container.NewBorder(nil, nil, nil, container.NewVBox(open), m.file),
		m.rows.content, m.hint, container.NewHBox(m.clear))
	return m
}

// kind is the kind that the next click places.
func (m *marksPanel) kind() string { return m.kinds[m.rows.chosen] }

// set chooses the kind that the next click places.
func (m *marksPanel) set(kind string) {
	m.rows.set(slices.Index(m.kinds, kind))
	m.place()
}

// show brings the panel's own photograph into the view.
func (m *marksPanel) show() {
	m.p.looks.set(lookAt(m.which))
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
		n := len(*pointsOf(r, kind))
		any = any || n > 0
		text := m.says(kind, n)
		if b := m.rows.buttons[i]; b.Text != text {
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
		return with("{{.Name}}: none", data)
	case k.most > 0:
		return with("{{.Name}}: {{.N}} of {{.Most}}", data)
	case kind == "rim" && n < 5:
		return with("{{.Name}}: {{.N}} of 5 or more", data)
	}
	return with("{{.Name}}: {{.N}}", data)
}
