package app

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/job"
)

// form is every key of the job that can be edited, grouped as the trade groups
// them, each checked as it is typed.
type form struct {
	u       *desk.Desk
	content *fyne.Container
	scroll  *container.Scroll
	summary *widget.Label // what is wrong, when no field shows it
	groups  *kit.Folds
	inputs  []input
	editors []*readingEditor
	order   orderInput
	loading bool
}

// input is one editable thing of the job.
type input interface {
	// load shows the job, unless what was typed already stands for it.
	load(j job.Job)
	// keys are those whose faults belong beside it; a fault of a key below one
	// of them belongs there too.
	keys() []string
	fault(message string)
	// forget lets go of what was typed but is not in the job.
	forget()
	focus() fyne.Focusable
}

// newBlankForm returns a form without fields.
func newBlankForm(u *desk.Desk) *form {
	f := &form{u: u, summary: kit.MessageLabel(), groups: kit.NewFolds(u.Frame)}
	f.scroll = container.NewVScroll(container.New(&kit.BesideBar{}, f.groups.Content))
	f.content = container.NewBorder(f.summary, nil, nil, nil, f.scroll)
	u.Fields = append(u.Fields, f)
	return f
}

// newForm returns the job's form.
func newForm(u *desk.Desk) *form {
	f := newBlankForm(u)
	f.group(tr("Job"), true,
		f.text("title", tr("Title"), 2, func(j *job.Job) *string { return &j.Title }),
		f.text("notes", tr("Notes"), 3, func(j *job.Job) *string { return &j.Notes }))
	f.engineGroups()
	f.group(tr("Injection"), true,
		f.number("injection.start_btdc_deg", tr("Asked for at"), tr("° BTDC"), func(j *job.Job) *job.Number { return &injection(j).StartBTDCDeg }))
	f.crankingGroup()
	f.group(tr("Dowel, from the keyway"), true, f.feature("dowel")...)
	f.group(tr("Keyway, from the No. 1 throw"), false, f.feature("keyway")...)
	f.group(tr("Crank sensor wheel"), false,
		f.whole("crank_wheel.positions", tr("Tooth positions"), func(j *job.Job) *int { return &crankWheel(j).Positions }),
		f.list("crank_wheel.missing", tr("Missing teeth"), tr("positions, as in 35, 36"),
			func(j job.Job) string {
				if j.CrankWheel == nil {
					return ""
				}
				return kit.Describe(j.CrankWheel.Missing)
			},
			func(j *job.Job, text string) error {
				list, err := parseWholes(text)
				crankWheel(j).Missing = list
				return err
			}),
		f.number("crank_wheel.first_tooth_btdc_deg", tr("Tooth 1 passes at"), tr("° BTDC"), func(j *job.Job) *job.Number { return &crankWheel(j).FirstToothBTDCDeg }))
	return f
}

// row is an input with its label, or without one as wide as the form.
type row struct {
	label  string
	object fyne.CanvasObject
}

func (f *form) group(title string, open bool, rows ...row) {
	f.groups.Add(title, open, stacked(rows))
}

// stacked lays rows out: labels in a column of their own, rows without one
// across both.
func stacked(rows []row) fyne.CanvasObject {
	// Put together before it is laid out: a container lays itself out anew with
	// each object that is added to it.
	var all, labelled []fyne.CanvasObject
	closeGrid := func() {
		if labelled != nil {
			all = append(all, container.New(layout.NewFormLayout(), labelled...))
			labelled = nil
		}
	}
	for _, r := range rows {
		if r.label == "" {
			closeGrid()
			all = append(all, kit.Elastic(r.object, 190))
			continue
		}
		labelled = append(labelled, container.NewVBox(widget.NewLabel(r.label)), kit.Elastic(r.object, 190))
	}
	closeGrid()
	return container.NewVBox(all...)
}

// edit carries an input's change into the job.
func (f *form) edit(key string, change func(*job.Job)) {
	if f.loading {
		return
	}
	f.u.Edit(key, func(j *job.Job) {
		change(j)
		prune(j)
	})
}

// Load shows the session's present state, and every fault where it belongs.
func (f *form) Load() {
	if f.loading {
		return
	}
	f.loading = true
	defer func() { f.loading = false }()
	j := f.u.Session.Job()
	for _, i := range f.inputs {
		i.load(j)
	}
	f.showFaults()
}

