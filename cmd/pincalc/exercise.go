package main

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/console"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/sheet"
)

// The limits of an exercise.
const (
	usualQuestions = 20
	mostQuestions  = 500
	largestSeed    = 10000 // of those that are thrown: easy to read out to a class
)

func (s *shell) exerciseCommand() *cobra.Command {
	var out *output
	var answers string
	var dice seed
	many, variants := usualQuestions, 1
	var kinds []string
	var diagram bool
	var on day
	engines := word{value: "job", of: []string{"job", "made-up"}}
	paper := word{value: "a4", of: []string{"a4", "letter"}}
	var cmd *cobra.Command
	cmd = s.jobCommand(manual{
		use: "exercise JOB -o FILE [--seed N] [--count N] [--answers FILE] [--json]", short: "Write an exercise for apprentices, and its answers",
		long: `Writes questions about the job's engine, with room for the answers, as a PDF or an
HTML file: strokes, paired cylinders, firing order, start of injection, early or late,
teeth and gap, TDC from two stop readings, timing marks, reading a recording. Each has one correct answer. They
begin easy and grow harder.

--answers writes the answers to a file of their own, each with its steps and its figure.

--variants writes several exercises for one class into the file, each on pages of its own
and with questions of its own, so that neighbours are asked other things: the seed's and
those after it. The answers are then one key, with the variants beside each other.

The same job, kinds, count and seed give the same questions on every computer. Without
a seed one is thrown; the sheet and the command name it.`,
		example: `  pincalc exercise demo -o exercise.pdf --answers answers.pdf --seed 7
  pincalc exercise demo -o exercise.pdf --engines made-up --count 12
  pincalc exercise demo -o exercise.pdf --answers key.pdf --seed 7 --variants 3
  pincalc exercise demo -o exercise.html --kinds stroke,companion,firing`,
	}, func(p *page, j opened) error {
		if !cmd.Flags().Changed("seed") {
			dice = seed(1 + rand.Uint64N(largestSeed-1))
		}
		if !cmd.Flags().Changed("date") {
			on = day(time.Now())
		}
		source, about := lesson.Only(j.Job), j.Title
		if about == "" {
			about = filepath.Base(shown(j.name))
		}
		if engines.value == "made-up" {
			source, about = lesson.Source{}, ""
		}
		var list []sheet.ExerciseInput
		for i := range uint64(variants) {
			questions, err := lesson.Exercise(source, kindsNamed(kinds), uint64(dice)+i, many)
			if errors.Is(err, lesson.ErrUnsuited) {
				return job.Faults{{Key: "engine", Message: "suits none of these kinds of questions; ask other kinds, or --engines made-up"}}
			}
			if err != nil {
				return err
			}
			list = append(list, sheet.ExerciseInput{Questions: questions, Seed: uint64(dice) + i, About: about, Diagram: diagram, Date: time.Time(on), Lang: s.lang.value, Say: s.voice().Say})
		}
		sheetPaper, err := sheet.PaperNamed(paper.value)
		if err != nil {
			return err
		}
		asked, key := sheet.ExercisePapers(list)
		if err := s.writeSheet(out, out.file, asked, sheetPaper); err != nil {
			return err
		}
		if answers != "" {
			if err := s.writeSheet(out, answers, key, sheetPaper); err != nil {
				return err
			}
		}
		made := exerciseJSON{uint64(dice), many, variants, out.file, answers}
		if s.json {
			return p.json(made)
		}
		s.madeExercise(p, made)
		return nil
	})
	out = outputFlag(cmd, "the `FILE` to write", sheetFormats...)
	cmd.Flags().StringVar(&answers, "answers", "", "the `FILE` for the answers, as for -o")
	cmd.Flags().Var(&dice, "seed", "the number of the exercise: the same gives the same questions")
	cmd.Flags().Var(count{&many, "questions", "N"}, "count", fmt.Sprintf("how many questions, 1 to %d", mostQuestions))
	cmd.Flags().Var(count{&variants, "variants", "N"}, "variants", fmt.Sprintf("how many variants, 1 to %d", sheet.MostVariants))
	cmd.Flags().BoolVar(&diagram, "diagram", false, "with a cycle diagram to fill in, of the last question's engine")
	cmd.Flags().StringSliceVar(&kinds, "kinds", nil, "which `KINDS` of questions: "+strings.Join(kindNames(), ",")+" (all when left out)")
	cmd.Flags().Var(&engines, "engines", "whose engine: the job's, or made-up ones")
	cmd.Flags().Var(&paper, "paper", "the paper: a4 or letter")
	cmd.Flags().Var(&on, "date", "the sheet's date; today's when left out")
	complete(cmd, "engines", engines.of)
	complete(cmd, "paper", paper.of)
	complete(cmd, "kinds", kindNames())
	cmd.PreRunE = func(*cobra.Command, []string) error {
		switch {
		case out.file == "":
			return out.needed()
		case out.file == answers:
			return errors.New("the answers need a file of their own")
		case s.json && (out.file == standard || answers == standard):
			return errBothOut
		case many < 1 || many > mostQuestions:
			return fmt.Errorf("--count is %d; it must be 1 to %d", many, mostQuestions)
		case variants < 1 || variants > sheet.MostVariants:
			return fmt.Errorf("--variants is %d; it must be 1 to %d", variants, sheet.MostVariants)
		}
		for _, name := range kinds {
			if _, ok := lesson.ParseKind(name); !ok {
				return fmt.Errorf("there is no kind of question %q; there are %s", name, strings.Join(kindNames(), ", "))
			}
		}
		return out.check(s, out.file, answers)
	}
	s.results(cmd)
	return cmd
}

// exerciseJSON says what was written.
type exerciseJSON struct {
	Seed      uint64 `json:"seed"`
	Questions int    `json:"questions"` // of each variant
	Variants  int    `json:"variants"`
	File      string `json:"file"`
	Answers   string `json:"answers"` // "" for none
}

// madeExercise says what was written; on standard error where a file goes to
// standard output.
func (s *shell) madeExercise(p *page, made exerciseJSON) {
	if s.quiet {
		return
	}
	lines := []string{p.with("exercise {{.Seed}}: {{.N}} questions in {{.File}}", map[string]any{
		"Seed": strconv.FormatUint(made.Seed, 10), "N": made.Questions, "File": written(made.File)})}
	if made.Answers != "" {
		lines = append(lines, p.with("answers in {{.File}}", map[string]any{"File": written(made.Answers)}))
	}
	for _, l := range lines {
		if made.File == standard || made.Answers == standard {
			fmt.Fprintln(s.told, console.Line(l))
			continue
		}
		p.line(l)
	}
}

// written is how messages call a file that was written.
func written(name string) string {
	if name == standard {
		return "standard output"
	}
	return name
}

func kindNames() []string {
	var names []string
	for _, k := range lesson.Kinds() {
		names = append(names, string(k))
	}
	return names
}

// kindsNamed are the kinds of the names, in the order of [lesson.Kinds]; all of
// them where none is named.
func kindsNamed(names []string) []lesson.Kind {
	var list []lesson.Kind
	for _, k := range lesson.Kinds() {
		if len(names) == 0 || slices.Contains(names, string(k)) {
			list = append(list, k)
		}
	}
	return list
}
