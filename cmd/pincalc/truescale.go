package main

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/timing/sheet"
)

func degreeWheelCommand() *cobra.Command {
	return scaleCommand(manual{
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

func tapeCommand() *cobra.Command {
	return scaleCommand(manual{
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
func scaleCommand(m manual, print func(sheet.Scale, sheet.Paper) (sheet.Document, error), hasHole bool) *cobra.Command {
	var output string
	var in sheet.Scale
	var on day
	paper := word{value: "a4", of: []string{"a4", "letter"}}
	end := word{value: "nose", of: []string{"nose", "flywheel"}}
	rotation := word{value: "clockwise", of: []string{"clockwise", "anticlockwise"}}
	tongue := word{value: language.Codes[0], of: language.Codes}
	cmd := &cobra.Command{Use: m.use, Short: m.short, Long: m.long, Example: m.example, DisableFlagsInUseLine: true,
		Args: func(cmd *cobra.Command, args []string) error {
			switch {
			case len(args) > 1:
				return fmt.Errorf("%s takes one job, not %d arguments", cmd.Name(), len(args))
			case len(args) == 1 && cmd.Flags().Changed("rotation"):
				return errors.New("--rotation is for want of a job; this one says which way the engine turns")
			}
			return nil
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		in.From, _ = timing.ParseEnd(end.value) // words of their lists
		in.Rotation, _ = timing.ParseSense(rotation.value)
		in.Lang, in.Say = tongue.value, language.New(tongue.value, quantity.Units{}).Say
		in.Date = time.Time(on)
		if !cmd.Flags().Changed("date") {
			in.Date = time.Now()
		}
		name := ""
		if len(args) == 1 {
			name = args[0]
			doc, err := openJob(name)
			if err != nil {
				return inFile(name, err)
			}
			j := doc.Job()
			in.Job = &j
		}
		p, err := sheet.PaperNamed(paper.value)
		if err != nil {
			return err
		}
		d, err := print(in, p)
		var faults job.Faults
		switch {
		case errors.As(err, &faults):
			return inFile(name, err)
		case err != nil:
			return err
		}
		var b bytes.Buffer
		if err := d.WritePDF(&b, p); err != nil {
			return failure{err}
		}
		return writeOutput(output, b.Bytes())
	}
	cmd.Flags().StringVarP(&output, "output", "o", "", "the `FILE` to write: .pdf")
	cmd.Flags().Float64Var(&in.DiameterMM, "diameter-mm", 0, "the diameter `N` in millimetres")
	if hasHole {
		cmd.Flags().Float64Var(&in.HoleMM, "hole-mm", 0, "the diameter `N` of the hole in its middle; 0 for none")
	}
	cmd.Flags().Float64Var(&in.RulerMM, "ruler-mm", 0, "what the ruler of 150 mm measured `N` when it was printed before")
	cmd.Flags().Var(&paper, "paper", "the paper: a4 or letter")
	cmd.Flags().Var(&end, "seen-from", "the end it is fixed to and seen from: nose or flywheel")
	cmd.Flags().Var(&rotation, "rotation", "as seen from the nose: clockwise or anticlockwise; a job says it itself")
	cmd.Flags().Var(&on, "date", "the date at its foot; today's when left out")
	cmd.Flags().Var(&tongue, "lang", "the language: "+strings.Join(tongue.of, ", "))
	for flag, w := range map[string]word{"paper": paper, "seen-from": end, "rotation": rotation, "lang": tongue} {
		// It fails only for a flag that is not there.
		_ = cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(w.of, cobra.ShellCompDirectiveNoFileComp))
	}
	cmd.PreRunE = func(cmd *cobra.Command, _ []string) error {
		switch {
		case output == "":
			return errors.New("say where to: -o FILE.pdf")
		case strings.ToLower(filepath.Ext(output)) != ".pdf":
			return fmt.Errorf("%s: the file must end in .pdf", output)
		case !cmd.Flags().Changed("diameter-mm"):
			return errors.New("say how large: --diameter-mm N")
		case cmd.Flags().Changed("ruler-mm") && in.RulerMM == 0:
			return errors.New("--ruler-mm 0: the ruler measured something")
		}
		return nil
	}
	return cmd
}
