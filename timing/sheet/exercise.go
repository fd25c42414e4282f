package sheet

import (
	"strconv"
	"strings"
	"time"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/phrase"
)

// ExerciseInput is what an exercise and its answers are made from.
type ExerciseInput struct {
	Questions []lesson.Question
	Seed      uint64 // by which it can be made again
	About     string // the job whose engine is asked about; "" for made-up engines
	Code      string // of an exercise for a class, which says what is asked about; "" for none
	Diagram   bool   // with a cycle diagram to fill in, of the engine of the last question

	Date time.Time
	Lang string
	Say  chart.Say
}

const (
	wordExercise      phrase.Text = "Exercise"
	wordExerciseN     phrase.Text = "Exercise {{.Seed}}"
	wordAnswersN      phrase.Text = "Answers to exercise {{.Seed}}"
	wordAnswers       phrase.Text = "Answers"
	wordAboutJob      phrase.Text = "The questions are about the engine of the job “{{.Title}}”."
	wordAboutMade     phrase.Text = "The engines are made up."
	wordAboutCode     phrase.Text = "The code of the exercise is {{.Code}}."
	wordHowTo         phrase.Text = "Angles are crank degrees unless stated otherwise. Give the side too where there is one: before or after TDC, early or late."
	wordAgain         phrase.Text = "The same number, count, kinds and engines give the same questions again."
	wordName          phrase.Text = "Name"
	wordDay           phrase.Text = "Date"
	wordPoints        phrase.Text = "Correct, of {{.Count}}"
	wordClass         phrase.Text = "Class"
	wordNumbered      phrase.Text = "{{.N}}. {{.Kind}}"
	wordNumberedLevel phrase.Text = "{{.N}}. {{.Kind}}, level {{.Level}}"
	wordOneOf         phrase.Text = "One of: {{.Choices}}."
	wordQuestion      phrase.Text = "question"
	wordAnswer        phrase.Text = "answer"
	wordIs            phrase.Text = "{{.Part}}: {{.Answer}}"
	wordDiagram       phrase.Text = "Cycle diagram"
	wordDiagramFour   phrase.Text = "A four-stroke engine fires in the order {{.Order}}, at intervals of {{.Intervals}}, cylinder 1 at 0°. Divide each cylinder's row into its strokes, name them, and mark its firing TDC."
	wordDiagramTwo    phrase.Text = "A two-stroke engine fires in the order {{.Order}}, at intervals of {{.Intervals}}, cylinder 1 at 0°. Divide each cylinder's row into its strokes, name them, and mark its firing TDC."
	wordDiagramIs     phrase.Text = "Firing TDC: {{.At}}."
	wordFiresAt       phrase.Text = "cylinder {{.N}} at {{.At}}°"
)

// ExerciseSheet is the questions with room for the answers.
func ExerciseSheet(in ExerciseInput) Document {
	m := in.maker(wordExercise, wordExerciseN)
	m.add(Blanks{[]string{m.text(wordName), m.text(wordDay), m.text(wordClass), m.with(wordPoints, map[string]any{"Count": len(in.Questions)})}})
	m.add(Paragraph{Text: in.about(m) + " " + m.text(wordHowTo)})
	for i, q := range in.Questions {
		g := Group{[]Block{Heading{m.with(wordNumbered, map[string]any{"N": i + 1, "Kind": q.Kind.Name()}), 3}}}
		g.Blocks = append(g.Blocks, Paragraph{Text: m.asked(q)})
		if f, ok := m.practice(q, q.Before, false); ok {
			g.Blocks = append(g.Blocks, f)
		}
		var fields []string
		for _, p := range q.Parts {
			fields = append(fields, m.Say.Sentence(p.Label()))
			if len(p.Choices) > 0 {
				g.Blocks = append(g.Blocks, Paragraph{m.with(wordOneOf, map[string]any{"Choices": m.choices(p)}), Small})
			}
		}
		m.add(Group{append(g.Blocks, Blanks{fields})})
	}
	if g, ok := m.toFillIn(in, false); ok {
		m.add(g)
	}
	return *m.doc
}

// toFillIn is the cycle diagram of the last question's engine with empty rows, or solved.
func (m maker) toFillIn(in ExerciseInput, solved bool) (Group, bool) {
	if !in.Diagram || len(in.Questions) == 0 {
		return Group{}, false
	}
	j := in.Questions[len(in.Questions)-1].Job
	draw, err := chart.CycleToFillIn(j, solved, m.Say)
	if err != nil {
		return Group{}, false
	}
	n := float64(len(j.Engine.FiringOrder))
	g := Group{[]Block{Heading{m.text(wordDiagram), 3}}}
	asked := wordDiagramFour
	if j.Engine.Strokes == 2 {
		asked = wordDiagramTwo
	}
	e, err := finding.EngineOf(j)
	if err != nil {
		return Group{}, false
	}
	height := 60 + 24*n
	if !solved {
		g.Blocks = append(g.Blocks, Paragraph{Text: m.with(asked, map[string]any{"Order": timing.OrderText(j.Engine.FiringOrder), "Intervals": m.intervalWords(e, j.Engine.FiringIntervalsDeg)})})
	} else {
		var at []string
		for _, c := range e.Order() {
			at = append(at, m.with(wordFiresAt, map[string]any{"N": c, "At": phrase.Num{Value: float64(e.FiresAt(c)), Decimals: 1}}))
		}
		g.Blocks = append(g.Blocks, Paragraph{Text: m.with(wordDiagramIs, map[string]any{"At": strings.Join(at, "; ")})})
		height = 90 + 20*n
	}
	g.Blocks = append(g.Blocks, Figure{Name: "cycle", Drawing: draw(figure.Box{W: Width, H: min(height, 560)})})
	return g, true
}

