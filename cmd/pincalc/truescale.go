package main

import (
	"errors"
	"fmt"
	"time"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/sheet"
)

func (s *shell) degreeWheelCommand() *cobra.Command {
	return s.scaleCommand(manual{
		use: "degreewheel [JOB] -o FILE.pdf --diameter-mm N", short: "Print a degree wheel to true scale",
		long: `Writes a degree wheel as a PDF whose millimetres are millimetres, with two rulers to
check the printer by. With a job it turns as the engine does and has a mark where
each cylinder comes to firing TDC. One larger than the paper comes in pieces.

When the printed ruler of 150 mm measures something else, say what with --ruler-mm
and print again.`,
		example: `  pincalc degreewheel -o wheel.pdf --diameter-mm 200
  pincalc degreewheel engine.toml -o wheel.pdf --diameter-mm 180 --hole-mm 24 --paper letter`,
	}, sheet.DegreeWheel, true)
}

func (s *shell) tapeCommand() *cobra.Command {
	return s.scaleCommand(manual{
		use: "tape [JOB] -o FILE.pdf --diameter-mm N", short: "Print a timing tape for a damper to true scale",
		long: `Writes a timing tape for a damper or flywheel of the given diameter as a PDF whose
millimetres are millimetres, cut into strips that fit the paper, with two rulers to
check the printer by. With a job it turns as the engine does and has a mark where
each cylinder comes to firing TDC.

When the printed ruler of 150 mm measures something else, say what with --ruler-mm
and print again.`,
		example: `  pincalc tape -o tape.pdf --diameter-mm 180
  pincalc tape engine.toml -o tape.pdf --diameter-mm 412 --seen-from flywheel --ruler-mm 149.3`,
	}, sheet.Tape, false)
}

// scaleCommand prints something to true scale, for a job or for any engine.
func (s *shell) scaleCommand(m manual, print func(sheet.Scale, sheet.Paper) (sheet.Document, error), hasHole bool) *cobra.Command {
	var out *output
	var in sheet.Scale
	var on day
	paper := word{value: "a4", of: []string{"a4", "letter"}}
	end := word{value: "nose", of: []string{"nose", "flywheel"}}
	rotation := word{value: "clockwise", of: []string{"clockwise", "anticlockwise"}}
	cmd := commandOf(m)
	cmd.Args = func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) > 1:
			return fmt.Errorf("%s takes one job, not %d arguments", cmd.Name(), len(args))
		case len(args) == 1 && cmd.Flags().Changed("rotation"):
			return errors.New("--rotation is for want of a job; this one says which way the engine turns")
		}
		return nil
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		in.From, _ = timing.ParseEnd(end.value) // words of their lists
		in.Rotation, _ = timing.ParseSense(rotation.value)
		in.Lang, in.Say = s.lang.value, s.voice().Say
		in.Date = time.Time(on)
		if !cmd.Flags().Changed("date") {
			in.Date = time.Now()
		}
		name, doc := "", (*job.Document)(nil)
		if len(args) == 1 {
			var err error
			name = args[0]
			if doc, _, err = s.open(name); err != nil {
				return inFile(name, nil, err)
			}
			j := doc.Job()
			in.Job = &j
		}
		p, err := sheet.PaperNamed(paper.value)
		if err != nil {
			return err
		}
		d, err := print(in, p)
		switch {
		case errors.As(err, new(job.Faults)):
			return inFile(name, doc, err)
		case err != nil:
			return err
		}
		return s.writeSheet(out, out.file, d, p)
	}
	out = outputFlag(cmd, "the `FILE` to write", "pdf")
	cmd.Flags().Var(number{&in.DiameterMM, "millimetres", "N"}, "diameter-mm", "the diameter in millimetres")
	if hasHole {
		cmd.Flags().Var(number{&in.HoleMM, "millimetres", "N"}, "hole-mm", "the diameter of the hole in its middle; 0 for none")
	}
	cmd.Flags().Var(number{&in.RulerMM, "millimetres", "N"}, "ruler-mm", "what the ruler of 150 mm measured when it was printed before")
	cmd.Flags().Var(&paper, "paper", "the paper: a4 or letter")
	cmd.Flags().Var(&end, "seen-from", "the end it is fixed to and seen from: nose or flywheel")
	cmd.Flags().Var(&rotation, "rotation", "as seen from the nose: clockwise or anticlockwise; a job says it itself")
	cmd.Flags().Var(&on, "date", "the date at its foot; today's when left out")
	for flag, w := range map[string]word{"paper": paper, "seen-from": end, "rotation": rotation} {
		complete(cmd, flag, w.of)
	}
	s.options(cmd, optionLang)
	cmd.PreRunE = func(cmd *cobra.Command, _ []string) error {
		switch {
		case out.file == "":
			return out.needed()
		case !cmd.Flags().Changed("diameter-mm"):
			return errors.New("say how large: --diameter-mm N")
		case cmd.Flags().Changed("ruler-mm") && in.RulerMM == 0:
			return errors.New("--ruler-mm 0: the ruler measured something")
		}
		return out.check(s, out.file)
	}
	return cmd
}
