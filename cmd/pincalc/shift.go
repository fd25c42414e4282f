package main

import (
	"fmt"
	"io"
	"strconv"

	"github.com/spf13/cobra"

	"pinphase/timing/finding"
	"pinphase/timing/job"
)

func shiftCommand() *cobra.Command {
	var asJSON *bool
	cmd := jobCommand("shift JOB", "Where the measured wheel error puts every injection",
		`Prints the wheel error that follows from the measured dowel and keyway, and where
it puts the start of injection of every cylinder.`,
		func(cmd *cobra.Command, _ string, doc *job.Document) error {
			s, err := finding.ShiftOf(doc.Job())
			if err != nil {
				return err
			}
			if *asJSON {
				return printJSON(cmd.OutOrStdout(), shiftJSON{s, s.Says.String(), texts(s.Notes)})
			}
			return printShift(cmd.OutOrStdout(), s)
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

func texts(list []finding.Sentence) []string {
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = s.String()
	}
	return words
}

func printShift(w io.Writer, s finding.Shift) error {
	fmt.Fprintf(w, "%s\n\n", s.Says)
	rows := [][]string{{"cylinder", "asked for", "happens", "crank at", "stroke", "piston below TDC"}}
	for _, in := range s.Injections {
		rows = append(rows, []string{
			strconv.Itoa(in.Cylinder), btdc(in.CommandedBTDCDeg), btdc(in.ActualBTDCDeg), degrees(in.ActualCrankDeg), in.Stroke, maybe(in.PistonMM, " mm"),
		})
	}
	if err := table(w, rows); err != nil {
		return err
	}
	printSentences(w, "To know", s.Notes)
	printSentences(w, "How it was reached", s.Steps)
	printCautions(w)
	return nil
}
