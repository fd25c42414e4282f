package part

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/widgets"
)

// trueTDC finds top dead centre from what a degree wheel says on both sides of it, and
// keeps what was found in the job.
type trueTDC struct {
	u             *desk.Desk
	content       *fyne.Container
	before, after *widgets.Field
	dial          *widgets.Field // how far down it was set; empty for a stop
	falls, atMark *kit.Check
	answer        *widget.Label
	keep          *kit.KeyButton
	kept          *fyne.Container
}

func newTrueTDC(u *desk.Desk) *trueTDC {
	t := &trueTDC{u: u, answer: kit.Prose(), kept: container.NewVBox()}
	t.answer.TextStyle.Bold = true
	t.answer.Hide()
	t.falls = kit.NewCheck(tr("the numbers fall as the engine turns forwards"), func(bool) { t.load() })
	t.atMark = kit.NewCheck(tr("the wheel reads 0 at the damper's TDC mark"), func(bool) { t.load() })
	t.keep = kit.NewKeyButton(tr("Keep it in the job"), t.put)
	t.keep.Disable()
	typed := func(fault func(string) string, f *widgets.Field) *widgets.Field {
		f.OnChanged = func(text string) {
			f.SetFault(fault(text))
			t.load()
		}
		return f
	}
	t.before, t.after = typed(readingsFault, widgets.NewField("°", 1)), typed(readingsFault, widgets.NewField("°", 1))
	for _, f := range []*widgets.Field{t.before, t.after} {
		f.SetPlaceHolder(tr("one, or several with ;"))
	}
	t.dial = typed(fieldFault, widgets.NewField(string(voice().Units().For(quantity.MM)), 1))
	t.dial.SetPlaceHolder(tr("empty: a stop"))
	rows := container.NewVBox(named(tr("Turned forwards"), t.before), named(tr("Turned back"), t.after), named(tr("Dial gauge drop"), t.dial))
	t.content = container.NewVBox(
		kit.Heading(tr("True TDC")),
		kit.Wrapped(tr("With a stop in the bore, turn the engine by hand up to it from either side and read the degree wheel at both. Or read it at equal drops on a dial gauge before and after the top.")),
		container.NewVBox(rows, t.answer),
		t.falls, t.atMark, container.NewHBox(t.keep), t.kept,
	)
	return t
}

// named is a field behind its name.
func named(label string, f fyne.CanvasObject) fyne.CanvasObject {
	name := container.New(kit.Sized{Width: 140}, widget.NewLabel(label))
	return container.NewBorder(nil, nil, container.NewVBox(name), nil, f)
}

// readings are the angles typed into a field, each from 0 to 360: "322; 322.4", or
// "38 btdc". It is false while they are none.
func readings(text string) ([]float64, bool) {
	var list []float64
	for one := range strings.SplitSeq(text, ";") {
		v, err := finding.ParseAngle(one)
		if err != nil {
			return nil, false
		}
		list = append(list, float64(timing.Wrap(timing.Deg(v), timing.Turn)))
	}
	return list, true
}

func readingsFault(text string) string {
	for one := range strings.SplitSeq(text, ";") {
		if fault := fieldFault(one); fault != "" {
			return fault
		}
	}
	return ""
}

// found is what was typed; it is false while that is not all.
func (t *trueTDC) found() (job.TDC, bool) {
	before, ok := readings(t.before.Text())
	after, too := readings(t.after.Text())
	if !ok || !too {
		return job.TDC{}, false
	}
	d := job.TDC{Method: "stop", BeforeDeg: job.Num(before[0]), BeforeAgain: before[1:], AfterDeg: job.Num(after[0]), AfterAgain: after[1:]}
	if text := strings.TrimSpace(t.dial.Text()); text != "" {
		v, err := finding.ParseNumber(text)
		if err != nil || !(v > 0) {
			return job.TDC{}, false
		}
		d.Method, d.DropMM = "drop", job.Num(voice().Units().Keep(v, quantity.MM))
	}
	if t.falls.Checked {
		d.Counts = "down"
	}
	if t.atMark.Checked {
		d.Datum = "damper mark"
	}
	return d, true
}

// load works everything out for the present job.
func (t *trueTDC) load() {
	d, ok := t.found()
	if ok {
		list, err := finding.TrueTDC(t.u.Session.Sound(), d)
		var words []string
		for _, s := range list {
			words = append(words, say(s))
		}
		if err != nil {
			ok, words = false, []string{t.u.ErrorWords(err)}
		}
		t.answer.SetText(strings.Join(words, " "))
		t.answer.Show()
	} else {
		t.answer.Hide()
	}
	if ok {
		t.keep.Enable()
	} else {
		t.keep.Disable()
	}
	t.showKept()
}

// put makes what was typed a finding of the job, and the fields free for the next.
func (t *trueTDC) put() {
	d, ok := t.found()
	if !ok {
		return
	}
	for _, f := range []*widgets.Field{t.before, t.after} {
		f.SetText("")
	}
	t.edit(func(j *job.Job) { j.TDC = append(j.TDC, d) })
}

// edit changes the job's findings, in a step of its own.
func (t *trueTDC) edit(change func(*job.Job)) {
	t.u.Session.Seal()
	t.u.Edit("tdc", change)
	t.u.Session.Seal()
}

// showKept lists the job's findings, each with what takes it out again.
func (t *trueTDC) showKept() {
	t.kept.Objects = nil
	list, err := finding.TDCsOf(t.u.Session.Sound())
	if err != nil {
		t.kept.Add(kit.Wrapped(t.u.ErrorWords(err)))
	}
	for i, f := range list {
		remove := kit.NewKeyButton(tr("Remove"), func() {
			t.edit(func(j *job.Job) { j.TDC = append(j.TDC[:i:i], j.TDC[i+1:]...) })
		})
		t.kept.Add(container.NewBorder(nil, nil, nil, container.NewVBox(remove), kit.Wrapped(say(f.Says))))
	}
	if len(t.kept.Objects) > 0 {
		t.kept.Objects = append([]fyne.CanvasObject{kit.Heading(tr("Kept in the job"))}, t.kept.Objects...)
	}
	t.kept.Refresh()
}
