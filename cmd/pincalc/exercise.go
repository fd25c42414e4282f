package main

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/lesson"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/timing/sheet"
)

// The limits of an exercise.
const (
	usualQuestions = 20
	mostQuestions  = 500
	largestSeed    = 10000 // of those that are thrown: easy to read out to a class
)

func exerciseCommand() *cobra.Command {
	var output, answers string
	var seed uint64
	var count int
	var kinds []string
	var on day
	engines := word{value: "job", of: []string{"job", "made-up"}}
	paper := word{value: "a4", of: []string{"a4", "letter"}}
	tongue := word{value: language.Codes[0], of: language.Codes}
	var cmd *cobra.Command
	cmd = jobCommand(manual{
		use: "exercise JOB -o FILE [--seed N] [--count N] [--answers FILE]", short: "Write an exercise for apprentices, and its answers",
		long: `Writes questions about the job's engine, with room for the answers, as a PDF or an
HTML file: strokes, companions, firing order, where injection lands, early or late,
teeth and gap, TDC from two stop readings, gear marks, reading a trace. Each has one right answer. They
begin easy and grow harder.

--answers writes the answers to a file of their own, each with its steps and its figure.

The same job, kinds, count and seed give the same questions on every computer. Without
a seed one is thrown; the sheet and the command name it.`,
		example: `  pincalc exercise demo -o exercise.pdf --answers answers.pdf --seed 7
  pincalc exercise demo -o exercise.pdf --engines made-up --count 12
  pincalc exercise demo -o exercise.html --kinds stroke,companion,firing`,
	}, func(out *bytes.Buffer, j opened) error {
		if !cmd.Flags().Changed("seed") {
			seed = 1 + rand.Uint64N(largestSeed-1)
		}
		if !cmd.Flags().Changed("date") {
			on = day(time.Now())
		}
		source, about := lesson.Only(j.Job), j.Title
		if about == "" {
			about = filepath.Base(j.name)
		}
		if engines.value == "made-up" {
			source, about = lesson.Invent, ""
		}
		list, err := lesson.Exercise(source, kindsNamed(kinds), seed, count)
		if errors.Is(err, lesson.ErrUnsuited) {
			return job.Faults{{Key: "engine", Message: "suits none of these kinds of questions; ask other kinds, or --engines made-up"}}
		}
		if err != nil {
			return err
		}
		p, err := sheet.PaperNamed(paper.value)
		if err != nil {
			return err
		}
		in := sheet.ExerciseInput{Questions: list, Seed: seed, About: about, Date: time.Time(on), Lang: tongue.value,
			Say: language.New(tongue.value, quantity.Units{}).Say}
		if err := writeSheet(output, sheet.ExerciseSheet(in), p); err != nil {
			return err
		}
		if answers != "" {
			if err := writeSheet(answers, sheet.AnswerSheet(in), p); err != nil {
				return err
			}
		}
		fmt.Fprintf(out, "exercise %d: %d questions in %s\n", seed, len(list), output)
		if answers != "" {
			fmt.Fprintf(out, "answers in %s\n", answers)
		}
		return nil
	})
	cmd.Flags().StringVarP(&output, "output", "o", "", "the `FILE` to write: .pdf or .html")
	cmd.Flags().StringVar(&answers, "answers", "", "the `FILE` for the answers: .pdf or .html")
	cmd.Flags().Uint64Var(&seed, "seed", 0, "the `NUMBER` of the exercise: the same gives the same questions")
	cmd.Flags().IntVar(&count, "count", usualQuestions, fmt.Sprintf("how many questions, 1 to %d", mostQuestions))
	cmd.Flags().StringSliceVar(&kinds, "kinds", nil, "which `KINDS` of questions: "+strings.Join(kindNames(), ",")+" (all when left out)")
	cmd.Flags().Var(&engines, "engines", "whose engine: the job's, or made-up ones")
	cmd.Flags().Var(&paper, "paper", "the paper: a4 or letter")
	cmd.Flags().Var(&on, "date", "the sheet's date; today's when left out")
	cmd.Flags().Var(&tongue, "lang", "the language: "+strings.Join(tongue.of, ", "))
	for flag, of := range map[string][]string{"engines": engines.of, "paper": paper.of, "lang": tongue.of, "kinds": kindNames()} {
		// It fails only for a flag that is not there.
		_ = cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(of, cobra.ShellCompDirectiveNoFileComp))
	}
	cmd.PreRunE = func(*cobra.Command, []string) error {
		if output == "" {
			return errors.New("say where to: -o FILE.pdf or FILE.html")
		}
		for _, file := range []string{output, answers} {
			if file != "" && !slices.Contains(sheetFormats, strings.ToLower(filepath.Ext(file))) {
				return fmt.Errorf("%s: the file must end in .pdf or .html", file)
			}
		}
		if output == answers {
			return errors.New("the answers need a file of their own")
		}
		if count < 1 || count > mostQuestions {
			return fmt.Errorf("--count is %d; it must be 1 to %d", count, mostQuestions)
		}
		for _, name := range kinds {
			if _, ok := lesson.ParseKind(name); !ok {
				return fmt.Errorf("there is no kind of question %q; there are %s", name, strings.Join(kindNames(), ", "))
			}
		}
		return nil
	}
	return cmd
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

// writeSheet writes a document in the format of the file's ending.
func writeSheet(file string, d sheet.Document, p sheet.Paper) error {
	var b bytes.Buffer
	write := d.WritePDF
	if strings.ToLower(filepath.Ext(file)) == ".html" {
		write = d.WriteHTML
	}
	if err := write(&b, p); err != nil {
		return err
	}
	return writeOutput(file, b.Bytes())
}