// intervalWords are the firing intervals of an engine that fires unevenly, or the one of
// an engine that fires evenly.
func (m maker) intervalWords(e timing.Scheme, intervals []float64) string {
	if len(intervals) == 0 {
		intervals = []float64{float64(e.Cycle()) / float64(e.Cylinders())}
	}
	var list []string
	for _, v := range intervals {
		list = append(list, m.num(wordDegrees, v, 1))
	}
	return strings.Join(list, ", ")
}

// AnswerSheet is the answers: all of them in a table, then each with its steps and
// its figure.
func AnswerSheet(in ExerciseInput) Document {
	m := in.maker(wordAnswers, wordAnswersN)
	m.add(Paragraph{Text: in.about(m) + " " + m.text(wordAgain)})
	t := Table{Columns: []Column{m.column(wordQuestion, false), m.column(wordAnswer, false)}}
	for i, q := range in.Questions {
		t.Rows = append(t.Rows, []string{m.with(wordNumbered, map[string]any{"N": i + 1, "Kind": q.Kind.Name()}), m.answer(q)})
	}
	m.add(t)
	for i, q := range in.Questions {
		g := []Block{
			Heading{m.with(wordNumberedLevel, map[string]any{"N": i + 1, "Kind": q.Kind.Name(), "Level": q.Level}), 2},
			Paragraph{Text: m.asked(q)}, m.list(q.Steps)}
		if len(q.Notes) > 0 {
			g = append(g, m.list(q.Notes))
		}
		g = append(g, Heading{m.answer(q), 3})
		if f, ok := m.practice(q, q.After, true); ok {
			g = append(g, f)
		}
		m.add(Group{g})
	}
	if g, ok := m.toFillIn(in, true); ok {
		m.add(g)
	}
	return *m.doc
}

func (in ExerciseInput) maker(kind, title phrase.Text) maker {
	m := newMaker(Input{Date: in.Date, Lang: in.Lang, Say: in.Say}, kind)
	m.doc.Title = m.with(title, map[string]any{"Seed": seedWords(in.Seed)})
	m.add(Heading{m.doc.Title, 1})
	return m
}

// seedWords is an exercise's number, as it is read out.
func seedWords(seed uint64) string { return strconv.FormatUint(seed, 10) }

// about says whose engines the questions are about.
func (in ExerciseInput) about(m maker) string {
	if in.Code != "" {
		return m.with(wordAboutCode, map[string]any{"Code": in.Code})
	}
	if in.About == "" {
		return m.text(wordAboutMade)
	}
	return m.with(wordAboutJob, map[string]any{"Title": line(in.About)})
}

// asked is a question with what is given.
func (m maker) asked(q lesson.Question) string {
	var words []string
	for _, s := range q.Given {
		words = append(words, m.Say.Sentence(s))
	}
	return strings.Join(append(words, m.Say.Sentence(q.Ask)), " ")
}

func (m maker) choices(p lesson.Part) string {
	var words []string
	for _, c := range p.Choices {
		words = append(words, m.Say.Sentence(c))
	}
	return strings.Join(words, "; ")
}

// answer is the answer to every part.
func (m maker) answer(q lesson.Question) string {
	var words []string
	for _, p := range q.Parts {
		words = append(words, m.with(wordIs, map[string]any{"Part": p.Ask, "Answer": p.Answer()}))
	}
	return strings.Join(words, "; ")
}

// exerciseBoxes are the sizes of the figures, by name.
var exerciseBoxes = map[string]figure.Box{
	"wheel":   {W: 0.9 * Width, H: 212},
	"gears":   {W: 0.9 * Width, H: 170},
	"signals": {W: Width, H: 250},
	"dial":    {W: 0.9 * Width, H: 190},
}

// practice is a figure of a question; ok is false where there is none.
func (m maker) practice(q lesson.Question, f *lesson.Figure, solved bool) (Figure, bool) {
	_, draw, err := chart.Practice(q, f, solved, m.Say)
	if err != nil {
		return Figure{}, false
	}
	box, ok := exerciseBoxes[f.Name]
	if !ok { // rows of cylinders
		box = figure.Box{W: Width, H: 76 + 13*float64(len(q.Job.Engine.FiringOrder))}
	}
	return Figure{Name: f.Name, Drawing: draw(box)}, true
}
