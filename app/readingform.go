package app

import (
	"errors"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase/timing/job"
)

// The methods of measuring that the form offers, and what they are called.
var methods = []struct{ value, name string }{
	{"angle", "angle, read off"},
	{"chord", "straight distance"},
	{"arc", "along a rim"},
	{"xy", "coordinates"},
}

// Sides are named with the end they are seen from.
var sideNames = map[string][]string{
	"nose":     {"clockwise, seen from the nose", "anticlockwise, seen from the nose"},
	"flywheel": {"clockwise, seen from the flywheel", "anticlockwise, seen from the flywheel"},
}

var sides = []string{"clockwise", "anticlockwise"}

// feature is the form of [dowel] or [keyway].
func (f *form) feature(section string) []row {
	at := func(j *job.Job) **job.Feature {
		if section == "keyway" {
			return &j.Keyway
		}
		return &j.Dowel
	}
	rows := []row{f.choice(section+".seen_from", tr("You look from"), []string{tr("the nose"), tr("the flywheel")}, []string{"nose", "flywheel"},
		func(j job.Job) string { return seenFrom(*at(&j), nil) },
		func(j *job.Job, v string) {
			if p := *at(j); p != nil {
				p.SeenFrom = v
			}
		})}
	for _, which := range []string{"drawing", "measured"} {
		e := newReadingEditor(f, section, which, at)
		f.inputs = append(f.inputs, e)
		f.editors = append(f.editors, e)
		rows = append(rows, row{"", e.content})
	}
	return rows
}

// seenFrom is the end a reading is seen from: its own, its feature's, or the
// nose.
func seenFrom(f *job.Feature, r *job.Reading) string {
	if r != nil && r.SeenFrom != "" {
		return r.SeenFrom
	}
	if f != nil && f.SeenFrom != "" {
		return f.SeenFrom
	}
	return "nose"
}

// readingEditor edits one reading: whether there is one, its method, and the
// fields that method has.
type readingEditor struct {
	f       *form
	section string
	which   string // "drawing" or "measured"
	at      func(*job.Job) **job.Feature

	content *fyne.Container
	given   *widget.Check
	method  *widget.Select
	side    *widget.Select
	fields  *fyne.Container
	inputs  map[string][]*fieldInput // by method
	rows    map[string]fyne.CanvasObject
	message *widget.Label
	shown   string                 // the method whose fields are shown
	kept    map[string]job.Reading // what was typed for the methods not in use
}

func newReadingEditor(f *form, section, which string, at func(*job.Job) **job.Feature) *readingEditor {
	e := &readingEditor{
		f: f, section: section, which: which, at: at,
		message: messageLabel(), inputs: map[string][]*fieldInput{}, rows: map[string]fyne.CanvasObject{}, kept: map[string]job.Reading{},
	}
	names := make([]string, len(methods))
	for i, m := range methods {
		names[i] = tr(m.name)
	}
	givenText := tr("Drawing")
	if which == "measured" {
		givenText = tr("Measured")
	}
	e.given = widget.NewCheck(givenText, e.setGiven)
	e.method = widget.NewSelect(names, func(string) { e.setMethod() })
	e.side = widget.NewSelect(sideNames["nose"], func(string) { e.setSide() })
	for _, m := range methods {
		e.rows[m.value] = e.methodRows(m.value)
	}
	e.fields = container.NewStack()
	e.content = container.NewVBox(widget.NewSeparator(), container.NewBorder(nil, nil, e.given, nil, e.method), e.fields, e.side, e.message)
	return e
}

