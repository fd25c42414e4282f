package part

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/form"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// partsPanel stands over the benches. Of a job with one part it offers the ways to
// another: the old crankshaft, the drawing, the part once it was repaired. Of one with
// several it lists them, and the readings below are those of the one that is chosen.
type partsPanel struct {
	p       *page
	content *fyne.Container
	chosen  int // place of the part whose readings are shown; -1: those that are compared

	ways      *fyne.Container
	ask       *widget.Label
	old       *kit.KeyButton
	drawing   *kit.KeyButton
	repaired  *kit.KeyButton
	list      *fyne.Container // holds the rows of a job with several
	rows      *kit.OneOf
	scroll    *container.Scroll // they are in, where there are many; else nil
	names     []string
	about     *fyne.Container // name, use and day of the chosen one
	edit      *kit.KeyButton
	again     *kit.KeyButton
	add, drop *kit.KeyButton
	editing   bool
}

// useWords say for what a part is used in a row, in the order of [form.UseNames].
var useWords = []phrase.Text{"datum", "in the engine", "before the repair", "kept only"}

// mostRows is how many parts are seen at once.
const mostRows = 6

// mostName is how many bytes of a part's name stand in a row.
const mostName = 32

func newPartsPanel(p *page) *partsPanel {
	c := &partsPanel{p: p, chosen: -1, list: container.NewStack(), ask: kit.Prose()}
	c.ask.SetText(tr("What is the crankshaft compared with?"))
	c.ask.TextStyle.Bold = true
	c.old = kit.NewKeyButton(tr("I have the old crankshaft"), c.haveOld)
	c.drawing = kit.NewKeyButton(tr("I have the angle from a drawing"), c.haveDrawing)
	c.repaired = kit.NewKeyButton(tr("It was repaired: measure again"), c.measureAgain)
	c.again = kit.NewKeyButton(tr("It was repaired: measure again"), c.measureAgain)
	c.add = kit.NewKeyButton(tr("Add a part"), c.another)
	c.drop = kit.NewKeyButton(tr("Remove this part"), c.remove)
	c.edit = kit.NewKeyButton("", func() {
		c.editing = !c.editing
		c.load()
	})
	c.ways = container.New(&kit.Flow{}, c.old, c.drawing, c.repaired)
	rows := p.form.PartRows()
	c.about = container.NewVBox(form.Stacked(rows), container.New(&kit.Flow{}, c.again, c.drop))
	c.content = container.NewVBox(c.ask, c.ways, c.list, container.New(&kit.Flow{}, c.add, c.edit), c.about)
	return c
}

// several tells whether the job has a list of parts.
func (c *partsPanel) several() bool { return len(c.p.u.Session.Job().Parts) > 0 }

// which says where the readings that are shown stand: "measured", "drawing", or
// [form.Other].
func (c *partsPanel) which(section string) string {
	j := c.p.u.Session.Job()
	if c.chosen < 0 || c.chosen >= len(j.Parts) {
		return "measured"
	}
	for _, which := range []string{"measured", "drawing"} {
		if j.PartHolding(section, which) == &j.Parts[c.chosen] {
			return which
		}
	}
	return form.Other
}

// load shows the job's parts. Where one went the last is the chosen, and of those that
// came with a job the one in the engine.
func (c *partsPanel) load() {
	j := c.p.u.Session.Job()
	was := c.chosen
	switch {
	case len(j.Parts) == 0:
		c.chosen, c.editing = -1, false
	case c.chosen < 0:
		c.chosen = max(0, j.PartFor(job.UseEngine))
	case c.chosen >= len(j.Parts):
		c.chosen = len(j.Parts) - 1
	}
	if c.chosen != was {
		c.p.form.Load() // the readings of another part
	}
	none := len(j.Parts) == 0
	blank := none && j.Dowel == nil && j.Keyway == nil
	kit.SetShown(c.ask, blank)
	kit.SetShown(c.ways, none)
	kit.SetShown(c.drawing, blank)
	kit.SetShown(c.repaired, none && hasMeasured(j))
	importance := widget.MediumImportance
	if blank {
		importance = widget.HighImportance
	}
	if c.old.Importance != importance {
		c.old.Importance = importance
		c.old.Refresh()
	}
	c.loadRows(j)
	kit.SetShown(c.list, !none)
	kit.SetShown(c.add, !none)
	room := len(j.Gather("", "").Parts) < job.MaxParts
	kit.Able(c.add, room)
	kit.Able(c.again, room)
	kit.SetShown(c.edit, !none)
	kit.SetShown(c.about, !none && c.editing)
	kit.SetShown(c.again, !none && c.chosen == j.PartFor(job.UseEngine))
	text := tr("Name, use and day…")
	if c.editing {
		text = tr("Hide name, use and day")
	}
	if c.edit.Text != text {
		c.edit.SetText(text)
	}
}

func hasMeasured(j job.Job) bool {
	return j.Dowel != nil && j.Dowel.Measured != nil || j.Keyway != nil && j.Keyway.Measured != nil
}