// showFaults puts every fault beside its field, and those without one on top.
func (f *form) showFaults() {
	inputs := f.active()
	beside := map[input][]string{}
	var loose []string
	for _, fault := range f.u.Session.Faults() {
		if at := nearest(inputs, fault.Key); at != nil {
			beside[at] = append(beside[at], told(fault))
		} else {
			loose = append(loose, f.u.FaultWords(fault))
		}
	}
	for _, in := range inputs {
		in.fault(strings.Join(beside[in], "\n"))
	}
	if text := strings.Join(loose, "\n"); text != f.summary.Text { // the whole form is slow to refresh
		f.summary.SetText(text)
		f.summary.Hidden = text == ""
		f.content.Refresh()
	}
}

// Typos are the texts that were typed but can stand for no value.
func (f *form) Typos() (list []job.Fault) {
	for _, in := range f.active() {
		if i, ok := in.(*fieldInput); ok && i.typo != "" {
			list = append(list, job.Fault{Key: i.key, Message: i.typo})
		}
	}
	return list
}

// Wants is the label of a key's field where nothing is wrong but that a reading was not
// typed yet, else "".
func (f *form) Wants(key string) string {
	if i, ok := nearest(f.active(), key).(*fieldInput); ok && i.key == key && i.wanted() {
		return f.u.Labels[key]
	}
	return ""
}

// active are the inputs in use: all, and of each reading the fields of its
// method.
func (f *form) active() []input {
	list := slices.Clone(f.inputs)
	for _, e := range f.editors {
		for _, i := range e.inputs[e.shown] {
			list = append(list, i)
		}
	}
	return list
}

// Forget lets go of texts that were typed but are in no job, as before another
// job is shown.
func (f *form) Forget() {
	for _, i := range f.inputs {
		i.forget()
	}
}

// show gives the keyboard to the field of a key.
func (f *form) show(key string) {
	if at := nearest(f.active(), key); at != nil {
		f.groups.ShowAll(true)
		f.scroll.Refresh() // for the fields to be where they will be seen
		f.u.Window.Canvas().Focus(at.focus())
	}
}

// reveal scrolls the form until an object in it is in sight.
func (f *form) reveal(o fyne.CanvasObject) {
	d := fyne.CurrentApp().Driver()
	y := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(f.scroll).Y
	height := f.scroll.Size().Height
	if middle := y + o.MinSize().Height/2; middle < 0 || middle > height {
		most := f.scroll.Content.MinSize().Height - height
		f.scroll.ScrollToOffset(fyne.NewPos(0, max(0, min(f.scroll.Offset.Y+y-height/3, most))))
	}
}

// nearest returns the input to which a key belongs, nil when there is none: the
// one whose own key is the longest part of it.
func nearest(inputs []input, key string) input {
	var found input
	best := -1
	for _, in := range inputs {
		for _, k := range in.keys() {
			if (key == k || strings.HasPrefix(key, k+".")) && len(k) > best {
				found, best = in, len(k)
			}
		}
	}
	return found
}

// The sections of a job that may be left out, made when something is to be
// written into them; prune takes them away again when nothing was.

func injection(j *job.Job) *job.Injection {
	if j.Injection == nil {
		j.Injection = &job.Injection{}
	}
	return j.Injection
}

func valves(j *job.Job) *job.Valves {
	if j.Engine.Valves == nil {
		j.Engine.Valves = &job.Valves{}
	}
	return j.Engine.Valves
}

func crankWheel(j *job.Job) *job.CrankWheel {
	if j.CrankWheel == nil {
		j.CrankWheel = &job.CrankWheel{}
	}
	return j.CrankWheel
}

func gears(j *job.Job) *job.Gears {
	if j.Gears == nil {
		j.Gears = &job.Gears{}
	}
	return j.Gears
}

func prune(j *job.Job) {
	if j.Injection != nil && *j.Injection == (job.Injection{}) {
		j.Injection = nil
	}
	if j.Engine.Valves != nil && *j.Engine.Valves == (job.Valves{}) {
		j.Engine.Valves = nil
	}
	if w := j.CrankWheel; w != nil && w.Positions == 0 && len(w.Missing) == 0 && !w.FirstToothBTDCDeg.Given && w.Sensor == "" {
		j.CrankWheel = nil
	}
	if g := j.Gears; g != nil && g.CrankTeeth == 0 && len(g.IdlerTeeth) == 0 && g.CamTeeth == 0 && g.CamTeethOut == 0 && g.PumpTeeth == 0 && g.PumpDrivenBy == "" {
		j.Gears = nil
	}
	for _, f := range []**job.Feature{&j.Dowel, &j.Keyway} {
		if *f != nil && (*f).Drawing == nil && (*f).Measured == nil {
			*f = nil
		}
	}
}
