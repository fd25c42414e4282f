package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/trace"
)

func traceCommand() *cobra.Command {
	var recording string
	var asJSON *bool
	var o finding.TraceOptions
	cmd := jobCommand(manual{
		use: "trace JOB RECORDING [--interval S] [--crank NAME] [--cam NAME] [--json]", short: "What a recording of the crank and cam sensors proves",
		long: `Reads a recording of the crank and cam sensors, made while the starter turns the
engine, and says what it proves: whether crank and cam agree (the correlation
error), and where true TDC is in the controller's angle (the TDC offset), found from
how each compression slows the crank. What cannot be known is left out, with the
reason.

RECORDING is text as oscilloscopes and loggers export it (CSV: samples, or a row at
each change of level), what a sound card records (WAV) or what a logic analyser
exports (VCD), each gzip or not, with 1 to 8 channels; "-" reads standard input.
Which it is, is told by its content. Channels are found by what they show.
Record a few seconds of cranking with fuel shut off, at 10 kHz or more.`,
		example: `  pincalc trace demo cranking.csv
  pincalc trace demo cranking.csv.gz --crank "Channel 2"
  pincalc trace demo samples.txt --interval 0.00002 --json
  pincalc trace demo sound.wav`,
	}, func(out *bytes.Buffer, j opened) error {
		t, err := readTrace(j.Job, recording, o, nil)
		if err != nil {
			return err
		}
		if *asJSON {
			return printJSON(out, traceJSON{t, t.Says.String(), texts(t.Notes)})
		}
		printTrace(out, t)
		return nil
	})
	asJSON = wantJSON(cmd)
	cmd.Flags().Float64Var(&o.IntervalS, "interval", 0, "`S` seconds between samples, for a recording without a time column")
	cmd.Flags().StringVar(&o.Crank, "crank", "", "the crank sensor's channel, by `NAME` or number from 1")
	cmd.Flags().StringVar(&o.Cam, "cam", "", "the cam sensor's channel, by `NAME` or number from 1")
	run := cmd.RunE
	cmd.Args = func(_ *cobra.Command, args []string) error {
		if len(args) != 2 {
			return fmt.Errorf("trace needs a job file, or demo, and a recording; it got %d arguments", len(args))
		}
		if cmd.Flags().Changed("interval") && !(o.IntervalS > 0 && o.IntervalS < 1) {
			return errors.New("--interval is the time between two samples in seconds, above 0 and below 1")
		}
		return nil
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		recording = args[1]
		return run(cmd, args[:1])
	}
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		}
		return []string{"csv", "txt", "tsv", "wav", "vcd", "gz"}, cobra.ShellCompDirectiveFilterFileExt
	}
	return cmd
}

// readTrace reads the named file; what is wrong with it is a failure, what is
// wrong with the job is not.
// The picture, if any, is filled for drawing.
func readTrace(j job.Job, name string, o finding.TraceOptions, picture *trace.Picture) (finding.Trace, error) {
	if _, err := finding.TraceKnown(j); err != nil {
		return finding.Trace{}, err
	}
	file := os.Stdin
	if name != "-" {
		f, err := os.Open(name)
		if err != nil {
			return finding.Trace{}, failure{fmt.Errorf("%s: %w", name, reason(err))}
		}
		defer f.Close()
		file = f
	}
	t, err := finding.ReadTrace(context.Background(), j, file, o, finding.TraceWork{Picture: picture})
	if err != nil {
		return t, failure{fmt.Errorf("%s: %w", name, reason(err))}
	}
	return t, nil
}

// traceJSON adds the sentences to the result's own fields.
type traceJSON struct {
	finding.Trace
	Finding string   `json:"finding"`
	Notes   []string `json:"notes"`
}

func printTrace(out *bytes.Buffer, t finding.Trace) {
	fmt.Fprintf(out, "%s\n\n", t.Says)
	within := func(v, u *float64) []string {
		if v == nil {
			return []string{unknown, ""}
		}
		return []string{degrees(*v), "± " + degrees(*u)}
	}
	wheel := unknown
	if t.Wheel != nil {
		wheel = fmt.Sprintf("%d positions, missing %s", t.Wheel.Positions, strings.Trim(strings.ReplaceAll(fmt.Sprint(t.Wheel.Missing), " ", ", "), "[]"))
	}
	table(out, []column{{"", false}, {"", false}, {"standard uncertainty", false}}, [][]string{
		{"crank wheel recorded", wheel, ""},
		{"revolutions", fmt.Sprintf("%.1f at %.0f rpm", t.Revolutions, t.RPMMean), ""},
		{"cam teeth seen", fmt.Sprint(t.CamTeethSeen), ""},
		append([]string{"correlation error (cam late is positive)"}, within(t.CorrelationErrorDeg, t.CorrelationUDeg)...),
		append([]string{"controller's angle at true TDC"}, within(t.TDCOffsetDeg, t.TDCOffsetUDeg)...),
		append([]string{"cam error (ahead is positive)"}, within(t.CamErrorDeg, t.CamErrorUDeg)...),
	})
	if len(t.CamTeeth) > 0 {
		fmt.Fprintln(out)
		var rows [][]string
		for _, c := range t.CamTeeth {
			name := "none of the job's"
			if c.Tooth > 0 {
				name = fmt.Sprint(c.Tooth)
			}
			rows = append(rows, []string{name, degrees(c.AtDeg), maybeDegrees(c.LateDeg), degrees(c.ScatterDeg), fmt.Sprint(c.Seen)})
		}
		table(out, []column{{"cam tooth", false}, {"at", true}, {"late by", true}, {"scatter", true}, {"times seen", true}}, rows)
	}
	if len(t.Compression) > 0 {
		fmt.Fprintln(out)
		var rows [][]string
		for _, c := range t.Compression {
			rows = append(rows, []string{fmt.Sprint(c.Cylinder), fmt.Sprintf("%.0f %%", 100*c.Share), fmt.Sprintf("± %.0f %%", 100*c.U)})
		}
		table(out, []column{{"cylinder", true}, {"compression, of the strongest", true}, {"", true}}, rows)
	}
	printSentences(out, "What is missing or odd", t.FaultSays)
	printSentences(out, "To know", t.Notes)
	printCautions(out)
}
