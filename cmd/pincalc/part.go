package main

import (
	"bytes"
	"fmt"
	"maps"
	"slices"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
)

func partCommand() *cobra.Command {
	var asJSON *bool
	cmd := jobCommand(manual{
		use: "part JOB [--json]", short: "What was measured on the crankshaft, and how surely",
		long: `Prints the angles of dowel and keyway, drawing against measured, positive in the
direction of rotation, with standard uncertainty and 95 % interval; what the part
is and how probable that is; and where the uncertainty comes from.`,
		example: `  pincalc part demo
  pincalc part engine.toml --json`,
	}, func(out *bytes.Buffer, j opened) error {
		p, err := finding.PartOf(j.Job)
		if err != nil {
			return err
		}
		for _, key := range slices.Sorted(maps.Keys(j.photos)) {
			p.Notes = append(p.Notes, finding.PhotoNotes(j.photos[key])...)
		}
		if *asJSON {
			return printJSON(out, partJSON{p, p.Says.String(), texts(p.Notes)})
		}
		printPart(out, p)
		return nil
	})
	asJSON = wantJSON(cmd)
	return cmd
}

type partJSON struct {
	finding.Part
	Finding string   `json:"finding"` // "" when nothing can be compared with a drawing
	Notes   []string `json:"notes"`
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
		fmt.Fprintf(out, "\n%s\n", p.Says)
		fmt.Fprintf(out, "As drawn %s, mirrored %s, keyway wrong %s, another error %s.\n",
			percent(v.AsDrawn), percent(v.Mirrored), percent(v.KeywayWrong), percent(v.OtherError))
	}
	printBudget(out, p)
	printSentences(out, "To know", p.Notes)
	printCautions(out)
}

// printBudget prints where the uncertainty of each measured angle comes from.
func printBudget(out *bytes.Buffer, p finding.Part) {
	var rows [][]string
	for _, f := range []struct {
		section string
		angle   *finding.FeatureAngle
	}{{"dowel", p.Dowel}, {"keyway", p.Keyway}} {
		if f.angle == nil {
			continue
		}
		for _, s := range f.angle.Budget {
			unit := map[string]string{"deg": "°", "mm": " mm"}[s.Unit]
			rows = append(rows, []string{
				f.section, s.Reading, finding.Num{Value: s.U, Decimals: 3}.String() + unit,
				finding.Num{Value: s.ContributionDeg, Decimals: 3}.String() + "°", finding.Num{Value: 100 * s.Share}.String() + " %",
			})
		}
	}
	if len(rows) == 0 {
		return
	}
	fmt.Fprintln(out, "\nWhere the uncertainty comes from")
	table(out, []column{{"section", false}, {"reading", false}, {"± (standard)", true}, {"makes", true}, {"share", true}}, rows)
}
