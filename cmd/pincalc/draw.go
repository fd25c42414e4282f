package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"pinphase/timing"
	"pinphase/timing/job"
	"pinphase/timing/plate"
)

func drawCommand() *cobra.Command {
	var at crankAngle
	figure := word{of: plate.Names}
	end := word{value: "nose", of: []string{"nose", "flywheel"}}
	order := word{value: "firing", of: []string{"firing", "number"}}
	var output string
	cmd := jobCommand("draw JOB", "Draw a figure to an SVG, PDF or PNG file",
		`Draws one of the job's figures to a file; its ending says the format.`,
		func(cmd *cobra.Command, _ string, doc *job.Document) error {
			if !slices.Contains(plate.Formats, strings.ToLower(filepath.Ext(output))) {
				return usageError{fmt.Errorf("%s: the file must end in .svg, .pdf or .png", output)}
			}
			o := plate.Options{ByNumber: order.value == "number"}
			o.From, _ = timing.ParseEnd(end.value) // one of the words above
			if cmd.Flags().Changed("at") {
				d := timing.Deg(at)
				o.Cursor = &d
			}
			d, err := plate.Drawing(figure.value, doc.Job(), o)
			if err != nil {
				return err
			}
			var b bytes.Buffer
			if err := plate.Write(&b, filepath.Ext(output), d); err != nil {
				return err
			}
			return job.WriteFile(output, b.Bytes())
		})
	atFlag(cmd, &at)
	cmd.Flags().Var(&figure, "figure", "which figure: cycle or wheel")
	cmd.Flags().StringVarP(&output, "output", "o", "", "the file to write: .svg, .pdf or .png")
	cmd.Flags().Var(&end, "seen-from", "the end the wheel is seen from: nose or flywheel")
	cmd.Flags().Var(&order, "order", "the order of the cycle's rows: firing or number")
	for flag, w := range map[string]word{"figure": figure, "seen-from": end, "order": order} {
		// It fails only for a flag that is not there.
		_ = cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(w.of, cobra.ShellCompDirectiveNoFileComp))
	}
	cmd.PreRunE = func(*cobra.Command, []string) error {
		switch {
		case figure.value == "":
			return usageError{fmt.Errorf("say which figure: --figure %s", strings.Join(plate.Names, " or --figure "))}
		case output == "":
			return usageError{fmt.Errorf("say where to: -o FILE.svg, FILE.pdf or FILE.png")}
		}
		return nil
	}
	return cmd
}

// word is a flag that takes one of a few words.
type word struct {
	value string
	of    []string
}

func (w *word) String() string { return w.value }
func (w *word) Type() string   { return strings.Join(w.of, "|") }

func (w *word) Set(s string) error {
	if !slices.Contains(w.of, s) {
		return fmt.Errorf("%q is not one of %s", s, strings.Join(w.of, ", "))
	}
	w.value = s
	return nil
}
