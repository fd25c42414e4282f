package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/piston"
)

// maxDraws keeps a slip of the finger from running for minutes.
const maxDraws = 10_000_000

func lightCommand() *cobra.Command {
	var asJSON *bool
	var axes sweepAxes
	var draws int
	var seed uint64
	var names []string
	for _, c := range piston.Correlations() {
		names = append(names, c.Name)
	}
	correlation := word{value: names[0], of: names}
	cmd := jobCommand(manual{
		use: "light JOB [--sweep NAME=FROM:TO:STEP] [--seed N] [--json]", short: "Whether fuel lights where injection lands",
		long: `Estimates the gas in the cylinder and whether fuel lights, where injection is
asked for and where it lands, the window of injection that lights, and the
probability over what is not known. It compares two timings and promises no start.

--sweep varies one quantity or, given twice, two, and prints what becomes of the
injection that lands as comma-separated values.`,
		example: `  pincalc light demo
  pincalc light engine.toml --json --seed 7
  pincalc light demo --sweep wheel_error=-40:20:5 --sweep air=-20:30:10`,
	}, func(out *bytes.Buffer, j opened) error {
		o := finding.LightOptions{Correlation: correlation.value}
		if len(axes) > 0 {
			return sweepLight(out, j.Job, o, axes, *asJSON)
		}
		l, err := finding.LightOf(j.Job, o)
		if err != nil {
			return err
		}
		if draws > 0 {
			if l, err = l.Drawn(context.Background(), draws, seed); err != nil {
				return err
			}
		}
		if *asJSON {
			return printJSON(out, lightJSON{l, l.Says.String(), texts(l.Notes), texts(l.Assumptions)})
		}
		printLight(out, l)
		return nil
	})
	asJSON = wantJSON(cmd)
	cmd.Flags().Var(&axes, "sweep", "vary `NAME=FROM:TO:STEP`; the names: "+strings.Join(finding.SweepNames, ", "))
	cmd.Flags().IntVar(&draws, "draws", 100_000, "how many draws `N` the probabilities rest on; 0 leaves them out")
	cmd.Flags().Uint64Var(&seed, "seed", 1, "seed `N` of the draws: the same seed gives the same probabilities")
	cmd.Flags().Var(&correlation, "correlation", "ignition delay by: "+strings.Join(names, ", "))
	// It fails only for a flag that is not there.
	_ = cmd.RegisterFlagCompletionFunc("correlation", cobra.FixedCompletions(names, cobra.ShellCompDirectiveNoFileComp))
	cmd.PreRunE = func(*cobra.Command, []string) error {
		switch {
		case draws < 0 || draws > maxDraws:
			return fmt.Errorf("--draws %d: from 0 to %d", draws, maxDraws)
		case len(axes) > 2:
			return errors.New("--sweep can be given twice at most")
		case len(axes) > 0:
			return finding.CheckSweep(axes)
		}
		return nil
	}
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

func printLight(out *bytes.Buffer, l finding.Light) {
	fmt.Fprintf(out, "%s\n\n", l.Says)
	columns := []column{{"injection", false}, {"starts", true}, {"gas", true}, {"pressure", true}, {"lights", true}, {"waits", true}, {"probability", true}}
	var rows [][]string
	for _, c := range l.Cases {
		waits := unknown
		if c.DelayMS != nil {
			waits = fmt.Sprintf("%.1f ms", *c.DelayMS)
		}
		rows = append(rows, []string{
			caseNames[c.Name], btdc(c.StartBTDCDeg), fmt.Sprintf("%.0f °C", c.GasK-273.15), fmt.Sprintf("%.1f bar", c.GasBar), lightsAt(c.LightsAt), waits, chance(c),
		})
	}
	table(out, columns, rows)
	out.WriteString("\n")
	columns = []column{{"by correlation", false}, {"lights from", true}, {"to", true}, {"asked for", true}, {"lands", true}}
	rows = nil
	for i, k := range l.ByCorrelation {
		from, to := unknown, unknown
		if k.Window != nil {
			from, to = btdc(k.Window.EarlyBTDCDeg), btdc(k.Window.LateBTDCDeg)
		}
		rows = append(rows, []string{k.Title, from, to, lightsAt(l.Cases[0].ByAll[i].LightsAt), lightsAt(l.Cases[1].ByAll[i].LightsAt)})
	}
	table(out, columns, rows)
	printSentences(out, "To know", l.Notes)
	printSentences(out, "What it rests on", l.Assumptions)
	printCautions(out)
}

// caseNames are the cases in the words of the other commands' tables.
var caseNames = map[string]string{"commanded": "asked for", "actual": "lands"}

func lightsAt(at *float64) string {
	if at == nil {
		return "no"
	}
	return btdc(*at)
}

// chance writes a probability with its standard error.
func chance(c finding.LightCase) string {
	if c.Probability == nil {
		return unknown
	}
	return fmt.Sprintf("%s ± %.2f %%", percent(*c.Probability), 100**c.ProbabilityU)
}

// sweepLight prints a sweep.
func sweepLight(out *bytes.Buffer, j job.Job, o finding.LightOptions, axes []finding.SweepAxis, asJSON bool) error {
	var columns *finding.SweepAxis
	if len(axes) > 1 {
		columns = &axes[1]
	}
	s, err := finding.SweepOf(j, o, axes[0], columns)
	switch {
	case err != nil:
		return err
	case asJSON:
		return printJSON(out, s)
	}
	return printSweep(out, s)
}

// printSweep writes a line for each combination, for a spreadsheet.
func printSweep(out *bytes.Buffer, s finding.Sweep) error {
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
