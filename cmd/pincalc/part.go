package main

import (
	"bytes"
	"fmt"

	"github.com/spf13/cobra"

	"pinphase/timing/finding"
	"pinphase/timing/job"
)

func partCommand() *cobra.Command {
	var asJSON *bool
	cmd := jobCommand(manual{
		use: "part JOB [--json]", short: "What was measured on the crankshaft, and how surely",
		long: `Prints the angles of dowel and keyway, drawing against measured, positive in the
direction of rotation, with standard uncertainty and 95 % interval.`,
		example: `  pincalc part demo
  pincalc part engine.toml --json`,
	}, func(out *bytes.Buffer, _ string, doc *job.Document) error {
		p, err := finding.PartOf(doc.Job())
		if err != nil {
			return err
		}
		if *asJSON {
			return printJSON(out, partJSON{p, texts(p.Notes)})
		}
		printPart(out, p)
		return nil
	})
	asJSON = wantJSON(cmd)
	return cmd
}

type partJSON struct {
	finding.Part
	Notes []string `json:"notes"`
}

func printPart(out *bytes.Buffer, p finding.Part) {
	columns := []column{
		{"angle", false}, {"drawing", true}, {"measured", true}, {"standard uncertainty", true}, {"95 % interval", false},
	}
	var rows [][]string
	for _, f := range []struct {
		name  string
		angle *finding.FeatureAngle
	}{{"keyway to dowel", p.Dowel}, {"No. 1 throw to keyway", p.Keyway}} {
		if f.angle == nil {
			continue
		}
		interval := unknown
		if i := f.angle.Interval95Deg; i != nil {
			interval = degrees(i[0]) + " to " + degrees(i[1])
		}
		rows = append(rows, []string{f.name, maybeDegrees(f.angle.DrawingDeg), maybeDegrees(f.angle.MeasuredDeg), maybeDegrees(f.angle.UDeg), interval})
	}
	table(out, columns, rows)
	fmt.Fprintln(out, "\nAngles count positive in the direction of rotation.")
	if v := p.Verdict; v != nil {
		fmt.Fprintf(out, "The dowel: as drawn %s, mirrored %s, something else %s.\n", percent(v.AsDrawn), percent(v.Mirrored), percent(v.Other))
	}
	printSentences(out, "To know", p.Notes)
	printCautions(out)
}

// percent writes a probability. None is ever quite 0 or 1.
func percent(p float64) string {
	switch {
	case p < 0.0005:
		return "under 0.1 %"
	case p >= 0.9995:
		return "over 99.9 %"
	}
	return fmt.Sprintf("%.1f %%", 100*p)
}
