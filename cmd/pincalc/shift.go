package main

import (
	"strconv"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
)

func (s *shell) shiftCommand() *cobra.Command {
	cmd := s.jobCommand(manual{
		use: "shift JOB [--json]", short: "Where the measured wheel error puts every injection",
		long: `Prints the wheel error that follows from the measured dowel and keyway, and where
it puts the start of injection of every cylinder.`,
		example: `  pincalc shift demo
  pincalc shift engine.toml --json`,
	}, func(p *page, j opened) error {
		f, err := finding.ShiftOf(j.Job)
		switch {
		case err != nil:
			return err
		case s.json:
			return p.json(shiftJSON{f, p.Say(f.Says), p.texts(f.Notes)})
		}
		p.shift(f)
		return nil
	})
	s.results(cmd)
	return cmd
}

// shiftJSON adds the sentences to the result's own fields.
type shiftJSON struct {
	finding.Shift
	Finding string   `json:"finding"`
	Notes   []string `json:"notes"`
}

func (p *page) shift(f finding.Shift) {
	p.line(p.Say(f.Says))
	p.blank()
	columns := []column{
		{"cylinder", true}, {"commanded", true}, {"actual", true}, {"crankshaft at", true}, {"stroke", false}, {"piston below TDC", true},
	}
	var rows [][]string
	var linkage phrase.Text
	for _, in := range f.Injections {
		rows = append(rows, []string{
			strconv.Itoa(in.Cylinder), p.btdc(in.CommandedBTDCDeg), p.btdc(in.ActualBTDCDeg), p.degrees(in.ActualCrankDeg), p.Text(in.StrokeText()), p.height(in.PistonMM),
		})
		if in.PistonMM == nil {
			linkage = needsLinkage
		}
	}
	p.table(columns, rows)
	p.needs(linkage)
	p.sentences("Remarks", f.Notes)
	p.sentences("Calculation", f.Steps)
	p.cautions()
}
