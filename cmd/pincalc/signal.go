package main

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
)

func signalCommand() *cobra.Command {
	var asJSON *bool
	var output string
	var rpm, wheelError, camError float64
	sampling := finding.UsualSampling
	var faults []string
	for _, f := range finding.SignalFaults() {
		faults = append(faults, f.Name)
	}
	fault := word{value: finding.AsIs, of: faults}
	var cmd *cobra.Command
	cmd = jobCommand(manual{
		use: "signal JOB [-o FILE.csv] [--rpm N] [--json]", short: "What the crank and cam sensors will show",
		long: `Prints where every edge of the crank and cam sensors falls, as the job was measured
or with a supposed fault, and between which crank teeth each cam edge must be looked
for. With -o it writes the traces as a recording: time, true crank angle, crank and
cam sensor in volts. A name ending in .gz is compressed.

A supposed fault is the only one of an otherwise correct engine; --wheel-error and
--cam-error set the errors beside it, positive where the part is ahead.`,
		example: `  pincalc signal demo
  pincalc signal demo --fault right -o right.csv
  pincalc signal engine.toml --wheel-error -28 --rpm 250 --json`,
	}, func(out *bytes.Buffer, j opened) error {
		o := finding.SignalOptions{Fault: fault.value}
		if cmd.Flags().Changed("rpm") {
			o.RPM = rpm
		}
		if cmd.Flags().Changed("wheel-error") {
			o.WheelErrorDeg = &wheelError
		}
		if cmd.Flags().Changed("cam-error") {
			o.CamErrorDeg = &camError
		}
		s, err := finding.SignalsOf(j.Job, o)
		if err != nil {
			return err
		}
		if output != "" {
			if err := writeRecording(output, s, sampling); err != nil {
				return err
			}
		}
		if *asJSON {
			return printJSON(out, signalJSON{s, s.Says.String(), texts(s.Notes)})
		}
		printSignals(out, s)
		return nil
	})
	asJSON = wantJSON(cmd)
	cmd.Flags().StringVarP(&output, "output", "o", "", "write the traces to a `FILE`: .csv or .csv.gz")
	cmd.Flags().Float64Var(&rpm, "rpm", 0, "speed in turns a minute (the job's cranking speed, else 200)")
	cmd.Flags().Var(&fault, "fault", "what to suppose: "+strings.Join(faults, ", "))
	cmd.Flags().Float64Var(&wheelError, "wheel-error", 0, "suppose the crank wheel this many `degrees` ahead")
	cmd.Flags().Float64Var(&camError, "cam-error", 0, "suppose the cam this many crank `degrees` ahead")
	cmd.Flags().Float64Var(&sampling.Cycles, "cycles", sampling.Cycles, "how many cycles to write")
	cmd.Flags().Float64Var(&sampling.RateHz, "rate", sampling.RateHz, "samples a second to write")
	// It fails only for a flag that is not there.
	_ = cmd.RegisterFlagCompletionFunc("fault", cobra.FixedCompletions(faults, cobra.ShellCompDirectiveNoFileComp))
	cmd.PreRunE = func(*cobra.Command, []string) error {
		switch {
		case cmd.Flags().Changed("rpm") && !(rpm >= 1 && rpm <= finding.MaxSignalRPM):
			return fmt.Errorf("--rpm %g is not between 1 and %d", rpm, finding.MaxSignalRPM)
		case output != "" && recordingEnding(output) == "":
			return fmt.Errorf("%s: the file must end in .csv or .csv.gz", output)
		}
		for _, name := range []string{"wheel-error", "cam-error"} {
			if v, _ := cmd.Flags().GetFloat64(name); !(v >= -720 && v <= 720) {
				return fmt.Errorf("--%s %g is not between -720 and 720", name, v)
			}
		}
		speed := rpm
		if speed == 0 {
			speed = 200 // the job's own is looked at when it is known
		}
		_, err := sampling.Samples(720, speed)
		return err
	}
	return cmd
}

// recordingEnding is how a recording's name ends, "" when it is no such name.
func recordingEnding(name string) string {
	name = strings.ToLower(name)
	for _, end := range []string{".csv", ".csv.gz"} {
		if strings.HasSuffix(name, end) {
			return end
		}
	}
	return ""
}

// writeRecording writes the traces to a file, which appears once it is whole.
func writeRecording(name string, s finding.Signals, p finding.Sampling) error {
	var b bytes.Buffer
	var err error
	if recordingEnding(name) == ".csv.gz" {
		z := gzip.NewWriter(&b)
		z.Name = strings.TrimSuffix(filepath.Base(name), ".gz")
		if err = s.WriteCSV(z, p); err == nil {
			err = z.Close()
		}
	} else {
		err = s.WriteCSV(&b, p)
	}
	if err != nil {
		return failure{fmt.Errorf("%s: %w", name, reason(err))}
	}
	return writeOutput(name, b.Bytes())
}

// signalJSON adds the sentences to the result's own fields.
type signalJSON struct {
	finding.Signals
	Finding string   `json:"finding"`
	Notes   []string `json:"notes"`
}

// amongTeeth says where a cam edge falls.
func amongTeeth(e finding.CamEdge) string {
	if tooth, on := e.OnTooth(); on {
		return fmt.Sprintf("on %d", tooth)
	}
	s := fmt.Sprintf("%d to %d, %.0f %% of the way", e.AfterTooth, e.BeforeTooth, 100*e.Part)
	if e.InGap {
		s += ", in the gap"
	}
	return s
}

func printSignals(out *bytes.Buffer, s finding.Signals) {
	title := s.Fault
	for _, f := range finding.SignalFaults() {
		if f.Name == s.Fault {
			title = f.Title
		}
	}
	fmt.Fprintf(out, "%s\n\nSignals %s, at %s rpm\n", s.Says, title, finding.Num{Value: s.RPM, Decimals: 1})
	if s.Cam != nil {
		fmt.Fprintln(out)
		columns := []column{{"cam edge", true}, {"true crank angle", true}, {"controller's angle", true}, {"belongs at", true}, {"late", true}, {"among crank teeth", false}}
		var rows [][]string
		for _, e := range s.Cam.Edges {
			rows = append(rows, []string{strconv.Itoa(e.Tooth), degrees(e.CrankDeg), degrees(e.ControllerDeg), degrees(e.ExpectedDeg), degrees(e.LateDeg), amongTeeth(e)})
		}
		table(out, columns, rows)
	}
	printSentences(out, "To know", s.Notes)
	printSentences(out, "How it was reached", s.Steps)
	printCautions(out)
}
