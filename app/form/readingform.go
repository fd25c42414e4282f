package form

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// Sides are named with the end they are seen from, and so is the way a degree
// wheel counts.
var (
	sides     = []string{"clockwise", "anticlockwise"}
	sideNames = map[string][]phrase.Text{
		"nose":     {"clockwise, seen from the nose", "anticlockwise, seen from the nose"},
		"flywheel": {"clockwise, seen from the flywheel end", "anticlockwise, seen from the flywheel end"},
	}
	countNames = map[string][]phrase.Text{
		"nose":     {"counts clockwise, seen from the nose", "counts anticlockwise, seen from the nose"},
		"flywheel": {"counts clockwise, seen from the flywheel end", "counts anticlockwise, seen from the flywheel end"},
	}
)

// feature is the form of [dowel] or [keyway].
func (f *Form) feature(section string) []Row {
	rows := []Row{f.SeenFromRow(section)}
	for _, which := range []string{"drawing", "measured"} {
		rows = append(rows, Row{"", NewReadingEditor(f, section, which).Content})
	}
	return rows
}

// SeenFromRow is the end that a section's readings are seen from: those of the part that
// the form shows, else of the one in the engine, else the section's own.
func (f *Form) SeenFromRow(section string) Row {
	at := desk.FeatureOf(section)
	part := func(j *job.Job) *job.Part {
		if p := f.shownPart(j); p != nil {
			return p
		}
		return j.PartHolding(section, "measured")
	}
	return f.choice(section+".seen_from", tr("Seen from"), []string{tr("the nose (front end)"), tr("the flywheel end")}, []string{"nose", "flywheel"},
		func(j job.Job) string {
			if p := part(&j); p != nil {
				return seenFrom(&job.Feature{SeenFrom: p.SeenFrom}, p.Reading(section))
			}
			return seenFrom(*at(&j), nil)
		},
		func(j *job.Job, v string) {
			if p := part(j); p != nil {
				turn(p, section, v)
			} else if p := *at(j); p != nil {
				p.SeenFrom = v
			}
		})
}

