package form

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
	"pinphase.org/pinphase/widgets"
)

// Form is every key of the job that can be edited, grouped as the trade groups
// them, each checked as it is typed.
type Form struct {
	U         *desk.Desk
	Content   *fyne.Container
	Scroll    *container.Scroll
	summary   *widget.Label // what is wrong, when no field shows it
	Groups    *kit.Folds
	Inputs    []input
	Editors   []*ReadingEditor
	Order     orderInput
	tooth     *widgets.FigureView // where tooth 1 is; nil where the form has no crank sensor wheel
	toothSays *widget.Label       // the same in words
	loading   bool
	ends      []int // how many inputs there are with each group

	// Part is the place of the part whose readings the form shows, -1 for none; nil in
	// the job's own form, which shows those that are compared.
	Part func() int
}

// input is one editable thing of the job.
type input interface {
	// load shows the job, unless what was typed already stands for it.
	Load(j job.Job)
	// keys are those whose faults belong beside it; a fault of a key below one
	// of them belongs there too.
	keys() []string
	fault(message string)
	// asks shows a question about what stands in it; "" none.
	asks(question string)
	// forget lets go of what was typed but is not in the job.
	Forget()
	Focus() fyne.Focusable
}

// NewBlankForm returns a form without fields.
func NewBlankForm(u *desk.Desk) *Form {
	f := &Form{U: u, summary: kit.MessageLabel(), Groups: kit.NewFolds(u.Frame)}
	f.Scroll = container.NewVScroll(container.New(&kit.BesideBar{}, f.Groups.Content))
	f.Content = container.NewBorder(f.summary, nil, nil, nil, f.Scroll)
	u.Fields = append(u.Fields, f)
	return f
}

// NewForm returns the job's form.
func NewForm(u *desk.Desk) *Form {
	f := NewBlankForm(u)
	f.group(tr("Job"), true,
		f.Text("title", tr("Title"), 2, func(j *job.Job) *string { return &j.Title }),
		f.Text("notes", tr("Notes"), 3, func(j *job.Job) *string { return &j.Notes }))
	f.caseGroup()
	f.engineGroups()
	f.group(tr("Injection"), true,
		f.number("injection.start_btdc_deg", tr("Commanded at"), "° BTDC", func(j *job.Job) *job.Number { return &injection(j).StartBTDCDeg }))
	f.crankingGroup()
	f.group(tr("Dowel, from the keyway"), true, f.feature("dowel")...)
	f.group(tr("Keyway, from the No. 1 throw"), false, f.feature("keyway")...)
	f.group(tr("Crank sensor wheel"), false,
		f.teeth(),
		f.List("crank_wheel.missing", tr("Missing teeth"), tr("positions, as in 35, 36"),
			func(j job.Job) string {
				if j.CrankWheel == nil {
					return ""
				}
				return kit.Describe(j.CrankWheel.Missing)
			},
			func(j *job.Job, text string) error {
				list, err := ParseWholes(text)
				crankWheel(j).Missing = list
				return err
			}),
		f.number("crank_wheel.first_tooth_btdc_deg", tr("Tooth 1 passes at"), "° BTDC", func(j *job.Job) *job.Number { return &crankWheel(j).FirstToothBTDCDeg }),
		f.toothRow())
	f.group(tr("Cam sensor wheel"), false, f.camTeeth(),
		f.number("cam_wheel.first_tooth_btdc_deg", tr("Its tooth 1 passes at"), "° BTDC", func(j *job.Job) *job.Number { return &camWheel(j).FirstToothBTDCDeg }))
	return f
}

// Row is an input with its label, or without one as wide as the form.
type Row struct {
	label  string
	Object fyne.CanvasObject
}

func (f *Form) group(title string, open bool, rows ...Row) {
	f.Groups.Add(title, open, Stacked(rows))
	f.ends = append(f.ends, len(f.Inputs))
}

// showGroup opens the group that an input is in.
func (f *Form) showGroup(in input) {
	i := slices.Index(f.Inputs, in)
	for _, e := range f.Editors {
		for _, of := range e.Inputs[e.Shown] {
			if input(of) == in {
				i = slices.Index(f.Inputs, input(e))
			}
		}
	}
	for g, end := range f.ends {
		if i >= 0 && i < end {
			f.Groups.Show(g)
			return
		}
	}
}

// Stacked lays rows out: labels in a column of their own, rows without one
// across both.
func Stacked(rows []Row) fyne.CanvasObject {
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
			all = append(all, kit.Elastic(r.Object, 190))
			continue
		}
		labelled = append(labelled, container.NewVBox(widget.NewLabel(r.label)), kit.Elastic(r.Object, 190))
	}
	closeGrid()
	return container.NewVBox(all...)
}

// edit carries an input's change into the job.
func (f *Form) edit(key string, change func(*job.Job)) {
	if f.loading {
		return
	}
	f.U.Edit(key, func(j *job.Job) {
		change(j)
		prune(j)
	})
}

