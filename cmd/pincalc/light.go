package main

import (
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/piston"
)

// maxDraws keeps a slip of the finger from running for minutes.
const maxDraws = 10_000_000

func (s *shell) lightCommand() *cobra.Command {
	var axes sweepAxes
	draws, dice := 100_000, seed(1)
	var names []string
	for _, c := range piston.Correlations() {
		names = append(names, c.Name)
	}
	correlation := word{value: names[0], of: names}
	cmd := s.jobCommand(manual{
		use: "light JOB [--sweep NAME=FROM:TO:STEP] [--seed N] [--json]", short: "Whether fuel ignites at the actual start of injection",
		long: `Estimates the gas in the cylinder and whether fuel ignites, at the start of injection
commanded and at the actual one, the range of starts that ignite, and the probability
over what is not known. It compares two injection timings and does not promise a start.

--sweep varies one quantity or, given twice, two, and prints what becomes of the
actual injection as comma-separated values.`,
		example: `  pincalc light demo
  pincalc light engine.toml --json --seed 7
  pincalc light demo --sweep wheel_error=-40:20:5 --sweep air=-20:30:10`,
	}, func(p *page, j opened) error {
		o := finding.LightOptions{Correlation: correlation.value}
		if len(axes) > 0 {
			return p.sweep(j.Job, o, axes, s.json)
		}
		l, err := finding.LightOf(j.Job, o)
		if err != nil {
			return err
		}
		if draws > 0 {
			if l, err = l.Drawn(context.Background(), draws, uint64(dice)); err != nil {
				return err
			}
		}
		if s.json {
			return p.json(lightJSON{l, p.Say(l.Says), p.texts(l.Notes), p.texts(l.Assumptions)})
		}
		p.light(l)
		return nil
	})
	cmd.Flags().Var(&axes, "sweep", "vary `NAME=FROM:TO:STEP`; the names: "+strings.Join(finding.SweepNames, ", "))
	cmd.Flags().Var(count{&draws, "draws", "N"}, "draws", "how many draws the probabilities rest on; 0 leaves them out")
	cmd.Flags().Var(&dice, "seed", "seed of the draws: the same seed gives the same probabilities")
	cmd.Flags().Var(&correlation, "correlation", "ignition delay by: "+strings.Join(names, ", "))
	complete(cmd, "correlation", names)
	cmd.PreRunE = func(cmd *cobra.Command, _ []string) error {
		switch {
		case draws < 0 || draws > maxDraws:
			return fmt.Errorf("--draws %d: from 0 to %d", draws, maxDraws)
		case len(axes) > 2:
			return errors.New("--sweep can be given twice at most")
		case len(axes) > 0:
			if err := idle(cmd, "with --sweep", "draws", "seed", optionQuiet, optionLang); err != nil {
				return err
			}
			return finding.CheckSweep(axes)
		case draws == 0:
			return idle(cmd, "with --draws 0", "seed")
		}
		return nil
	}
	s.results(cmd)
	return cmd
}

// sweepAxes is a flag that can be given more than once.
type sweepAxes []finding.SweepAxis

func (a *sweepAxes) String() string { return "" }
func (a *sweepAxes) Type() string   { return "AXIS" }

func (a *sweepAxes) Set(s string) error {
	axis, err := finding.ParseSweep(s)
	if err == nil {
		*a = append(*a, axis)
	}
	return err
}

// lightJSON adds the sentences to the result's own fields.
type lightJSON struct {
	finding.Light
	Finding     string   `json:"finding"`
	Notes       []string `json:"notes"`
	Assumptions []string `json:"assumptions"`
}

func (p *page) light(l finding.Light) {
	p.line(p.Say(l.Says))
	p.blank()
	columns := []column{{"injection", false}, {"starts", true}, {"gas", true}, {"pressure", true}, {"ignites", true}, {"delay", true}, {"probability", true}}
	var rows [][]string
	for _, c := range l.Cases {
		waits := unknown
		if c.DelayMS != nil {
			waits = p.fixed(*c.DelayMS, 1) + " ms"
		}
		rows = append(rows, []string{
			p.Text(caseNames[c.Name]), p.btdc(c.StartBTDCDeg), p.fixed(c.GasK-273.15, 0) + " °C", p.fixed(c.GasBar, 1) + " bar", p.lightsAt(c.LightsAt), waits, p.chance(c),
		})
	}
	p.table(columns, rows)
	p.blank()
	columns = []column{{"by delay formula", false}, {"ignites from", true}, {"to", true}, {"commanded", true}, {"actual", true}}
	rows = nil
	for i, k := range l.ByCorrelation {
		from, to := unknown, unknown
		if k.Window != nil {
			from, to = p.btdc(k.Window.EarlyBTDCDeg), p.btdc(k.Window.LateBTDCDeg)
		}
		rows = append(rows, []string{k.Title, from, to, p.lightsAt(l.Cases[0].ByAll[i].LightsAt), p.lightsAt(l.Cases[1].ByAll[i].LightsAt)})
	}
	p.table(columns, rows)
	p.sentences("Remarks", l.Notes)
	p.sentences("Basis", l.Assumptions)
	p.cautions()
}

// caseNames are the cases in the words of the other commands' tables.
var caseNames = map[string]phrase.Text{"commanded": "commanded", "actual": "actual"}

func (p *page) lightsAt(at *float64) string {
	if at == nil {
		return p.Text("no")
	}
	return p.btdc(*at)
}

// chance writes a probability; what so few draws leave open of it is in --json.
func (p *page) chance(c finding.LightCase) string {
	if c.Probability == nil {
		return unknown
	}
	return p.percent(*c.Probability)
}

// sweep prints a sweep.
func (p *page) sweep(j job.Job, o finding.LightOptions, axes []finding.SweepAxis, asJSON bool) error {
	var columns *finding.SweepAxis
	if len(axes) > 1 {
		columns = &axes[1]
	}
	s, err := finding.SweepOf(j, o, axes[0], columns)
	switch {
	case err != nil:
		return err
	case asJSON:
		return p.json(s)
	}
	return printSweep(&p.out, s)
}

// printSweep writes a line for each combination, for a spreadsheet.
func printSweep(out io.Writer, s finding.Sweep) error {
	w := csv.NewWriter(out)
	number := func(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
	head := []string{s.Rows.Name}
	if s.Columns != nil {
		head = append(head, s.Columns.Name)
	}
	lines := [][]string{append(head, "start_btdc_deg", "lights", "lights_at_btdc_deg", "integral", "lit_by", "kick_back")}
	for r, row := range s.Cells {
		for c, cell := range row {
			line := []string{number(s.Rows.Values[r])}
			if s.Columns != nil {
				line = append(line, number(s.Columns.Values[c]))
			}
			at := ""
			if cell.LightsAt != nil {
				at = strconv.FormatFloat(*cell.LightsAt, 'f', 3, 64)
			}
			lines = append(lines, append(line, number(cell.StartBTDC), strconv.FormatBool(cell.Lights), at,
				strconv.FormatFloat(cell.Integral, 'f', 4, 64), strconv.Itoa(cell.LitBy), strconv.FormatBool(cell.KickBack)))
		}
	}
	return w.WriteAll(lines)
}
