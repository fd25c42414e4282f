package main

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"pinphase/timing"
	"pinphase/timing/finding"
	"pinphase/timing/job"
)

func phaseCommand() *cobra.Command {
	var at crankAngle
	var asJSON *bool
	cmd := jobCommand("phase JOB", "Every cylinder's stroke at a crank angle",
		`Prints what every cylinder does when the crank stands at a given degree, counted
from cylinder 1's compression (firing) top dead centre in the direction of rotation.`,
		func(cmd *cobra.Command, _ string, doc *job.Document) error {
			p, err := finding.PhaseAt(doc.Job(), timing.Deg(at))
			if err != nil {
				return err
			}
			if *asJSON {
				return printJSON(cmd.OutOrStdout(), p)
			}
			return printPhase(cmd.OutOrStdout(), p)
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
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Errorf("%q is not a number of degrees", s)
	}
	*a = crankAngle(v)
	return nil
}

func atFlag(cmd *cobra.Command, at *crankAngle) {
	cmd.Flags().Var(at, "at", "crank angle in degrees after cylinder 1's firing TDC, any number of cycles away")
}

func printPhase(w io.Writer, p finding.Phase) error {
	fmt.Fprintf(w, "Crank at %s of %s, 0 being cylinder 1's firing TDC\n\n", degrees(p.CrankDeg), degrees(p.CycleDeg))
	rows := [][]string{{"cylinder", "fires at", "after firing TDC", "stroke", "piston below TDC", "intake", "exhaust", "companion"}}
	for _, c := range p.Cylinders {
		rows = append(rows, []string{
			strconv.Itoa(c.Cylinder), degrees(c.FiresAtDeg), degrees(c.AngleDeg), c.Stroke, maybe(c.PistonMM, " mm"),
			yesNo(c.IntakeOpen, "open", "shut"), yesNo(c.ExhaustOpen, "open", "shut"), companions(c.Companion),
		})
	}
	if err := table(w, rows); err != nil {
		return err
	}
	if p.Wheel != nil {
		fmt.Fprintf(w, "\nAt the crank sensor: %s on a wheel as drawn, %s on this one\n", tooth(p.Wheel.Right), tooth(p.Wheel.Actual))
	}
	return nil
}

func tooth(t finding.Tooth) string {
	s := "tooth " + strconv.Itoa(t.Position)
	if t.Missing {
		s = "the gap, at position " + strconv.Itoa(t.Position)
	}
	switch past := degrees(math.Abs(t.PastDeg)); {
	case past == degrees(0):
		return s
	case t.PastDeg > 0:
		return s + " (" + past + " past)"
	default:
		return s + " (" + past + " to come)"
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
