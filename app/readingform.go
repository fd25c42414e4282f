package app

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
)

// Sides are named with the end they are seen from, and so is the way a degree
// wheel counts.
var (
	sides     = []string{"clockwise", "anticlockwise"}
	sideNames = map[string][]string{
		"nose":     {"clockwise, seen from the nose", "anticlockwise, seen from the nose"},
		"flywheel": {"clockwise, seen from the flywheel", "anticlockwise, seen from the flywheel"},
	}
	countNames = map[string][]string{
		"nose":     {"counts clockwise, seen from the nose", "counts anticlockwise, seen from the nose"},
		"flywheel": {"counts clockwise, seen from the flywheel", "counts anticlockwise, seen from the flywheel"},
	}
)

// feature is the form of [dowel] or [keyway].
func (f *form) feature(section string) []row {
	rows := []row{f.seenFromRow(section)}
	for _, which := range []string{"drawing", "measured"} {
		rows = append(rows, row{"", newReadingEditor(f, section, which).content})
	}
	return rows
}

func (f *form) seenFromRow(section string) row {
	at := desk.FeatureOf(section)
	return f.choice(section+".seen_from", tr("You look from"), []string{tr("the nose"), tr("the flywheel")}, []string{"nose", "flywheel"},
		func(j job.Job) string { return seenFrom(*at(&j), nil) },
		func(j *job.Job, v string) {
			if p := *at(j); p != nil {
				p.SeenFrom = v
			}
		})
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
	given   *kit.Check
	method  *widget.Select
	side    *widget.Select // or the way the degree wheel counts
	fields  *fyne.Container
	inputs  map[int][]*fieldInput // by place in measurings
	rows    []fyne.CanvasObject   // likewise
	message *widget.Label
	shown   int                 // place in measurings of the fields shown; -1: none
	kept    map[int]job.Reading // what was typed for the methods not in use; under -1 what was taken out
	onShown func(measuring int) // tells of the method shown; may be nil
	byCards bool                // the method is chosen elsewhere
	picture *fyne.Container     // where a photograph's marks are told of
}

func newReadingEditor(f *form, section, which string) *readingEditor {
	e := &readingEditor{
		f: f, section: section, which: which, at: desk.FeatureOf(section),
		message: kit.MessageLabel(), inputs: map[int][]*fieldInput{}, kept: map[int]job.Reading{}, shown: -1,
	}
	var names []string
	for _, m := range measurings {
		names = append(names, tr(m.name))
	}
	givenText := tr("Drawing")
	if which == "measured" {
		givenText = tr("Measured")
	}
	e.given = kit.NewCheck(givenText, e.setGiven)
	e.method = widget.NewSelect(names, func(string) { e.setMethod(e.method.SelectedIndex()) })
	e.side = widget.NewSelect(nil, func(string) { e.setSide() })
	e.side.PlaceHolder = tr("clockwise or anticlockwise?")
	e.picture = container.NewVBox(kit.Wrapped(tr("The points are marked on the Part page.")))
	for i := range measurings {
		e.rows = append(e.rows, e.methodRows(i))
	}
	e.fields = container.NewStack()
	e.content = container.NewVBox(widget.NewSeparator(), container.NewBorder(nil, nil, e.given, nil, e.method), e.fields, e.side, e.message)
	f.inputs = append(f.inputs, e)
	f.editors = append(f.editors, e)
	return e
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
		if end := e.f.u.Prefs.NewEnd(); end != timing.Nose {
			(*p).SeenFrom = end.String()
		}
	}
	if e.which == "drawing" {
		(*p).Drawing = r
	} else {
		(*p).Measured = r
	}
}

// isPhoto tells whether the reading is taken from a photograph.
func (e *readingEditor) isPhoto() bool { return e.shown == photoMeasuring }

func (e *readingEditor) key() string { return e.section + "." + e.which }

// setGiven puts in or takes out the reading; what was typed is kept for when it
// is put in again.
func (e *readingEditor) setGiven(on bool) {
	e.f.edit(e.key(), func(j *job.Job) {
		r := e.reading(j)
		switch {
		case on && r == nil:
			next, ok := e.kept[-1]
			if !ok {
				next = job.Reading{Method: "angle"}
			}
			e.put(j, &next)
		case !on && r != nil:
			e.kept[-1] = *r
			e.put(j, nil)
		}
	})
	e.f.sealUnlessLoading()
}

