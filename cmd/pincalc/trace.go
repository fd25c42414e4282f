package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/regular"
	"pinphase.org/pinphase/timing/trace"
	"pinphase.org/pinphase/timing/trace/samples"
)

func (s *shell) traceCommand() *cobra.Command {
	var recording string
	var o finding.TraceOptions
	cmd := s.jobCommand(manual{
		use: "trace JOB RECORDING [--interval S] [--crank NAME] [--cam NAME] [--json]", short: "What a recording of the crankshaft and camshaft sensors shows",
		long: `Reads a recording of the crankshaft and camshaft sensors, made while the starter turns
the engine, and says what it shows: whether crankshaft and camshaft agree (the
correlation error), and where true TDC is in the angle of the ECU (engine control
unit; the TDC offset), found from how each compression slows the crankshaft. What
cannot be known is left out, with the reason.

RECORDING is text as oscilloscopes and loggers export it (CSV: samples, or a row at
each change of level), what a sound card records (WAV) or what a logic analyser
exports (VCD), each gzip or not, with 1 to 8 channels; "-" reads standard input.
Which it is, is told by its content. A long one tells on a terminal how far it is,
unless --quiet is given. Channels are found by what they show.
Record a few seconds of cranking with fuel shut off, at 10 kHz or more.`,
		example: `  pincalc trace demo cranking.csv
  pincalc trace demo cranking.csv.gz --crank "Channel 2"
  pincalc trace demo samples.txt --interval 0.00002 --json
  pincalc trace demo sound.wav`,
	}, func(p *page, j opened) error {
		t, err := s.readTrace(j.Job, recording, o, nil)
		switch {
		case err != nil:
			return err
		case s.json:
			t.Faults = p.texts(t.FaultSays)
			return p.json(traceJSON{t, p.Say(t.Says), p.texts(t.Notes)})
		}
		p.trace(t)
		return nil
	})
	cmd.Flags().Var(number{&o.IntervalS, "seconds", "S"}, "interval", "seconds between samples, for a recording without a time column")
	cmd.Flags().StringVar(&o.Crank, "crank", "", "the crankshaft sensor's channel, by `NAME` or number from 1")
	cmd.Flags().StringVar(&o.Cam, "cam", "", "the camshaft sensor's channel, by `NAME` or number from 1")
	run := cmd.RunE
	cmd.Args = func(_ *cobra.Command, args []string) error {
		switch {
		case len(args) != 2:
			return fmt.Errorf("trace needs a job file, or demo, and a recording; it got %s", arguments(len(args)))
		case args[0] == standard && args[1] == standard:
			return twice("the job", "the recording")
		case cmd.Flags().Changed("interval") && !(o.IntervalS > 0 && o.IntervalS < 1):
			return errors.New("--interval is the time between two samples in seconds, above 0 and below 1")
		}
		return nil
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		recording = args[1]
		return run(cmd, args[:1])
	}
	s.options(cmd, optionJSON, optionQuiet, optionLang)
	cmd.ValidArgsFunction = func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
		if len(args) == 0 {
			return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		}
		return []string{"csv", "txt", "tsv", "wav", "vcd", "gz"}, cobra.ShellCompDirectiveFilterFileExt
	}
	return cmd
}

func arguments(n int) string {
	if n == 1 {
		return "1 argument"
	}
	return fmt.Sprintf("%d arguments", n)
}

// readTrace reads the named recording; what is wrong with it is a failure, what is
// wrong with the job is not. The picture, if any, is filled for drawing.
func (s *shell) readTrace(j job.Job, name string, o finding.TraceOptions, picture *trace.Picture) (finding.Trace, error) {
	if _, err := finding.TraceKnown(j); err != nil {
		return finding.Trace{}, err
	}
	r, size, err := s.recording(name)
	if err != nil {
		return finding.Trace{}, failure{fmt.Errorf("%s: %w", shown(name), reason(err))}
	}
	defer r.Close()
	read, done := s.progress(size)
	t, err := finding.ReadTrace(context.Background(), j, r, o, finding.TraceWork{Progress: read, Picture: picture})
	done()
	if errors.Is(err, samples.ErrTimed) {
		return t, misuse{fmt.Errorf("--interval: %s: %w", shown(name), reason(err))}
	}
	if err != nil {
		return t, failure{fmt.Errorf("%s: %w", shown(name), reason(err))}
	}
	return t, nil
}

