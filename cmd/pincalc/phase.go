package main

import (
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
)

func (s *shell) phaseCommand() *cobra.Command {
	var at float64
	cmd := s.jobCommand(manual{
		use: "phase JOB [--at DEG] [--json]", short: "Every cylinder's stroke at a crank angle",
		long: `Prints what every cylinder does with the crankshaft at a given degree, counted
from cylinder 1's compression (firing) top dead centre in the direction of rotation.`,
		example: `  pincalc phase demo --at 430
  pincalc phase engine.toml --at -90 --json`,
	}, func(p *page, j opened) error {
		f, err := finding.PhaseAt(j.Job, timing.Deg(at))
		switch {
		case err != nil:
			return err
		case s.json:
			return p.json(f)
		}
		p.phase(f)
		return nil
	})
	atFlag(cmd, &at)
	s.options(cmd, optionJSON, optionLang)
	cmd.PreRunE = s.noWords
	return cmd
}

// noWords refuses --lang where only numbers are printed.
func (s *shell) noWords(cmd *cobra.Command, _ []string) error {
	if s.json {
		return idle(cmd, "with --json here", optionLang)
	}
	return nil
}

func atFlag(cmd *cobra.Command, at *float64) {
	cmd.Flags().Var(number{at, "degrees", "DEG"}, "at", "crank angle in degrees after cylinder 1's firing TDC, any number of cycles away")
}

func (p *page) phase(f finding.Phase) {
	p.line(p.with("Crankshaft at {{.At}} of {{.Cycle}}; 0° is firing TDC of cylinder 1", map[string]any{"At": p.degrees(f.CrankDeg), "Cycle": p.degrees(f.CycleDeg)}))
	p.blank()
	columns := []column{
		{"cylinder", true}, {"fires at", true}, {"after its firing TDC", true}, {"stroke", false},
		{"piston below TDC", true}, {"intake", false}, {"exhaust", false}, {"paired cylinder", false},
	}
	var rows [][]string
	var linkage, valves phrase.Text
	for _, c := range f.Cylinders {
		rows = append(rows, []string{
			strconv.Itoa(c.Cylinder), p.degrees(c.FiresAtDeg), p.degrees(c.AngleDeg), p.Text(c.StrokeText()),
			p.height(c.PistonMM), p.openShut(c.IntakeOpen), p.openShut(c.ExhaustOpen), p.companions(c.Companion),
		})
		if c.PistonMM == nil {
			linkage = needsLinkage
		}
		if c.IntakeOpen == nil || c.ExhaustOpen == nil {
			valves = needsValves
		}
	}
	p.table(columns, rows)
	if f.Wheel != nil {
		p.blank()
		p.line(p.atSensor(*f.Wheel))
	}
	p.needs(linkage, valves)
}

// atSensor says what stands at the crank sensor, on this wheel and on one as
// drawn.
func (p *page) atSensor(w finding.WheelPhase) string {
	drawn := p.tooth(w.Right)
	switch {
	case w.Actual == nil:
		return p.with("At the crankshaft sensor of a wheel as drawn: {{.Right}}.", map[string]any{"Right": drawn})
	case p.tooth(*w.Actual) == drawn:
		return p.with("At the crankshaft sensor: {{.Actual}}.", map[string]any{"Actual": drawn})
	}
	return p.with("At the crankshaft sensor: {{.Actual}}. On a wheel as drawn: {{.Right}}.", map[string]any{"Actual": p.tooth(*w.Actual), "Right": drawn})
}

func (p *page) tooth(t finding.Tooth) string {
	at := p.with("tooth {{.N}}", map[string]any{"N": t.Position})
	if t.Missing {
		at = p.with("the gap (position {{.N}})", map[string]any{"N": t.Position})
	}
	past := p.angle(math.Abs(t.PastDeg))
	data := map[string]any{"Tooth": at, "By": past}
	switch {
	case past == p.angle(0):
		return at
	case t.PastDeg > 0:
		return p.with("{{.Tooth}}, {{.By}} after it", data)
	}
	return p.with("{{.Tooth}}, {{.By}} before it", data)
}

func (p *page) companions(list []int) string {
	if len(list) == 0 {
		return p.Text("none")
	}
	words := make([]string, len(list))
	for i, c := range list {
		words[i] = strconv.Itoa(c)
	}
	return strings.Join(words, ", ")
}