// setMethod changes the method; without a reading there is one from then on. The
// fields of the old method leave the job, where they would mean nothing, and come
// back with it. Nothing is taken for granted that was not said, least of all on
// which side a feature lies.
func (e *readingEditor) setMethod(to int) {
	if to < 0 {
		return
	}
	m := measurings[to]
	e.f.edit(e.key(), func(j *job.Job) {
		r := e.reading(j)
		from := measuringOf(r)
		if r == nil {
			r = &job.Reading{}
		} else if from == to {
			return
		} else {
			e.kept[from] = *r
		}
		next, ok := e.kept[to]
		if !ok {
			next = job.Reading{Method: m.method, Over: m.over, On: m.on}
			if m.side {
				next.Side = r.Side
			}
			if from >= 0 && measurings[from].method == m.method { // the same readings, taken at other places
				next = *r
				next.Over, next.On = m.over, m.on
			}
		}
		next.SeenFrom = r.SeenFrom
		e.put(j, &next)
	})
	e.f.sealUnlessLoading()
}

func (e *readingEditor) setSide() {
	k := e.side.SelectedIndex()
	if k < 0 {
		return
	}
	e.f.edit(e.key()+".side", func(j *job.Job) {
		if r := e.reading(j); r != nil {
			*e.sense(r) = sides[k]
		}
	})
	e.f.sealUnlessLoading()
}

// sense is what the reader picks between the two senses of turning for.
func (e *readingEditor) sense(r *job.Reading) *string {
	if r.Method == "degree_wheel" {
		return &r.Counts
	}
	return &r.Side
}

// load implements input.
func (e *readingEditor) load(j job.Job) {
	j = j.Clone()
	r := e.reading(&j)
	if e.given.Checked != (r != nil) {
		e.given.SetChecked(r != nil)
	}
	e.showMethod(measuringOf(r))
	e.loadSide(*e.at(&j), r)
	for _, i := range e.inputs[e.shown] {
		i.load(j)
	}
}

func (e *readingEditor) showMethod(m int) {
	e.method.Hidden = m < 0 || e.byCards
	if m >= 0 {
		if e.method.SelectedIndex() != m {
			e.method.SetSelectedIndex(m)
		}
	}
	if m == e.shown {
		return
	}
	e.shown = m
	e.fields.RemoveAll()
	if m >= 0 {
		e.fields.Add(e.rows[m])
	}
	e.content.Refresh()
	if e.onShown != nil {
		e.onShown(m)
	}
}

func (e *readingEditor) loadSide(p *job.Feature, r *job.Reading) {
	if e.shown < 0 || !measurings[e.shown].side && !measurings[e.shown].counts {
		e.side.Hide()
		return
	}
	e.side.Show()
	list := sideNames[seenFrom(p, r)]
	if measurings[e.shown].counts {
		list = countNames[seenFrom(p, r)]
	}
	names := make([]string, len(list))
	for i, n := range list {
		names[i] = tr(n)
	}
	if !slices.Equal(e.side.Options, names) {
		e.side.SetOptions(names)
		e.side.ClearSelected()
	}
	if k := slices.Index(sides, *e.sense(r)); k != e.side.SelectedIndex() {
		if k < 0 {
			e.side.ClearSelected()
		} else {
			e.side.SetSelectedIndex(k)
		}
	}
}

func (e *readingEditor) keys() []string { return []string{e.key()} }

// fault implements input: a fault that no field of the method shows.
func (e *readingEditor) fault(message string) {
	if e.f.u.Unfinished() != "" {
		message = "" // points still to be marked are no mistake
	}
	kit.ShowMessage(e.message, message)
}

func (e *readingEditor) forget() {
	e.kept = map[int]job.Reading{}
	for _, list := range e.inputs {
		for _, i := range list {
			i.forget()
		}
	}
}

func (e *readingEditor) focus() fyne.Focusable { return e.given }
