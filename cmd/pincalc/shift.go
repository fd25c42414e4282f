package main

import (
	"bytes"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
)

func shiftCommand() *cobra.Command {
	var asJSON *bool
	cmd := jobCommand(manual{
		use: "shift JOB [--json]", short: "Where the measured wheel error puts every injection",
		long: `Prints the wheel error that follows from the measured dowel and keyway, and where
it puts the start of injection of every cylinder.`,
		example: `  pincalc shift demo
  pincalc shift engine.toml --json`,
	}, func(out *bytes.Buffer, j opened) error {
		s, err := finding.ShiftOf(j.Job)
		if err != nil {
			return err
		}
		if *asJSON {
			return printJSON(out, shiftJSON{s, s.Says.String(), texts(s.Notes)})
		}
		printShift(out, s)
		return nil
	})
	asJSON = wantJSON(cmd)
	return cmd
}

// shiftJSON adds the sentences to the result's own fields.
type shiftJSON struct {
	finding.Shift
	Finding string   `json:"finding"`
	Notes   []string `json:"notes"`
}

func printShift(out *bytes.Buffer, s finding.Shift) {
	fmt.Fprintf(out, "%s\n\n", s.Says)
	columns := []column{
		{"cylinder", true}, {"asked for", true}, {"happens", true}, {"crank at", true}, {"stroke", false}, {"piston below TDC", true},
	}
	var rows [][]string
	var linkage string
	for _, in := range s.Injections {
		rows = append(rows, []string{
			strconv.Itoa(in.Cylinder), btdc(in.CommandedBTDCDeg), btdc(in.ActualBTDCDeg), degrees(in.ActualCrankDeg), in.Stroke, height(in.PistonMM),
		})
		if in.PistonMM == nil {
			linkage = needsLinkage
		}
	}
	table(out, columns, rows)
	printNeeds(out, linkage)
	printSentences(out, "To know", s.Notes)
	printSentences(out, "How it was reached", s.Steps)
	printCautions(out)
}
