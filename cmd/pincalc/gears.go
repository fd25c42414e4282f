package main

import (
	"bytes"
	"fmt"
	"strconv"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
)

func gearsCommand() *cobra.Command {
	var asJSON *bool
	cmd := jobCommand(manual{
		use: "gears JOB [--json]", short: "The gear train, and when its marks meet again",
		long: `Prints the train from crank to cam: its ratio, after how many turns of the crank
all marks meet again, what one tooth out does to the cam, and how far the cam is
off by the measured keyway and the teeth out that the job names.`,
		example: `  pincalc gears demo
  pincalc gears engine.toml --json`,
	}, func(out *bytes.Buffer, j opened) error {
		g, err := finding.GearsOf(j.Job)
		if err != nil {
			return err
		}
		if *asJSON {
			return printJSON(out, gearsJSON{g, g.Says.String(), texts(g.Notes)})
		}
		printGears(out, g)
		return nil
	})
	asJSON = wantJSON(cmd)
	return cmd
}

// gearsJSON adds the sentences to the result's own fields.
type gearsJSON struct {
	finding.Gears
	Finding string   `json:"finding"`
	Notes   []string `json:"notes"`
}

func printGears(out *bytes.Buffer, g finding.Gears) {
	fmt.Fprintf(out, "%s\n\n", g.Says)
	columns := []column{{"wheel", false}, {"teeth", true}, {"turns", false}, {"turns until all marks meet", true}}
	var rows [][]string
	for _, w := range g.Wheels {
		rows = append(rows, []string{w.Name, strconv.Itoa(w.Teeth), way(w.WithCrank), w.Turns.String()})
	}
	if p := g.Pump; p != nil {
		rows = append(rows, []string{"pump, on " + p.DrivenBy, strconv.Itoa(p.Teeth), way(p.WithCrank), p.Turns.String()})
	}
	table(out, columns, rows)
	printSentences(out, "To know", g.Notes)
	printSentences(out, "How it was reached", g.Steps)
	printCautions(out)
}

func way(withCrank bool) string {
	if withCrank {
		return "with the crank"
	}
	return "against the crank"
}
