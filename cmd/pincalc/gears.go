package main

import (
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
)

func (s *shell) gearsCommand() *cobra.Command {
	cmd := s.jobCommand(manual{
		use: "gears JOB [--json]", short: "The gear train, and when its marks are aligned again",
		long: `Prints the train from crankshaft to camshaft: its ratio, after how many crankshaft
turns all marks are aligned again, what one tooth out does to the camshaft, and how
far the camshaft is out by the measured keyway and the teeth out that the job names.`,
		example: `  pincalc gears demo
  pincalc gears engine.toml --json`,
	}, func(p *page, j opened) error {
		f, err := finding.GearsOf(j.Job)
		switch {
		case err != nil:
			return err
		case s.json:
			return p.json(gearsJSON{f, p.Say(f.Says), p.texts(f.Notes)})
		}
		p.gears(f)
		return nil
	})
	s.results(cmd)
	return cmd
}

// gearsJSON adds the sentences to the result's own fields.
type gearsJSON struct {
	finding.Gears
	Finding string   `json:"finding"`
	Notes   []string `json:"notes"`
}

func (p *page) gears(f finding.Gears) {
	p.line(p.Say(f.Says))
	p.blank()
	columns := []column{{"gear", false}, {"teeth", true}, {"turns", false}, {"turns until all marks are aligned", true}}
	var rows [][]string
	for _, w := range f.Wheels {
		rows = append(rows, []string{p.wheel(w.Name), strconv.Itoa(w.Teeth), p.way(w.WithCrank), w.Turns.String()})
	}
	if d := f.Pump; d != nil {
		name := p.with("pump, on {{.Wheel}}", map[string]any{"Wheel": p.wheel(d.DrivenBy)})
		rows = append(rows, []string{name, strconv.Itoa(d.Teeth), p.way(d.WithCrank), d.Turns.String()})
	}
	p.table(columns, rows)
	p.sentences("Remarks", f.Notes)
	p.sentences("Calculation", f.Steps)
	p.cautions()
}

func (p *page) way(withCrank bool) string {
	if withCrank {
		return p.Text("with the crankshaft")
	}
	return p.Text("against the crankshaft")
}

// wheel is a wheel of the train by its name in the results.
func (p *page) wheel(name string) string {
	if n, ok := strings.CutPrefix(name, "idler "); ok {
		return p.with("idler gear {{.N}}", map[string]any{"N": n})
	}
	return p.Text(map[string]phrase.Text{"crank": "crankshaft gear", "cam": "camshaft gear"}[name])
}