// Load shows the session's present state, and every fault where it belongs.
func (f *Form) Load() {
	if f.loading {
		return
	}
	f.loading = true
	defer func() { f.loading = false }()
	j := f.U.Session.Job()
	for _, i := range f.Inputs {
		i.Load(j)
	}
	f.loadTooth()
	f.showFaults()
}

// showFaults puts every fault beside its field, and those without one on top; and every
// question about a value that looks like a slip.
func (f *Form) showFaults() {
	inputs := f.Active()
	beside := map[input][]string{}
	var loose []string
	for _, fault := range f.U.Session.Faults() {
		if at := Nearest(inputs, f.fieldKey(fault.Key)); at != nil {
			beside[at] = append(beside[at], told(fault))
		} else {
			loose = append(loose, f.U.FaultWords(fault))
		}
	}
	asked := map[input][]string{}
	for _, q := range job.Doubtful(f.U.Session.Job()) {
		if at := Nearest(inputs, f.fieldKey(q.Key)); at != nil {
			asked[at] = append(asked[at], say(q.Beside))
		}
	}
	for _, in := range inputs {
		in.fault(strings.Join(beside[in], "\n"))
		in.asks(strings.Join(asked[in], "\n"))
	}
	if text := strings.Join(loose, "\n"); text != f.summary.Text { // the whole form is slow to refresh
		f.summary.SetText(text)
		f.summary.Hidden = text == ""
		f.Content.Refresh()
	}
}

// Typos are the texts that were typed but can stand for no value.
func (f *Form) Typos() (list []job.Fault) {
	for _, in := range f.Active() {
		if i, ok := in.(*FieldInput); ok && i.Typo != "" {
			list = append(list, job.Fault{Key: i.Key, Message: i.Typo})
		}
	}
	return list
}

// Wants is the label of a key's field where nothing is wrong but that a reading was not
// typed yet, else "".
func (f *Form) Wants(key string) string {
	key = f.fieldKey(key)
	if i, ok := Nearest(f.Active(), key).(*FieldInput); ok && i.Key == key && i.Wanted() {
		return f.U.Labels[key]
	}
	return ""
}

// Find is the field of a key that is in use, nil where there is none.
func (f *Form) Find(key string) *FieldInput {
	for _, in := range f.Active() {
		if i, ok := in.(*FieldInput); ok && i.Key == key {
			return i
		}
	}
	return nil
}

// Active are the inputs in use: all, and of each reading the fields of its
// method.
func (f *Form) Active() []input {
	list := slices.Clone(f.Inputs)
	for _, e := range f.Editors {
		for _, i := range e.Inputs[e.Shown] {
			list = append(list, i)
		}
	}
	return list
}

// Forget lets go of texts that were typed but are in no job, as before another
// job is shown.
func (f *Form) Forget() {
	for _, i := range f.Inputs {
		i.Forget()
	}
}

// Focus gives the keyboard to the field of a key.
func (f *Form) Focus(key string) {
	at := Nearest(f.Active(), f.fieldKey(key))
	if at == nil { // a whole section: its first field
		for _, in := range f.Active() {
			if slices.ContainsFunc(in.keys(), func(k string) bool { return strings.HasPrefix(k, key+".") }) {
				at = in
				break
			}
		}
	}
	if at != nil {
		f.showGroup(at)
		f.Scroll.Refresh() // for the fields to be where they will be seen
		f.U.Window.Canvas().Focus(at.Focus())
		if o, ok := at.Focus().(fyne.CanvasObject); ok {
			f.Reveal(o)
		}
	}
}

// Reveal scrolls the form until an object in it is in sight.
func (f *Form) Reveal(o fyne.CanvasObject) {
	d := fyne.CurrentApp().Driver()
	y := d.AbsolutePositionForObject(o).Y - d.AbsolutePositionForObject(f.Scroll).Y
	height := f.Scroll.Size().Height
	if middle := y + o.MinSize().Height/2; middle < 0 || middle > height {
		most := f.Scroll.Content.MinSize().Height - height
		f.Scroll.ScrollToOffset(fyne.NewPos(0, max(0, min(f.Scroll.Offset.Y+y-height/3, most))))
	}
}

// Nearest returns the input to which a key belongs, nil when there is none: the
// one whose own key is the longest part of it.
func Nearest(inputs []input, key string) input {
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

func Gears(j *job.Job) *job.Gears {
	if j.Gears == nil {
		j.Gears = &job.Gears{}
	}
	return j.Gears
}

func prune(j *job.Job) {
	if j.Case != nil && *j.Case == (job.Case{}) {
		j.Case = nil
	}
	if j.Injection != nil && *j.Injection == (job.Injection{}) {
		j.Injection = nil
	}
	if j.Engine.Valves != nil && *j.Engine.Valves == (job.Valves{}) {
		j.Engine.Valves = nil
	}
	if w := j.CrankWheel; w != nil && w.Positions == 0 && len(w.Missing) == 0 && !w.FirstToothBTDCDeg.Given && w.Sensor == "" {
		j.CrankWheel = nil
	}
	if w := j.CamWheel; w != nil && len(w.TeethCamDeg) == 0 && !w.FirstToothBTDCDeg.Given && w.Sensor == "" {
		j.CamWheel = nil
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
