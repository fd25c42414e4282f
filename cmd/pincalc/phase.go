package main

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
)

func phaseCommand() *cobra.Command {
	var at crankAngle
	var asJSON *bool
	cmd := jobCommand(manual{
		use: "phase JOB [--at DEG] [--json]", short: "Every cylinder's stroke at a crank angle",
		long: `Prints what every cylinder does when the crank stands at a given degree, counted
from cylinder 1's compression (firing) top dead centre in the direction of rotation.`,
		example: `  pincalc phase demo --at 430
  pincalc phase engine.toml --at -90 --json`,
	}, func(out *bytes.Buffer, j opened) error {
		p, err := finding.PhaseAt(j.Job, timing.Deg(at))
		if err != nil {
			return err
		}
		if *asJSON {
			return printJSON(out, p)
		}
		printPhase(out, p)
		return nil
	})
	asJSON = wantJSON(cmd)
	atFlag(cmd, &at)
	return cmd
}

// crankAngle is a flag that takes any finite number of degrees.
type crankAngle float64

func (a *crankAngle) String() string { return strconv.FormatFloat(float64(*a), 'g', -1, 64) }
func (a *crankAngle) Type() string   { return "DEG" }

func (a *crankAngle) Set(s string) error {
	v, err := finding.ParseNumber(s)
	if err != nil {
		return fmt.Errorf("%q is not a number of degrees", s)
	}
	*a = crankAngle(v)
	return nil
}

func atFlag(cmd *cobra.Command, at *crankAngle) {
	cmd.Flags().Var(at, "at", "crank angle in degrees after cylinder 1's firing TDC, any number of cycles away")
}

func printPhase(out *bytes.Buffer, p finding.Phase) {
	fmt.Fprintf(out, "Crank at %s of %s, 0° being cylinder 1's firing TDC\n\n", degrees(p.CrankDeg), degrees(p.CycleDeg))
	columns := []column{
		{"cylinder", true}, {"fires at", true}, {"after its firing TDC", true}, {"stroke", false},
		{"piston below TDC", true}, {"intake", false}, {"exhaust", false}, {"companion", false},
	}
	var rows [][]string
	var linkage, valves string
	for _, c := range p.Cylinders {
		rows = append(rows, []string{
			strconv.Itoa(c.Cylinder), degrees(c.FiresAtDeg), degrees(c.AngleDeg), c.Stroke,
			height(c.PistonMM), openShut(c.IntakeOpen), openShut(c.ExhaustOpen), companions(c.Companion),
		})
		if c.PistonMM == nil {
			linkage = needsLinkage
		}
		if c.IntakeOpen == nil || c.ExhaustOpen == nil {
			valves = needsValves
		}
	}
	table(out, columns, rows)
	if p.Wheel != nil {
		fmt.Fprintf(out, "\n%s\n", atSensor(*p.Wheel))
	}
	printNeeds(out, linkage, valves)
}

// atSensor says what stands at the crank sensor, on this wheel and on one as
// drawn.
func atSensor(w finding.WheelPhase) string {
	drawn := tooth(w.Right)
	switch {
	case w.Actual == nil:
		return "At the crank sensor of a wheel as drawn: " + drawn + "."
	case tooth(*w.Actual) == drawn:
		return "At the crank sensor: " + drawn + "."
	}
	return "At the crank sensor: " + tooth(*w.Actual) + ". On a wheel as drawn: " + drawn + "."
}

func tooth(t finding.Tooth) string {
	s := "tooth " + strconv.Itoa(t.Position)
	if t.Missing {
		s = "the gap (position " + strconv.Itoa(t.Position) + ")"
	}
	switch past := degrees(math.Abs(t.PastDeg)); {
	case past == degrees(0):
		return s
	case t.PastDeg > 0:
		return s + ", " + past + " past"
	default:
		return s + ", " + past + " to come"
	}
}

func companions(list []int) string {
	if len(list) == 0 {
		return "none"
	}
	words := make([]string, len(list))
	for i, c := range list {
		words[i] = strconv.Itoa(c)
	}
	return strings.Join(words, ", ")
}
