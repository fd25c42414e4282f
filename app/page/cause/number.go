package cause

import (
	"errors"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// numberAnswer is a number that was read, which way it is off where that matters,
// and how surely it was read. Nobody types a sign.
type numberAnswer struct {
	r     *clueRow
	n     int
	box   *fyne.Container
	value *form.FieldInput
	u     *form.FieldInput // nil for a count of teeth
	way   *answerButtons   // nil where the number has no sign
	judge *answerButtons   // "good" and "not good" in place of a number; nil where it must be one
	which *widget.Label    // that a way is still wanted
	take  *kit.TipButton
	side  int // 0: not said yet; 1 and −1: the ways
}

func newNumberAnswer(r *clueRow, n int) *numberAnswer {
	a := &numberAnswer{r: r, n: n, which: kit.MessageLabel()}
	f, k := r.e.p.form, r.kind
	unit := form.UnitShown(k.Unit)
	if k.Whole {
		unit = tr("teeth")
	}
	row := f.Field("evidence."+k.Name, tr(k.Title), unit, 1, a.shown, a.put, a.same)
	a.value = f.Inputs[len(f.Inputs)-1].(*form.FieldInput)
	a.value.Field.OnDone = func() { f.U.Session.Seal() }
	fields := []fyne.CanvasObject{container.New(kit.Sized{Width: 110}, row.Object)}
	if !k.Whole {
		plus := f.Field("evidence."+k.Name+".u", tr(k.Title), unit, 1, a.shownU, a.putU, form.SameNumber)
		a.u = f.Inputs[len(f.Inputs)-1].(*form.FieldInput)
		a.u.Field.SetPlaceHolder(form.ShowNumber(job.Num(k.U), k.Unit))
		fields = append(fields, container.NewVBox(widget.NewLabel("±")), container.New(kit.Sized{Width: 100}, plus.Object))
	}
	a.take = f.U.NewTipButton(theme.DeleteIcon(), tr("Remove"), a.remove)
	a.take.Importance = widget.LowImportance
	line := container.NewBorder(nil, nil, nil, container.NewVBox(a.take), container.NewHBox(fields...))
	a.box = container.NewVBox(line)
	if ways, ok := finding.Ways(k.Name); ok {
		a.way = newAnswerButtons(a.choose, tr(ways[0]), tr(ways[1]))
		a.way.set(-1)
		a.box.Add(a.way.content)
	}
	if words := k.Judgements(); words != nil {
		a.judge = newAnswerButtons(a.call, tr(k.Text(words[0])), tr(k.Text(words[1])))
		a.judge.set(-1)
		a.box.Add(a.judge.content)
	}
	a.box.Add(a.which)
	return a
}

func (a *numberAnswer) object() fyne.CanvasObject { return a.box }

func (a *numberAnswer) focus() fyne.Focusable { return a.value.Field.Focusable() }

func (a *numberAnswer) forget() {
	a.side = 0
	a.value.Forget()
	a.value.Field.SetText("")
	kit.ShowMessage(a.which, "")
	if a.u != nil {
		a.u.Forget()
		a.u.Field.SetText("")
	}
}

// at is the piece in a job, nil when there is none.
func (a *numberAnswer) at(j *job.Job) *job.Evidence {
	if i := nth(j, a.r.kind.Name, a.n); i >= 0 {
		return &j.Evidence[i]
	}
	return nil
}

// shown is the number as it is typed: with a way instead of a sign.
func (a *numberAnswer) shown(j job.Job) string {
	ev := a.at(&j)
	if ev == nil {
		return ""
	}
	v, ok := ev.Value.(float64)
	if !ok {
		return ""
	}
	if a.way != nil {
		v = math.Abs(v)
	}
	return form.ShowNumber(job.Num(v), a.r.kind.Unit)
}

// same tells whether what was typed stands for the job's number, or is only
// waiting for its way.
func (a *numberAnswer) same(typed, shown string) bool {
	if shown == "" && a.waits(typed) {
		return true
	}
	return form.SameNumber(typed, shown)
}

// waits tells whether a number was typed whose way was not said yet.
func (a *numberAnswer) waits(typed string) bool {
	v, err := kit.ParseNumber(typed)
	return a.way != nil && a.side == 0 && err == nil && v != 0
}

// put carries what was typed into the job, as far as it can be.
func (a *numberAnswer) put(j *job.Job, text string) error {
	k := a.r.kind
	if strings.TrimSpace(text) == "" {
		dropClue(j, k.Name, a.n)
		return nil
	}
	v, err := kit.ParseNumber(text)
	if err != nil {
		return errors.New(with("“{{.Text}}” is not a number", map[string]any{"Text": text}))
	}
	v = voice().Units().Keep(v, quantity.Unit(k.Unit))
	from := k.Min
	if a.way != nil {
		if v < 0 {
			return errors.New(tr("Type it without a sign, and say below which way."))
		}
		from = 0
	}
	switch {
	case k.Whole && v != math.Trunc(v):
		return errors.New(with("“{{.Text}}” is not a whole number", map[string]any{"Text": text}))
	case v < from || v > k.Max:
		return errors.New(outside(from, k.Max, k.Unit))
	}
	switch {
	case a.way == nil || v == 0:
	case a.side == 0:
		dropClue(j, k.Name, a.n) // it waits
		return nil
	default:
		v *= float64(a.side)
	}
	putClue(j, k.Name, a.n, v)
	return nil
}

// outside says between which numbers something that is kept in a unit must be.
func outside(from, to float64, unit phrase.Text) string {
	of := func(v float64) quantity.Amount { return quantity.Amount{Value: v, Unit: quantity.Unit(unit)}.Plain() }
	return with("It must be between {{.From}} and {{.To}}.", map[string]any{"From": of(from), "To": of(to)})
}

// choose says which way the number is off.
func (a *numberAnswer) choose(way int) {
	a.side = 1 - 2*way
	a.way.set(way)
	a.value.Put(a.value.Field.Text())
}

// call takes the word for a number that nobody has read.
func (a *numberAnswer) call(word int) {
	a.value.Forget()
	a.r.edit(func(j *job.Job) {
		putClue(j, a.r.kind.Name, a.n, a.r.kind.Judgements()[word])
		a.at(j).U = job.Number{} // of a number; a word has none
	})
	a.r.e.p.u.Session.Seal()
}

// called is which word stands for the number in a job, -1 where none does.
func (a *numberAnswer) called(j *job.Job) int {
	if ev := a.at(j); ev != nil {
		if word, ok := a.r.kind.Index(ev.Value); ok {
			return word
		}
	}
	return -1
}

func (a *numberAnswer) load(j job.Job) {
	if ev := a.at(&j); ev != nil {
		if v, ok := ev.Value.(float64); ok && v != 0 {
			a.side = 1
			if v < 0 {
				a.side = -1
			}
		}
	} else if a.value.Field.Text() == "" {
		a.side = 0
	}
	a.value.Load(j)
	if a.way != nil {
		a.way.set(map[int]int{0: -1, 1: 0, -1: 1}[a.side])
	}
	word := a.called(&j)
	if a.judge != nil {
		a.judge.set(word)
	}
	wanted := ""
	if a.waits(a.value.Field.Text()) && a.at(&j) == nil && a.value.Typo == "" {
		wanted = tr("Which way? The number counts as soon as you choose.")
	}
	kit.ShowMessage(a.which, wanted)
	if a.u != nil {
		a.u.Load(j)
		if a.at(&j) == nil || word >= 0 {
			a.u.Field.Disable()
		} else {
			a.u.Field.Enable()
		}
	}
	kit.SetShown(a.take, a.at(&j) != nil || a.value.Field.Text() != "")
}

func (a *numberAnswer) shownU(j job.Job) string {
	if ev := a.at(&j); ev != nil {
		return form.ShowNumber(ev.U, a.r.kind.Unit)
	}
	return ""
}

func (a *numberAnswer) putU(j *job.Job, text string) error {
	n, err := form.ReadNumber(text, a.r.kind.Unit)
	if err != nil {
		return err
	}
	k := a.r.kind
	if _, wrong := k.CheckU(n.Value); n.Given && wrong {
		return errors.New(outside(0, k.Max-k.Min, k.Unit))
	}
	if ev := a.at(j); ev != nil {
		ev.U = n
	}
	return nil
}

// remove takes the piece away.
func (a *numberAnswer) remove() {
	for _, other := range a.r.list { // those behind it move up
		other.forget()
	}
	a.r.edit(func(j *job.Job) { dropClue(j, a.r.kind.Name, a.n) })
	a.r.e.p.u.Session.Seal()
}
