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
	list, err := lesson.Exercise(from, kinds, seed, count)
	if err != nil {
		p.u.Inform(tr("That did not work"), kit.Wrapped(p.cannot(err)))
		return
	}
	in := sheet.ExerciseInput{Questions: list, Seed: seed, Code: code, Date: time.Now(), Lang: voice().Code(), Say: say}
	if !p.made && given == nil {
		in.About = p.u.Name()
		if title := p.u.Session.Job().Title; title != "" {
			in.About = title
		}
	}
	folder, _ := p.u.Suggest(".pdf")
	name := with("exercise-{{.Seed}}.pdf", map[string]any{"Seed": seed})
	p.u.AskPath(tr("Save the exercise as"), folder, name, ".pdf", func(path string) { p.writeExercise(in, path) })
}

// writeExercise writes the exercise to a file and the answers to one beside it,
// which is only replaced after asking.
func (p *page) writeExercise(in sheet.ExerciseInput, path string) {
	ext := filepath.Ext(path)
	answers := strings.TrimSuffix(path, ext) + "-" + tr("answers") + ext
	p.u.UnlessThere(answers, func() { p.writeBoth(in, path, answers) })
}

// writeBoth writes the two files, one after the other, and says so.
func (p *page) writeBoth(in sheet.ExerciseInput, path, answers string) {
	u := p.u
	paper := u.Paper()
	u.WriteFile(path, func(b *bytes.Buffer) error { return sheet.ExerciseSheet(in).WritePDF(b, paper) }, func() {
		u.WriteFile(answers, func(b *bytes.Buffer) error { return sheet.AnswerSheet(in).WritePDF(b, paper) }, func() {
			u.Inform(tr("The exercise is ready to print"), kit.Wrapped(with("The questions are in {{.Questions}}, the answers in {{.Answers}}.",
				map[string]any{"Questions": path, "Answers": answers})))
		})
	})
}
