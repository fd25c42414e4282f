package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"pinphase/timing/finding"
	"pinphase/timing/job"
)

func partCommand() *cobra.Command {
	var asJSON *bool
	cmd := jobCommand("part JOB", "What was measured on the crankshaft, and how surely",
		`Prints the angles of dowel and keyway, drawing against measured, positive in the
direction of rotation, with standard uncertainty and 95 % interval.`,
		func(cmd *cobra.Command, _ string, doc *job.Document) error {
			p, err := finding.PartOf(doc.Job())
			if err != nil {
				return err
			}
			if *asJSON {
				return printJSON(cmd.OutOrStdout(), partJSON{p, texts(p.Notes)})
			}
			return printPart(cmd.OutOrStdout(), p)
		})
	asJSON = wantJSON(cmd)
	return cmd
}

type partJSON struct {
	finding.Part
	Notes []string `json:"notes"`
}

func printPart(w io.Writer, p finding.Part) error {
	rows := [][]string{{"feature", "drawing", "measured", "standard uncertainty", "95 % interval"}}
	for _, f := range []struct {
		name  string
		angle *finding.FeatureAngle
	}{{"dowel from keyway", p.Dowel}, {"keyway from No. 1 throw", p.Keyway}} {
		if f.angle == nil {
			continue
		}
		interval := "–"
		if i := f.angle.Interval95Deg; i != nil {
			interval = degrees(i[0]) + " to " + degrees(i[1])
		}
		rows = append(rows, []string{f.name, maybe(f.angle.DrawingDeg, "°"), maybe(f.angle.MeasuredDeg, "°"), maybe(f.angle.UDeg, "°"), interval})
	}
	if err := table(w, rows); err != nil {
		return err
	}
	fmt.Fprintln(w, "\nAngles are positive in the direction of rotation.")
	if v := p.Verdict; v != nil {
		fmt.Fprintf(w, "The dowel: as drawn %.1f %%, mirrored %.1f %%, something else %.1f %%.\n", 100*v.AsDrawn, 100*v.Mirrored, 100*v.Other)
	}
	printSentences(w, "To know", p.Notes)
	printCautions(w)
	return nil
}
