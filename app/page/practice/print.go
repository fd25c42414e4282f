package practice

import (
	"bytes"
	"path/filepath"
	"strings"
	"time"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/sheet"
)

// toPrint writes the exercise and its answers as two PDFs.
func (c *practiceChoice) toPrint(p *page) {
	seed, count, given, ok := c.chosen(p)
	if !ok {
		return
	}
	from, kinds := p.source(), p.kinds
	code := ""
	if given != nil {
		from, kinds = given.Source(), given.Kinds
		code, _ = given.Code() // which it was read from
	} else if !p.made {
		from = lesson.Only(p.u.Known())
	}
	in := sheet.ExerciseInput{Code: code, Diagram: c.diagram.Checked, Date: time.Now(), Lang: voice().Code(), Say: say}
	if !p.made && given == nil {
		in.About = p.u.Name()
		if title := p.u.Session.Job().Title; title != "" {
			in.About = title
		}
	}
	variants := 1 + max(0, c.variants.SelectedIndex())
	if given != nil { // the code is of one exercise
		variants = 1
	}
	var list []sheet.ExerciseInput
	for i := range uint64(variants) {
		questions, err := lesson.Exercise(from, kinds, seed+i, count)
		if err != nil {
			p.u.Inform(tr("That did not work"), kit.Wrapped(p.cannot(err)))
			return
		}
		in.Questions, in.Seed = questions, seed+i
		list = append(list, in)
	}
	folder, _ := p.u.Suggest(".pdf")
	name := with("exercise-{{.Seed}}.pdf", map[string]any{"Seed": seed})
	p.u.AskPath(tr("Save the exercise as"), folder, name, ".pdf", func(path string) { p.writeExercise(list, path) })
}

// writeExercise writes the exercise, or its variants, to a file and the answers to one
// beside it, which is only replaced after asking.
func (p *page) writeExercise(list []sheet.ExerciseInput, path string) {
	ext := filepath.Ext(path)
	answers := strings.TrimSuffix(path, ext) + "-" + tr("answers") + ext
	p.u.UnlessThere(answers, func() { p.writeBoth(list, path, answers) })
}

// writeBoth writes the two files, one after the other, and says so.
func (p *page) writeBoth(list []sheet.ExerciseInput, path, answers string) {
	u := p.u
	paper := u.Paper()
	asked, key := sheet.ExercisePapers(list)
	u.WriteFile(path, func(b *bytes.Buffer) error { return asked.WritePDF(b, paper) }, func() {
		u.WriteFile(answers, func(b *bytes.Buffer) error { return key.WritePDF(b, paper) }, func() {
			u.Inform(tr("The exercise is ready to print"), kit.Wrapped(with("The questions are in {{.Questions}}, the answers in {{.Answers}}.",
				map[string]any{"Questions": path, "Answers": answers})))
		})
	})
}