// turn makes an end that from which a part's reading of a section is seen. Its other
// reading, of the other bench, is seen from where it was.
func turn(p *job.Part, section, end string) {
	other := "keyway"
	if section == other {
		other = "dowel"
	}
	if r := p.Reading(other); r != nil {
		r.SeenFrom = seenFrom(&job.Feature{SeenFrom: p.SeenFrom}, r)
	}
	p.SeenFrom = end
	if r := p.Reading(section); r != nil {
		r.SeenFrom = ""
	}
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

// ReadingEditor edits one reading: whether there is one, its method, and the
// fields that method has.
type ReadingEditor struct {
	f       *Form
	Section string
	Which   string // "drawing", "measured" or [Other]
	at      func(*job.Job) **job.Feature

	Content *fyne.Container
	Given   *kit.Check
	Method  *kit.Select
	Side    *kit.Select // or the way the degree wheel counts
	fields  *fyne.Container
	Inputs  map[int][]*FieldInput // by place among the ways of measuring
	rows    []fyne.CanvasObject   // likewise
	Message *widget.Label
	Shown   int                 // place among the ways of measuring of the fields shown; -1: none
	kept    map[int]job.Reading // what was typed for the methods not in use; under -1 what was taken out
	OnShown func(measuring int) // tells of the method shown; may be nil
	ByCards bool                // the method is chosen elsewhere
	Picture *fyne.Container     // where a photograph's marks are told of
}

func NewReadingEditor(f *Form, section, which string) *ReadingEditor {
	e := &ReadingEditor{
		f: f, Section: section, Which: which, at: desk.FeatureOf(section),
		Message: kit.MessageLabel(), Inputs: map[int][]*FieldInput{}, kept: map[int]job.Reading{}, Shown: -1,
	}
	var names []string
	for _, m := range job.Methods {
		names = append(names, tr(m.Title))
	}
	givenText := tr("Drawing or old part")
	if which != "drawing" {
		givenText = tr("Measured")
	}
	e.Given = kit.NewCheck(givenText, e.setGiven)
	e.Method = kit.NewSelect(names, func(string) { e.SetMethod(e.Method.SelectedIndex()) })
	e.Side = kit.NewSelect(nil, func(string) { e.setSide() })
	e.Side.PlaceHolder = tr("clockwise or anticlockwise?")
	e.Picture = container.NewVBox(kit.Wrapped(tr("The points are marked on the Part page.")))
	for i := range job.Methods {
		e.rows = append(e.rows, e.methodRows(i))
	}
	e.fields = container.NewStack()
	e.Content = container.NewVBox(widget.NewSeparator(), container.NewBorder(nil, nil, e.Given, nil, e.Method), e.fields, e.Side, e.Message)
	f.Inputs = append(f.Inputs, e)
	f.Editors = append(f.Editors, e)
	return e
}

// Other is a reading of a part that is not compared: of the one that the form shows.
const Other = "other"

// held is the part that has, or is to have, the reading; nil where it is the section's
// own.
func (e *ReadingEditor) held(j *job.Job) *job.Part {
	if e.Which == Other {
		return e.f.shownPart(j)
	}
	return j.PartHolding(e.Section, e.Which)
}

// reading is the edited reading of a job, nil when it has none.
func (e *ReadingEditor) reading(j *job.Job) *job.Reading {
	if held := e.held(j); held != nil {
		return held.Reading(e.Section)
	}
	if e.Which == Other {
		return nil
	}
	p := *e.at(j)
	switch {
	case p == nil:
		return nil
	case e.Which == "drawing":
		return p.Drawing
	}
	return p.Measured
}

func (e *ReadingEditor) put(j *job.Job, r *job.Reading) {
	if held := e.held(j); held != nil {
		held.Put(e.Section, r)
		return
	}
	if e.Which == Other {
		return
	}
	p := e.at(j)
	if *p == nil {
		*p = &job.Feature{}
		if end := e.f.U.Prefs.NewEnd(); end != timing.Nose {
			(*p).SeenFrom = end.String()
		}
	}
	if e.Which == "drawing" {
		(*p).Drawing = r
	} else {
		(*p).Measured = r
	}
}

// IsPhoto tells whether the reading is taken from a photograph.
func (e *ReadingEditor) IsPhoto() bool { return e.Shown == Photograph }

func (e *ReadingEditor) key() string { return e.Section + "." + e.Which }

// setGiven puts in or takes out the reading; what was typed is kept for when it
// is put in again.
func (e *ReadingEditor) setGiven(on bool) {
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

// SetMethod changes the method; without a reading there is one from then on. The
// fields of the old method leave the job, where they would mean nothing, and come
// back with it. Nothing is taken for granted that was not said, least of all on
// which side a feature lies.
func (e *ReadingEditor) SetMethod(to int) {
	if to < 0 {
		return
	}
	m := job.Methods[to]
	e.f.edit(e.key(), func(j *job.Job) {
		r := e.reading(j)
		from := job.MethodOf(r)
		if r == nil {
			r = &job.Reading{}
		} else if from == to {
			return
		} else {
			e.kept[from] = *r
		}
		next, ok := e.kept[to]
		if !ok {
			next = job.Reading{Method: m.Key, Over: m.Over, On: m.On}
			if m.Side {
				next.Side = r.Side
			}
			if from >= 0 && job.Methods[from].Key == m.Key { // the same readings, taken at other places
				next = *r
				next.Over, next.On = m.Over, m.On
			}
		}
		next.SeenFrom = r.SeenFrom
		e.put(j, &next)
	})
	e.f.sealUnlessLoading()
}

func (e *ReadingEditor) setSide() {
	k := e.Side.SelectedIndex()
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
func (e *ReadingEditor) sense(r *job.Reading) *string {
	if m := job.MethodOf(r); m >= 0 && job.Methods[m].Counts {
		return &r.Counts
	}
	return &r.Side
}

// Load implements input.
func (e *ReadingEditor) Load(j job.Job) {
	j = j.Clone()
	r := e.reading(&j)
	if e.Given.Checked != (r != nil) {
		e.Given.SetChecked(r != nil)
	}
	e.showMethod(job.MethodOf(r))
	seen := *e.at(&j)
	if held := e.held(&j); held != nil {
		seen = &job.Feature{SeenFrom: held.SeenFrom}
	}
	e.loadSide(seen, r)
	for _, i := range e.Inputs[e.Shown] {
		i.Load(j)
	}
}

func (e *ReadingEditor) showMethod(m int) {
	e.Method.Hidden = m < 0 || e.ByCards
	if m >= 0 {
		if e.Method.SelectedIndex() != m {
			e.Method.SetSelectedIndex(m)
		}
	}
	if m == e.Shown {
		return
	}
	e.Shown = m
	e.fields.RemoveAll()
	if m >= 0 {
		e.fields.Add(e.rows[m])
	}
	e.Content.Refresh()
	if e.OnShown != nil {
		e.OnShown(m)
	}
}

func (e *ReadingEditor) loadSide(p *job.Feature, r *job.Reading) {
	if e.Shown < 0 || !job.Methods[e.Shown].Side && !job.Methods[e.Shown].Counts {
		e.Side.Hide()
		return
	}
	e.Side.Show()
	list := sideNames[seenFrom(p, r)]
	if job.Methods[e.Shown].Counts {
		list = countNames[seenFrom(p, r)]
	}
	names := make([]string, len(list))
	for i, n := range list {
		names[i] = tr(n)
	}
	if !slices.Equal(e.Side.Options, names) {
		e.Side.SetOptions(names)
		e.Side.ClearSelected()
	}
	if k := slices.Index(sides, *e.sense(r)); k != e.Side.SelectedIndex() {
		if k < 0 {
			e.Side.ClearSelected()
		} else {
			e.Side.SetSelectedIndex(k)
		}
	}
}

func (e *ReadingEditor) keys() []string { return []string{e.key()} }

func (e *ReadingEditor) asks(string) {}

// fault implements input: a fault that no field of the method shows.
func (e *ReadingEditor) fault(message string) {
	if e.f.U.Unfinished() != "" {
		message = "" // points still to be marked are no mistake
	}
	kit.ShowMessage(e.Message, message)
}

func (e *ReadingEditor) Forget() {
	e.kept = map[int]job.Reading{}
	for _, list := range e.Inputs {
		for _, i := range list {
			i.Forget()
		}
	}
}

func (e *ReadingEditor) Focus() fyne.Focusable { return e.Given }