// methodRows are the fields of one method.
func (e *readingEditor) methodRows(method string) fyne.CanvasObject {
	own, ownLabel := "dowel_radius_mm", tr("Dowel radius")
	if e.section == "keyway" {
		own, ownLabel = "throw_radius_mm", tr("Throw radius")
	}
	ownRadius := func(r *job.Reading) *job.Number {
		if e.section == "keyway" {
			return &r.ThrowRadiusMM
		}
		return &r.DowelRadiusMM
	}
	var rows []row
	add := func(key, label, unit string, at func(*job.Reading) *job.Number) {
		rows = append(rows, e.number(method, key, label, unit, at))
	}
	switch method {
	case "angle":
		add("angle_deg", tr("Angle"), "°", func(r *job.Reading) *job.Number { return &r.AngleDeg })
		add("u_deg", tr("± (standard)"), "°", func(r *job.Reading) *job.Number { return &r.UDeg })
	case "chord":
		add("chord_mm", tr("Distance"), "mm", func(r *job.Reading) *job.Number { return &r.ChordMM })
		add(own, ownLabel, "mm", ownRadius)
		add("keyway_radius_mm", tr("Keyway radius"), "mm", func(r *job.Reading) *job.Number { return &r.KeywayRadiusMM })
		add("u_mm", tr("± (standard)"), "mm", func(r *job.Reading) *job.Number { return &r.UMM })
		add("u_radius_mm", tr("± of the radii"), "mm", func(r *job.Reading) *job.Number { return &r.URadiusMM })
	case "arc":
		add("arc_mm", tr("Length"), "mm", func(r *job.Reading) *job.Number { return &r.ArcMM })
		add("rim_radius_mm", tr("Rim radius"), "mm", func(r *job.Reading) *job.Number { return &r.RimRadiusMM })
		add("u_mm", tr("± (standard)"), "mm", func(r *job.Reading) *job.Number { return &r.UMM })
		add("u_radius_mm", tr("± of the radius"), "mm", func(r *job.Reading) *job.Number { return &r.URadiusMM })
	case "xy":
		rows = append(rows, e.point("centre", tr("Centre x, y"), func(r *job.Reading) *[]job.Point { return &r.Centre }))
		if e.section == "keyway" {
			rows = append(rows, e.point("throw", tr("Throw x, y"), func(r *job.Reading) *[]job.Point { return &r.Throw }))
		}
		rows = append(rows, e.point("keyway", tr("Keyway x, y"), func(r *job.Reading) *[]job.Point { return &r.Keyway }))
		if e.section == "dowel" {
			rows = append(rows, e.point("dowel", tr("Dowel x, y"), func(r *job.Reading) *[]job.Point { return &r.Dowel }))
		}
		add("u_mm", tr("± (standard)"), "", func(r *job.Reading) *job.Number { return &r.UMM })
	}
	return stacked(rows)
}

// number is a field of a reading. It is loaded and shown by the editor, not by
// the form, because only the fields of one method are in use.
func (e *readingEditor) number(method, key, label, unit string, at func(*job.Reading) *job.Number) row {
	return e.field(method, key, label, unit,
		func(r *job.Reading) string { return showNumber(*at(r)) },
		func(r *job.Reading, s string) error {
			n, err := readNumber(s)
			if err == nil {
				*at(r) = n
			}
			return err
		}, sameNumber)
}

func (e *readingEditor) point(key, label string, at func(*job.Reading) *[]job.Point) row {
	return e.field("xy", key, label, "",
		func(r *job.Reading) string {
			if p := *at(r); len(p) == 1 {
				return showNumber(job.Num(p[0].X)) + "; " + showNumber(job.Num(p[0].Y))
			}
			return ""
		},
		func(r *job.Reading, s string) error {
			p, err := parsePoint(s)
			if err == nil {
				*at(r) = p
			}
			return err
		}, samePoint)
}

func (e *readingEditor) field(method, key, label, unit string, get func(*job.Reading) string, set func(*job.Reading, string) error, same func(a, b string) bool) row {
	full := e.section + "." + e.which + "." + key
	n := len(e.f.inputs)
	r := e.f.field(full, label, unit, 1,
		func(j job.Job) string {
			if r := e.reading(&j); r != nil {
				return get(r)
			}
			return ""
		},
		func(j *job.Job, s string) error {
			if r := e.reading(j); r != nil {
				return set(r, s)
			}
			return nil
		}, same)
	i := e.f.inputs[n].(*fieldInput)
	e.f.inputs = e.f.inputs[:n]
	e.inputs[method] = append(e.inputs[method], i)
	return r
}

// reading is the edited reading of a job, nil when it has none.
func (e *readingEditor) reading(j *job.Job) *job.Reading {
	p := *e.at(j)
	switch {
	case p == nil:
		return nil
	case e.which == "drawing":
		return p.Drawing
	}
	return p.Measured
}

func (e *readingEditor) put(j *job.Job, r *job.Reading) {
	p := e.at(j)
	if *p == nil {
		*p = &job.Feature{}
	}
	if e.which == "drawing" {
		(*p).Drawing = r
	} else {
		(*p).Measured = r
	}
}

func (e *readingEditor) key() string { return e.section + "." + e.which }

