package sheet

import (
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// MostVariants is how many variants of an exercise there may be, a letter each.
const MostVariants = 8

const (
	wordVariantN  phrase.Text = "Exercise {{.Seed}}, variant {{.Letter}}"
	wordKeyN      phrase.Text = "Key to exercise {{.Seed}}"
	wordVariant   phrase.Text = "variant {{.Letter}}"
	wordVariantOf phrase.Text = "Variant {{.Letter}} is exercise {{.Seed}}."
)

// letter is how a variant is called: A, B and so on.
func letter(i int) string { return string(rune('A' + i)) }

// ExercisePapers are the questions and the answers of an exercise, or of its variants.
func ExercisePapers(list []ExerciseInput) (questions, answers Document) {
	if len(list) == 1 {
		return ExerciseSheet(list[0]), AnswerSheet(list[0])
	}
	return VariantsSheet(list), KeySheet(list)
}

// VariantsSheet is the questions of several variants for one class, so that neighbours
// are asked other things: each begins on a page of its own.
func VariantsSheet(list []ExerciseInput) Document {
	var all Document
	for i, in := range list {
		d := ExerciseSheet(in)
		if i == 0 {
			all = d
			all.Blocks = nil
		} else {
			all.Blocks = append(all.Blocks, NewPage{})
		}
		m := newMaker(Input{Date: in.Date, Lang: in.Lang, Say: in.Say}, wordExercise)
		title := m.with(wordVariantN, map[string]any{"Seed": seedWords(list[0].Seed), "Letter": letter(i)})
		all.Blocks = append(append(all.Blocks, Heading{title, 1}), d.Blocks[1:]...)
	}
	return all
}

// KeySheet is the one key to several variants: the answers to each question beside each
// other, with what is asked, for that may be of another kind.
func KeySheet(list []ExerciseInput) Document {
	m := list[0].maker(wordAnswers, wordKeyN)
	var about []string
	t := Table{Columns: []Column{m.column(wordQuestion, false)}}
	for i, in := range list {
		about = append(about, m.with(wordVariantOf, map[string]any{"Seed": seedWords(in.Seed), "Letter": letter(i)}))
		t.Columns = append(t.Columns, Column{Head: m.with(wordVariant, map[string]any{"Letter": letter(i)})})
	}
	for n := range list[0].Questions {
		row := []string{strconv.Itoa(n + 1)}
		for _, in := range list {
			words := m.text(wordUnknown)
			if n < len(in.Questions) {
				q := in.Questions[n]
				words = m.text(q.Kind.Name()) + "\n" + m.answer(q)
			}
			row = append(row, words)
		}
		t.Rows = append(t.Rows, row)
	}
	m.add(Paragraph{Text: list[0].about(m) + " " + strings.Join(about, " ") + " " + m.text(wordAgain)}, t)
	for i, in := range list {
		if g, ok := m.toFillIn(in, true); ok {
			m.add(Group{append([]Block{Heading{m.with(wordVariant, map[string]any{"Letter": letter(i)}), 2}}, g.Blocks...)})
		}
	}
	return *m.doc
}