// recording opens a recording and says how long it is, 0 where that is not known.
func (s *shell) recording(name string) (io.ReadCloser, int64, error) {
	switch {
	case name == standard:
		r, err := s.input("the recording")
		return io.NopCloser(r), 0, err
	case isPassed(name):
		f, err := os.Open(name)
		return f, 0, err
	}
	f, err := regular.Open(name)
	if err != nil {
		return nil, 0, err
	}
	st, err := f.Stat()
	if err != nil {
		f.Close()
		return nil, 0, err
	}
	return f, st.Size(), nil
}

// traceJSON adds the sentences to the result's own fields.
type traceJSON struct {
	finding.Trace
	Finding string   `json:"finding"`
	Notes   []string `json:"notes"`
}

func (p *page) trace(t finding.Trace) {
	p.line(p.Say(t.Says))
	p.blank()
	within := func(v, u *float64) []string {
		if v == nil {
			return []string{unknown, ""}
		}
		return []string{p.angle(*v), "± " + p.angle(*u)}
	}
	wheel := unknown
	if t.Wheel != nil {
		missing := strings.Trim(strings.ReplaceAll(fmt.Sprint(t.Wheel.Missing), " ", ", "), "[]")
		wheel = p.with("{{.N}} positions, missing {{.Missing}}", map[string]any{"N": t.Wheel.Positions, "Missing": missing})
	}
	turns := p.with("{{.N}} at {{.RPM}} rpm", map[string]any{"N": p.fixed(t.Revolutions, 1), "RPM": p.fixed(t.RPMMean, 0)})
	p.table([]column{{"", false}, {"", false}, {"standard uncertainty", false}}, [][]string{
		{p.Text("crank sensor wheel recorded"), wheel, ""},
		{p.Text("revolutions"), turns, ""},
		{p.Text("cam sensor wheel teeth seen"), fmt.Sprint(t.CamTeethSeen), ""},
		append([]string{p.Text("crank–cam correlation error (camshaft late is positive)")}, within(t.CorrelationErrorDeg, t.CorrelationUDeg)...),
		append([]string{p.Text("ECU's angle at true TDC")}, within(t.TDCOffsetDeg, t.TDCOffsetUDeg)...),
		append([]string{p.Text("camshaft error (ahead is positive)")}, within(t.CamErrorDeg, t.CamErrorUDeg)...),
	})
	if len(t.CamTeeth) > 0 && !p.quiet {
		p.blank()
		var rows [][]string
		for _, c := range t.CamTeeth {
			name := p.Text("none of the job's")
			if c.Tooth > 0 {
				name = fmt.Sprint(c.Tooth)
			}
			rows = append(rows, []string{name, p.degrees(c.AtDeg), p.maybeAngle(c.LateDeg), p.angle(c.ScatterDeg), fmt.Sprint(c.Seen)})
		}
		p.table([]column{{"tooth of the cam sensor wheel", false}, {"at", true}, {"late by", true}, {"scatter", true}, {"times seen", true}}, rows)
	}
	if len(t.Compression) > 0 && !p.quiet {
		p.blank()
		var rows [][]string
		for _, c := range t.Compression {
			rows = append(rows, []string{fmt.Sprint(c.Cylinder), p.fixed(100*c.Share, 0) + " %", "± " + p.fixed(100*c.U, 0) + " %"})
		}
		p.table([]column{{"cylinder", true}, {"compression, share of the strongest", true}, {"", true}}, rows)
	}
	p.sentences("What is missing or unusual", t.FaultSays)
	p.sentences("Remarks", t.Notes)
	p.cautions()
}
