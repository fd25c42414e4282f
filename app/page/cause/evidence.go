package cause

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// evidencePane is every kind of evidence that can be recorded, in groups by how it
// is got, and what is known of each. What the job holds elsewhere is shown with
// where it comes from and is not typed twice.
type evidencePane struct {
	p       *page
	content *fyne.Container
	groups  *kit.Folds
	counts  []string // of the groups, as shown
	list    []finding.EvidenceGroup
	rows    map[string]*clueRow
	only    *kit.Check
	none    *widget.Label // instead of the groups, where nothing is known
	strange *strangeClues
}

func newEvidencePane(p *page) *evidencePane {
	e := &evidencePane{p: p, groups: kit.NewFolds(p.u.Frame), list: finding.EvidenceGroups(), rows: map[string]*clueRow{}, none: kit.Prose()}
	e.none.SetText(tr("Nothing is known yet."))
	e.only = kit.NewCheck(tr("only what is known"), func(on bool) {
		e.load()
		if on {
			e.openKnown()
		}
	})
	e.strange = newStrangeClues(p)
	for i, g := range e.list {
		var rows []fyne.CanvasObject
		for _, name := range g.Kinds {
			k, _ := cause.KindNamed(name)
			r := newClueRow(e, k)
			e.rows[k.Name] = r
			rows = append(rows, r.content)
		}
		e.groups.Add(tr(g.Title), i == 0, container.NewVBox(rows...))
	}
	e.counts = make([]string, len(e.list))
	about := kit.Wrapped(tr("Unknown is not the same as no: leave open what nobody checked."))
	rows := container.NewVBox(about, e.strange.content, e.none, e.groups.Content)
	p.form.Scroll = container.NewVScroll(container.New(&kit.BesideBar{}, rows))
	e.content = container.NewBorder(e.only, nil, nil, nil, p.form.Scroll)
	return e
}

// load shows what is known. It reads the present state of the job, with what is
// being typed.
func (e *evidencePane) load() {
	j := e.p.u.Session.Job()
	implied, _ := finding.Implied(e.p.u.Known()) // what is wrong with the readings is said where they are typed
	known := 0
	changed := false
	for i, g := range e.list {
		n := 0
		for _, name := range g.Kinds {
			r := e.rows[name]
			r.load(j, impliedOf(implied, name))
			if r.known() {
				n++
			}
			hidden := e.only.Checked && !r.known()
			changed = changed || hidden != r.content.Hidden
			r.content.Hidden = hidden
		}
		known += n
		title := tr(g.Title)
		if n > 0 {
			title = with("{{.Group}}: {{.N}} known", map[string]any{"Group": title, "N": n})
		}
		if title != e.counts[i] {
			e.counts[i], e.groups.List[i].Title, changed = title, title, true
		}
	}
	none := known > 0 || !e.only.Checked
	changed = changed || none != e.none.Hidden
	e.none.Hidden = none
	e.strange.load(j)
	if changed {
		e.groups.Refresh()
		e.p.form.Scroll.Refresh()
	}
}

// openKnown opens the groups of which something is known and closes the others.
func (e *evidencePane) openKnown() {
	for i, g := range e.list {
		open := false
		for _, name := range g.Kinds {
			open = open || e.rows[name].known()
		}
		e.groups.List[i].Open = open
	}
	e.groups.Refresh()
	e.p.form.Scroll.Refresh()
}

func impliedOf(list []finding.Clue, kind string) *finding.Clue {
	for i := range list {
		if list[i].Kind == kind {
			return &list[i]
		}
	}
	return nil
}

// forget lets go of what was typed and is in no job.
func (e *evidencePane) forget() {
	for _, r := range e.rows {
		r.forget()
	}
}

// reveal leads to a kind of evidence and gives the keyboard to it.
func (e *evidencePane) reveal(kind string) {
	r := e.rows[kind]
	if r == nil {
		return
	}
	e.p.panes.Show(0)
	for i, g := range e.list {
		for _, name := range g.Kinds {
			if name == kind && !e.groups.List[i].Open {
				e.groups.Show(i)
			}
		}
	}
	r.content.Hidden = false
	e.p.form.Scroll.Refresh() // for it to be where it will be seen
	e.p.form.Reveal(r.content)
	if to := r.focus(); to != nil {
		e.p.u.Window.Canvas().Focus(to)
	}
}

// nth returns where in a job's evidence the n-th piece of a kind stands, −1 when
// there are not so many.
func nth(j *job.Job, kind string, n int) int {
	for i, ev := range j.Evidence {
		if k, ok := cause.KindNamed(ev.Kind); ok && k.Name == kind {
			if n == 0 {
				return i
			}
			n--
		}
	}
	return -1
}

// putClue sets the n-th piece of a kind; there may be none so far.
func putClue(j *job.Job, kind string, n int, value any) {
	if i := nth(j, kind, n); i >= 0 {
		if j.Evidence[i].Value != value {
			j.Evidence[i].Value = value
		}
		return
	}
	j.Evidence = append(j.Evidence, job.Evidence{Kind: kind, Value: value})
}

// dropClue takes the n-th piece of a kind away.
func dropClue(j *job.Job, kind string, n int) {
	if i := nth(j, kind, n); i >= 0 {
		j.Evidence = append(j.Evidence[:i:i], j.Evidence[i+1:]...)
		if len(j.Evidence) == 0 {
			j.Evidence = nil
		}
	}
}

// strangeClues are pieces of evidence of no kind that is known, as from a file that
// was written by hand.
type strangeClues struct {
	p       *page
	content *fyne.Container
	shown   string
}

func newStrangeClues(p *page) *strangeClues {
	return &strangeClues{p: p, content: container.NewVBox()}
}

func (s *strangeClues) load(j job.Job) {
	var objects []fyne.CanvasObject
	text := ""
	for _, f := range finding.CheckEvidence(j) {
		i := evidenceIndex(f.Key)
		if i < 0 || i >= len(j.Evidence) {
			continue
		}
		if k, ok := cause.KindNamed(j.Evidence[i].Kind); ok {
			if _, wrong := k.CheckValue(j.Evidence[i].Value); !wrong {
				continue // its u is typed beside it
			}
		}
		text += f.Error() + "\n"
		l := kit.MessageLabel()
		kit.ShowMessage(l, with("{{.Kind}} {{.What}}", map[string]any{"Kind": j.Evidence[i].Kind, "What": f.Message}))
		take := widget.NewButton(tr("Remove"), func() {
			s.p.u.Edit("evidence", func(j *job.Job) {
				if i < len(j.Evidence) {
					j.Evidence = append(j.Evidence[:i:i], j.Evidence[i+1:]...)
				}
			})
			s.p.u.Session.Seal()
		})
		objects = append(objects, l, container.NewHBox(take))
	}
	if text != s.shown {
		s.shown, s.content.Objects = text, objects
		s.content.Refresh()
	}
}