// loadRows shows a row for each part: what it is used for and what was measured on it,
// of all seen from the end that the figure is drawn from, so that they can be compared.
func (c *partsPanel) loadRows(j job.Job) {
	var names []string
	var found []finding.PartAngles
	if len(j.Parts) > 0 {
		found = finding.PartsOf(c.p.u.Known())
	}
	for i, p := range j.Parts {
		angle := tr("not measured yet")
		if i < len(found) && found[i].Name == p.Name {
			deg := found[i].DowelDeg
			if desk.SectionOf(c.p.feature) == "keyway" {
				deg = found[i].KeywayDeg
			}
			if deg != nil {
				angle = say(finding.SeenAngle(c.p.u.Known(), c.p.u.From.String(), *deg))
			}
		}
		use := useWords[max(0, slices.Index(form.UseNames, p.Use))]
		names = append(names, with("{{.Name}}: {{.Use}}, {{.Angle}}", map[string]any{"Name": widgets.Shortened(p.Name, mostName), "Use": use, "Angle": angle}))
	}
	if len(names) != len(c.names) || c.rows == nil {
		c.rows = kit.NewOneOf(c.choose, names...).InColumn()
		c.scroll = nil
		var list fyne.CanvasObject = c.rows.Content
		if len(names) > mostRows { // the readings below are to be seen too
			c.scroll = container.NewVScroll(list)
			c.scroll.SetMinSize(fyne.NewSize(0, list.MinSize().Height*(mostRows-0.5)/float32(len(names))))
			list = c.scroll
		}
		c.list.Objects = []fyne.CanvasObject{list}
		c.list.Refresh()
	} else {
		for i, b := range c.rows.Buttons {
			if b.Text != names[i] {
				b.SetText(names[i])
			}
		}
	}
	c.names = names
	c.rows.Set(c.chosen)
	c.reveal()
}

// reveal scrolls to the row of the chosen part, where the list scrolls.
func (c *partsPanel) reveal() {
	if c.scroll == nil || c.chosen < 0 {
		return
	}
	row := c.rows.Content.MinSize().Height / float32(len(c.names))
	top, room := row*float32(c.chosen), c.scroll.MinSize().Height
	switch at := c.scroll.Offset.Y; {
	case top < at:
		c.scroll.ScrollToOffset(fyne.NewPos(0, top))
	case top+row > at+room:
		c.scroll.ScrollToOffset(fyne.NewPos(0, top+row-room))
	}
}

// choose shows the readings of a part.
func (c *partsPanel) choose(i int) {
	if i == c.chosen {
		return
	}
	c.p.u.Session.Seal()
	c.chosen = i
	c.p.shownAnother()
}

// step changes the list of parts, in a step of its own, and shows the part of the place
// that change returns.
func (c *partsPanel) step(change func(*job.Job) int) {
	u := c.p.u
	u.Session.Seal()
	next := u.Session.Job().Gather(tr("Drawing"), tr("New crankshaft"))
	c.chosen = change(&next)
	u.Edit("part", func(j *job.Job) { *j = next })
	u.Session.Seal()
	c.p.shownAnother()
}

// haveOld makes the old crankshaft one of two parts: what the new one is compared with,
// unless a drawing is that already.
func (c *partsPanel) haveOld() {
	c.step(func(j *job.Job) int {
		use := job.UseDatum
		if j.PartFor(use) >= 0 {
			use = ""
		}
		old := j.AddPart(job.Part{Name: tr("Old crankshaft"), What: "old", Use: use, SeenFrom: c.end()})
		if j.PartFor(job.UseEngine) < 0 {
			j.AddPart(job.Part{Name: tr("New crankshaft"), What: "new", Use: job.UseEngine, SeenFrom: c.end()})
		}
		return old
	})
	c.p.focusMethod()
}

// end is the end that readings are seen from at first.
func (c *partsPanel) end() string {
	if end := c.p.u.Prefs.NewEnd().String(); end != "nose" {
		return end
	}
	return ""
}

// haveDrawing asks for the drawing's angle.
func (c *partsPanel) haveDrawing() {
	b := c.p.benches[c.p.feature]
	b.drawing.Given.SetChecked(true)
	if fields := b.drawing.Inputs[b.drawing.Shown]; len(fields) > 0 {
		c.p.u.Window.Canvas().Focus(fields[0].Focus())
	}
}

// measureAgain keeps the part in the engine as it was before its repair, and shows the
// repaired one, to be measured.
func (c *partsPanel) measureAgain() {
	c.step(func(j *job.Job) int { return j.Repaired(tr("Repaired crankshaft")) })
	c.p.focusMethod()
}

// another adds a part: what the others are compared with or what is in the engine,
// where the job has none, else one that is kept.
func (c *partsPanel) another() {
	c.step(func(j *job.Job) int {
		p := job.Part{Name: tr("Another crankshaft"), What: "spare", SeenFrom: c.end()}
		switch {
		case j.PartFor(job.UseDatum) < 0:
			p = job.Part{Name: tr("Old crankshaft"), What: "old", Use: job.UseDatum, SeenFrom: c.end()}
		case j.PartFor(job.UseEngine) < 0:
			p = job.Part{Name: tr("New crankshaft"), What: "new", Use: job.UseEngine, SeenFrom: c.end()}
		}
		c.editing = true
		return j.AddPart(p)
	})
}

// remove takes the chosen part out of the job.
func (c *partsPanel) remove() {
	i := c.chosen
	u := c.p.u
	u.Session.Seal()
	u.Edit("part", func(j *job.Job) { j.Parts = slices.Delete(j.Parts, i, i+1) })
	u.Session.Seal()
	c.p.shownAnother()
}

// show chooses the part that a key belongs to.
func (c *partsPanel) show(key string) {
	if i, ok := placeIn(key); ok && i < len(c.p.u.Session.Job().Parts) {
		c.choose(i)
	}
}
