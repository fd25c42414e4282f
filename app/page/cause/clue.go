package cause

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// clueRow is one kind of evidence: what is asked, what the job holds of it
// elsewhere, and an answer for each time it was looked at.
type clueRow struct {
	e       *evidencePane
	kind    *cause.Kind
	content *fyne.Container

	name      *widget.Label
	from      *widget.Label // what the job holds elsewhere
	shows     *widget.Button
	elsewhere *fyne.Container
	answers   *fyne.Container
	list      []clueAnswer
	more      *widget.Button // another reading
	ticks     *tickAnswer    // instead, where several words can hold at once
	pieces    int            // in the job
	implied   *finding.Clue
}

// clueAnswer is one piece of evidence of a kind.
type clueAnswer interface {
	object() fyne.CanvasObject
	load(j job.Job)
	forget()
	focus() fyne.Focusable
}

func newClueRow(e *evidencePane, k *cause.Kind) *clueRow {
	r := &clueRow{e: e, kind: k, name: kit.Wrapped(upper(tr(k.Title))).(*widget.Label), from: kit.Prose()}
	r.name.TextStyle.Bold = true
	r.shows = widget.NewButton(tr("Show"), func() { r.lead() })
	r.elsewhere = container.NewBorder(nil, nil, nil, container.NewVBox(r.shows), r.from)
	r.elsewhere.Hide()
	r.answers = container.NewVBox()
	r.content = container.NewVBox(container.New(&kit.Tight{}, r.heading()...), r.elsewhere, r.answers)
	switch {
	case k.Name == "replaced" || k.Name == "replaced_in_vain":
		r.ticks = newTickAnswer(r)
		r.answers.Add(r.ticks.object())
	case k.Value == cause.Number:
		r.more = widget.NewButton(tr("Another reading"), func() { r.add(); r.e.p.u.Window.Canvas().Focus(r.list[len(r.list)-1].focus()) })
		r.more.Importance = widget.LowImportance
		r.more.Hide()
		r.content.Add(container.NewHBox(r.more))
		r.add()
	default:
		r.add()
	}
	r.content.Add(widget.NewSeparator())
	return r
}

func (r *clueRow) heading() []fyne.CanvasObject {
	list := []fyne.CanvasObject{r.name}
	if hint := finding.EvidenceHint(r.kind.Name); hint != "" {
		list = append(list, kit.Wrapped(tr(hint)))
	}
	return list
}

// add makes room for one more piece.
func (r *clueRow) add() {
	var a clueAnswer
	if n := len(r.list); r.kind.Value == cause.Number {
		a = newNumberAnswer(r, n)
	} else {
		a = newWordAnswer(r, n)
	}
	r.list = append(r.list, a)
	r.answers.Add(a.object())
}

// known tells whether anything is known of the kind.
func (r *clueRow) known() bool { return r.pieces > 0 || r.implied != nil }

// load shows what the job has of the kind.
func (r *clueRow) load(j job.Job, implied *finding.Clue) {
	r.implied, r.pieces = implied, 0
	for nth(&j, r.kind.Name, r.pieces) >= 0 {
		r.pieces++
	}
	r.loadElsewhere()
	if r.ticks != nil {
		r.ticks.load(j)
		return
	}
	for len(r.list) < r.pieces {
		r.add()
	}
	for i, a := range r.list {
		a.load(j)
		hidden := i > 0 && i >= r.pieces && i != len(r.list)-1
		if o := a.object().(*fyne.Container); o.Hidden != hidden {
			o.Hidden = hidden
		}
	}
	if r.more != nil {
		kit.SetShown(r.more, r.pieces > 0 && r.pieces >= len(r.list))
	}
	// What the job holds elsewhere is not typed twice.
	hidden := r.implied != nil && r.pieces == 0
	if r.answers.Hidden != hidden {
		r.answers.Hidden = hidden
		r.content.Refresh()
	}
}

// loadElsewhere says what the job holds of the kind elsewhere.
func (r *clueRow) loadElsewhere() {
	text := ""
	if c := r.implied; c != nil {
		data := map[string]any{"What": say(c.Says())}
		switch {
		case c.Key == "engine.compression_gauge_bar" && r.pieces > 0:
			text = with("This entry overrides the compression gauge's reading in the job: {{.What}}.", data)
		case c.Key == "engine.compression_gauge_bar":
			text = with("The compression gauge's reading in the job: {{.What}}.", data)
		case c.Key == "gears.cam_teeth_out" && r.pieces > 0:
			text = with("This entry overrides the Gears page: {{.What}}.", data)
		case c.Key == "gears.cam_teeth_out":
			text = with("From the Gears page: {{.What}}.", data)
		case r.pieces > 0:
			text = with("This entry overrides the Part page: {{.What}}.", data)
		default:
			text = with("From the Part page: {{.What}}.", data)
		}
	}
	kit.SetText(r.from, text)
	if hidden := text == ""; r.elsewhere.Hidden != hidden {
		r.elsewhere.Hidden = hidden
		r.content.Refresh()
	}
}

// lead goes to where the job holds it.
func (r *clueRow) lead() {
	u := r.e.p.u
	switch c := r.implied; {
	case c == nil:
	case strings.HasPrefix(c.Key, "dowel."):
		u.Open("part", "dowel")
	case strings.HasPrefix(c.Key, "keyway."):
		u.Open("part", "keyway")
	default:
		u.Show(c.Key)
	}
}

func (r *clueRow) forget() {
	for _, a := range r.list {
		a.forget()
	}
}

// focus is what to give the keyboard to: the first answer that is open.
func (r *clueRow) focus() fyne.Focusable {
	switch {
	case r.ticks != nil:
		return r.ticks.focus()
	case r.answers.Hidden:
		return r.shows
	}
	return r.list[min(r.pieces, len(r.list)-1)].focus()
}

// edit changes the job's evidence; a tick or a word is a step of its own for undo.
func (r *clueRow) edit(change func(*job.Job)) {
	u := r.e.p.u
	u.Edit("evidence."+r.kind.Name, change)
}

// evidenceIndex is the place, from 0, that a fault's key names, −1 for another key.
func evidenceIndex(key string) int {
	rest, ok := strings.CutPrefix(key, "evidence[")
	if !ok {
		return -1
	}
	text, _, ok := strings.Cut(rest, "]")
	n, err := strconv.Atoi(text)
	if !ok || err != nil {
		return -1
	}
	return n - 1
}
