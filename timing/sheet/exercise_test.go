package sheet

import (
	"bytes"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

func exercise(t testing.TB, lang string, count int) ExerciseInput {
	t.Helper()
	list, err := lesson.Exercise(lesson.Source{}, lesson.Kinds(), 7, count)
	if err != nil {
		t.Fatal(err)
	}
	return ExerciseInput{Questions: list, Seed: 7, Date: someDay, Lang: lang, Say: language.New(lang, quantity.Units{}).Say}
}

func TestGoldenExercise(t *testing.T) {
	in := exercise(t, "en", 10)
	in.About = "Harbour launch"
	golden(t, "exercise.txt", ExerciseSheet(in).String())
	golden(t, "answers.txt", AnswerSheet(in).String())
}

// onPages is all the writing of a document as it is printed, page by page.
func onPages(pages []figure.Drawing) []string {
	var list []string
	for _, p := range pages {
		var words []string
		for _, s := range p.Shapes {
			if t, ok := s.(figure.Text); ok {
				words = append(words, t.S)
			}
		}
		list = append(list, strings.Join(words, " "))
	}
	return list
}

// The questions are all on the paper with a line for every answer, and no answer
// is; the answers are on theirs, in every language and on both papers.
func TestExerciseOnPaper(t *testing.T) {
	for _, lang := range language.Codes {
		in := exercise(t, lang, 24)
		for _, p := range Papers {
			questions := strings.Join(onPages(ExerciseSheet(in).Pages(p)), " ")
			answers := strings.Join(onPages(AnswerSheet(in).Pages(p)), " ")
			for _, q := range in.Questions {
				if last := in.Say(q.Steps[len(q.Steps)-1]); strings.Contains(questions, last) || !strings.Contains(answers, last) {
					t.Errorf("%s, %s: the step %q is with the questions or not with the answers", lang, p.Name, last)
				}
				if ask := in.Say(q.Ask); !strings.Contains(questions, ask) {
					t.Errorf("%s, %s: %q is not asked", lang, p.Name, ask)
				}
				for _, part := range q.Parts {
					if a := in.Say(part.Answer()); !strings.Contains(answers, a) {
						t.Errorf("%s, %s: the answer %q is not with the answers", lang, p.Name, a)
					}
				}
			}
			for _, text := range []string{questions, answers} {
				if strings.Contains(text, "{{") {
					t.Errorf("%s, %s: a place is open", lang, p.Name)
				}
			}
		}
	}
}

// A question and its lines stay on one page, and so do an answer and its figure.
func TestGroupsStayTogether(t *testing.T) {
	in := exercise(t, "en", 30)
	for _, p := range Papers {
		pages := onPages(ExerciseSheet(in).Pages(p))
		for i, q := range in.Questions {
			head := " " + phrase.Num{Value: float64(i + 1)}.String() + ". " + string(q.Kind.Name())
			for n, page := range pages {
				at := strings.Index(" "+page, head)
				if at < 0 {
					continue
				}
				if ask := q.Parts[len(q.Parts)-1].Ask.String(); !strings.Contains(page[at:], ask) {
					t.Errorf("%s: question %d begins on page %d without its lines", p.Name, i+1, n+1)
				}
			}
		}
	}
	s := &setter{paper: A4}
	s.turn()
	long := Group{[]Block{Paragraph{Text: strings.Repeat("word ", 5000)}, Paragraph{Text: "end"}}}
	s.group(long)
	if len(s.pages) < 2 {
		t.Error("a group longer than a page is cut off")
	}
}

// The same exercise is the same file.
func TestExerciseFiles(t *testing.T) {
	var pdf, again, html bytes.Buffer
	for _, b := range []*bytes.Buffer{&pdf, &again} {
		if err := AnswerSheet(exercise(t, "de", 8)).WritePDF(b, A4); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(pdf.Bytes(), again.Bytes()) || !bytes.HasPrefix(pdf.Bytes(), []byte("%PDF-")) {
		t.Error("the same answers are two files")
	}
	if err := ExerciseSheet(exercise(t, "en", 8)).WriteHTML(&html, Letter); err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(html.String(), "<section class=\"together\">"); n != 8 {
		t.Errorf("%d questions in HTML, want 8", n)
	}
}
