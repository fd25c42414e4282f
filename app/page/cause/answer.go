package cause

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// wordAnswer is one of a few words, "not known" before them.
type wordAnswer struct {
	r     *clueRow
	n     int
	box   *fyne.Container
	row   *answerButtons
	sel   *kit.Select
	quiet bool // while it is loaded
}

// fewWords is how many words are shown as buttons.
const fewWords = 2

func newWordAnswer(r *clueRow, n int) *wordAnswer {
	a := &wordAnswer{r: r, n: n}
	names := []string{tr("not known")}
	for _, w := range answerWords(r.kind) {
		names = append(names, tr(w))
	}
	if len(names) <= 1+fewWords {
		a.row = newAnswerButtons(a.choose, names...)
		a.box = container.NewVBox(a.row.content)
	} else {
		a.sel = kit.NewSelect(names, func(string) { a.choose(a.sel.SelectedIndex()) })
		a.box = container.NewVBox(kit.Elastic(a.sel, 190))
	}
	return a
}

// answerWords are a kind's words; of yes and no, yes comes first.
func answerWords(k *cause.Kind) []phrase.Text {
	if k.Value == cause.YesNo {
		return []phrase.Text{"yes", "no"}
	}
	return k.Shown
}

func (a *wordAnswer) object() fyne.CanvasObject { return a.box }

func (a *wordAnswer) choose(i int) {
	if a.quiet || i < 0 {
		return
	}
	k := a.r.kind
	a.r.edit(func(j *job.Job) {
		switch {
		case i == 0:
			dropClue(j, k.Name, a.n)
		case k.Value == cause.YesNo:
			putClue(j, k.Name, a.n, i == 1)
		default:
			putClue(j, k.Name, a.n, k.Words[i-1])
		}
	})
	a.r.e.p.u.Session.Seal()
}

func (a *wordAnswer) load(j job.Job) {
	k := a.r.kind
	at := 0
	if i := nth(&j, k.Name, a.n); i >= 0 {
		word, ok := k.Index(j.Evidence[i].Value)
		switch {
		case !ok: // named above as what cannot be
		case k.Value == cause.YesNo:
			at = 2 - word
		default:
			at = 1 + word
		}
	}
	a.quiet = true
	if a.row != nil {
		a.row.set(at)
	} else if a.sel.SelectedIndex() != at {
		a.sel.SetSelectedIndex(at)
	}
	a.quiet = false
}

func (a *wordAnswer) forget() {}

func (a *wordAnswer) focus() fyne.Focusable {
	if a.row != nil {
		return a.row.buttons[1]
	}
	return a.sel
}

// answerButtons are a few words of which one is chosen; the first, that nothing is
// known, does not stand out when it is.
type answerButtons struct {
	content *fyne.Container
	buttons []*widget.Button
	chosen  int
}

func newAnswerButtons(chose func(int), names ...string) *answerButtons {
	b := &answerButtons{content: container.New(&kit.Flow{}), chosen: -1}
	for i, name := range names {
		w := widget.NewButton(name, func() { chose(i) })
		b.buttons = append(b.buttons, w)
		b.content.Add(w)
	}
	b.set(0)
	return b
}

func (b *answerButtons) set(chosen int) {
	if chosen == b.chosen {
		return
	}
	b.chosen = chosen
	for i, w := range b.buttons {
		want := widget.LowImportance
		switch {
		case i == chosen && i == 0:
			want = widget.MediumImportance
		case i == chosen:
			want = widget.HighImportance
		}
		if w.Importance != want {
			w.Importance = want
			w.Refresh()
		}
	}
}

// tickAnswer is any number of a kind's words at once.
type tickAnswer struct {
	r     *clueRow
	box   *fyne.Container
	ticks []*kit.Check
	quiet bool
}

func newTickAnswer(r *clueRow) *tickAnswer {
	t := &tickAnswer{r: r, box: container.New(&kit.Flow{})}
	for i, w := range r.kind.Words {
		c := kit.NewCheck(tr(r.kind.Shown[i]), func(on bool) { t.tick(w, on) })
		t.ticks = append(t.ticks, c)
		t.box.Add(c)
	}
	return t
}

func (t *tickAnswer) object() fyne.CanvasObject { return t.box }

func (t *tickAnswer) tick(word string, on bool) {
	if t.quiet {
		return
	}
	k := t.r.kind
	t.r.edit(func(j *job.Job) {
		if on {
			j.Evidence = append(j.Evidence, job.Evidence{Kind: k.Name, Value: word})
			return
		}
		for n := 0; nth(j, k.Name, n) >= 0; {
			if i, ok := k.Index(j.Evidence[nth(j, k.Name, n)].Value); ok && k.Words[i] == word {
				dropClue(j, k.Name, n)
			} else {
				n++
			}
		}
	})
	t.r.e.p.u.Session.Seal()
}

func (t *tickAnswer) load(j job.Job) {
	k := t.r.kind
	on := map[int]bool{}
	for n := 0; nth(&j, k.Name, n) >= 0; n++ {
		if i, ok := k.Index(j.Evidence[nth(&j, k.Name, n)].Value); ok {
			on[i] = true
		}
	}
	t.quiet = true
	for i, c := range t.ticks {
		if c.Checked != on[i] {
			c.SetChecked(on[i])
		}
	}
	t.quiet = false
}

func (t *tickAnswer) focus() fyne.Focusable { return t.ticks[0] }