// setGiven puts in or takes out the reading; what was typed is kept for when it
// is put in again.
func (e *readingEditor) setGiven(on bool) {
	e.f.edit(e.key(), func(j *job.Job) {
		r := e.reading(j)
		switch {
		case on && r == nil:
			next, ok := e.kept[""]
			if !ok {
				next = job.Reading{Method: "angle", AngleDeg: job.Num(0), Side: "clockwise"}
			}
			e.put(j, &next)
		case !on && r != nil:
			e.kept[""] = *r
			e.put(j, nil)
		}
	})
	e.f.sealUnlessLoading()
}

// setMethod changes the method. The fields of the old one leave the job, where
// they would mean nothing, and come back with their method.
func (e *readingEditor) setMethod() {
	k := e.method.SelectedIndex()
	if k < 0 {
		return
	}
	to := methods[k].value
	e.f.edit(e.key(), func(j *job.Job) {
		r := e.reading(j)
		if r == nil || methodOf(r) == to {
			return
		}
		e.kept[methodOf(r)] = *r
		next, ok := e.kept[to]
		if !ok {
			next = job.Reading{Method: to, Side: r.Side}
			if to == "xy" {
				next.Side = ""
			} else if next.Side == "" {
				next.Side = "clockwise"
			}
		}
		next.SeenFrom = r.SeenFrom
		e.put(j, &next)
	})
	e.f.sealUnlessLoading()
}

func methodOf(r *job.Reading) string {
	if r.Method == "" {
		return "angle"
	}
	return r.Method
}

func (e *readingEditor) setSide() {
	k := e.side.SelectedIndex()
	if k < 0 {
		return
	}
	e.f.edit(e.key()+".side", func(j *job.Job) {
		if r := e.reading(j); r != nil {
			r.Side = sides[k]
		}
	})
	e.f.sealUnlessLoading()
}

// load implements input.
func (e *readingEditor) load(j job.Job) {
	j = j.Clone()
	r := e.reading(&j)
	if e.given.Checked != (r != nil) {
		e.given.SetChecked(r != nil)
	}
	show := ""
	if r != nil {
		show = methodOf(r)
	}
	e.showMethod(show)
	e.loadSide(*e.at(&j), r)
	for _, i := range e.inputs[e.shown] {
		i.load(j)
	}
}

func (e *readingEditor) showMethod(method string) {
	k := slices.IndexFunc(methods, func(m struct{ value, name string }) bool { return m.value == method })
	if k >= 0 {
		e.method.Show()
		if e.method.SelectedIndex() != k {
			e.method.SetSelectedIndex(k)
		}
	} else {
		e.method.Hide()
	}
	if method == e.shown {
		return
	}
	e.shown = method
	e.fields.RemoveAll()
	if k >= 0 {
		e.fields.Add(e.rows[method])
	} else if method == "photo" {
		e.fields.Add(widget.NewLabel(tr("from a photograph: edit it in the file")))
	}
	e.content.Refresh()
}

func (e *readingEditor) loadSide(p *job.Feature, r *job.Reading) {
	if r == nil || r.Method == "xy" || r.Method == "photo" {
		e.side.Hide()
		return
	}
	e.side.Show()
	names := make([]string, len(sides))
	for i, n := range sideNames[seenFrom(p, r)] {
		names[i] = tr(n)
	}
	if !slices.Equal(e.side.Options, names) {
		e.side.SetOptions(names)
		e.side.ClearSelected()
	}
	if k := slices.Index(sides, r.Side); k != e.side.SelectedIndex() {
		if k < 0 {
			e.side.ClearSelected()
		} else {
			e.side.SetSelectedIndex(k)
		}
	}
}

func (e *readingEditor) keys() []string { return []string{e.key()} }

// fault implements input: a fault is shown below the fields, where it names
// its own.
func (e *readingEditor) fault(message string) { showMessage(e.message, message) }

func (e *readingEditor) forget() {
	e.kept = map[string]job.Reading{}
	for _, list := range e.inputs {
		for _, i := range list {
			i.forget()
		}
	}
}

func (e *readingEditor) focus() fyne.Focusable { return e.given }

// parsePoint reads "x; y" or "x, y" with decimal points. An empty text is no
// point.
func parsePoint(text string) ([]job.Point, error) {
	list, err := parseNumbers(text)
	if err != nil || len(list) == 0 {
		return nil, err
	}
	if len(list) != 2 {
		return nil, errors.New(tr("two numbers are wanted, x and y, as in 12.5; −3"))
	}
	return []job.Point{{X: list[0], Y: list[1]}}, nil
}

func samePoint(a, b string) bool {
	x, errX := parsePoint(a)
	y, errY := parsePoint(b)
	return errX == nil && errY == nil && slices.Equal(x, y)
}
