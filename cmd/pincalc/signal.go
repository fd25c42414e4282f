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
	"pinphase.org/pinphase/timing/phrase"
)

func (s *shell) signalCommand() *cobra.Command {
	var rpm, wheelError, camError float64
	sampling := finding.UsualSampling
	var faults []string
	for _, f := range finding.SignalFaults() {
		faults = append(faults, f.Name)
	}
	fault := word{value: finding.AsIs, of: faults}
	var out *output
	var cmd *cobra.Command
	cmd = s.jobCommand(manual{
		use: "signal JOB [-o FILE.csv] [--fault NAME] [--rpm N] [--json]", short: "What the crankshaft and camshaft sensors will show",
		long: `Prints where every edge of the crankshaft and camshaft sensors is, as the job was
measured or with a what-if fault, and between which teeth of the crank sensor wheel
each cam edge must be looked for. With -o it writes the signals as a recording: time,
true crank angle, crankshaft and camshaft sensor in volts. A name ending in .gz is compressed. "-o -" writes them to standard
output, and nothing else.

A what-if fault is the only one of an otherwise correct engine; --wheel-error and
--cam-error set the errors beside it, positive where the part is ahead.`,
		example: `  pincalc signal demo
  pincalc signal demo --fault right -o right.csv
  pincalc signal engine.toml --wheel-error -28 --rpm 250 --json
  pincalc signal demo -o - --format csv | pincalc trace demo -`,
	}, func(p *page, j opened) error {
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
		f, err := finding.SignalsOf(j.Job, o)
		if err != nil {
			return err
		}
		if out.file != "" {
			if err := s.writeRecording(out, f, sampling); err != nil {
				return err
			}
		}
		switch {
		case s.json:
			return p.json(signalJSON{f, p.Say(f.Says), p.texts(f.Notes)})
		case out.file != standard:
			p.signals(f)
		}
		return nil
	})
	out = outputFlag(cmd, "write the traces to a `FILE`", "csv", "csv.gz")
	cmd.Flags().Var(number{&rpm, "turns a minute", "N"}, "rpm", "speed in turns a minute (the job's cranking speed, else 200)")
	cmd.Flags().Var(&fault, "fault", "what-if fault: "+strings.Join(faults, ", "))
	cmd.Flags().Var(number{&wheelError, "degrees", "DEG"}, "wheel-error", "what if the crank sensor wheel is this many degrees ahead")
	cmd.Flags().Var(number{&camError, "degrees", "DEG"}, "cam-error", "what if the camshaft is this many crank degrees ahead")
	cmd.Flags().Var(number{&sampling.Cycles, "cycles", "N"}, "cycles", "how many cycles to write")
	cmd.Flags().Var(number{&sampling.RateHz, "samples a second", "N"}, "rate", "samples a second to write")
	complete(cmd, "fault", faults)
	cmd.PreRunE = func(cmd *cobra.Command, _ []string) error {
		if err := out.check(s, out.file); err != nil {
			return err
		}
		switch {
		case cmd.Flags().Changed("rpm") && !(rpm >= 1 && rpm <= finding.MaxSignalRPM):
			return fmt.Errorf("--rpm %g is not between 1 and %d", rpm, finding.MaxSignalRPM)
		case out.file == standard && s.json:
			return errBothOut
		case out.file == standard:
			if err := idle(cmd, "with -o -, which prints the traces alone", optionQuiet, optionLang); err != nil {
				return err
			}
		case out.file == "":
			if err := idle(cmd, "without -o", "cycles", "rate"); err != nil {
				return err
			}
		}
		for name, v := range map[string]float64{"wheel-error": wheelError, "cam-error": camError} {
			if !(v >= -720 && v <= 720) {
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
	s.results(cmd)
	return cmd
}

// writeRecording writes the traces to a file, which appears once it is whole.
func (s *shell) writeRecording(out *output, f finding.Signals, p finding.Sampling) error {
	var b bytes.Buffer
	var err error
	if out.kind(out.file) == "csv.gz" {
		z := gzip.NewWriter(&b)
		if out.file != standard {
			z.Name = strings.TrimSuffix(filepath.Base(out.file), ".gz")
		}
		if err = f.WriteCSV(z, p); err == nil {
			err = z.Close()
		}
	} else {
		err = f.WriteCSV(&b, p)
	}
	if err != nil {
		return failure{fmt.Errorf("%s: %w", out.file, reason(err))}
	}
	return s.write(out.file, b.Bytes())
}

// signalJSON adds the sentences to the result's own fields.
type signalJSON struct {
	finding.Signals
	Finding string   `json:"finding"`
	Notes   []string `json:"notes"`
}

// amongTeeth says where a cam edge falls.
func (p *page) amongTeeth(e finding.CamEdge) string {
	if tooth, on := e.OnTooth(); on {
		return p.with("on {{.Tooth}}", map[string]any{"Tooth": tooth})
	}
	text := phrase.Text("{{.From}} to {{.To}}, {{.Part}} % of the way")
	if e.InGap {
		text = "{{.From}} to {{.To}}, {{.Part}} % of the way, in the gap"
	}
	return p.with(text, map[string]any{"From": e.AfterTooth, "To": e.BeforeTooth, "Part": phrase.Num{Value: 100 * e.Part}})
}

func (p *page) signals(f finding.Signals) {
	p.line(p.Say(f.Says))
	p.blank()
	p.line(p.with("Signals {{.Title}}, at {{.RPM}} rpm", map[string]any{"Title": p.Text(f.Title()), "RPM": phrase.Num{Value: f.RPM, Decimals: 1}}))
	if f.Cam != nil {
		p.blank()
		columns := []column{{"cam edge", true}, {"true crank angle", true}, {"ECU's angle", true}, {"should be at", true}, {"late", true}, {"among the teeth of the crank sensor wheel", false}}
		var rows [][]string
		for _, e := range f.Cam.Edges {
			rows = append(rows, []string{strconv.Itoa(e.Tooth), p.degrees(e.CrankDeg), p.degrees(e.ControllerDeg), p.degrees(e.ExpectedDeg), p.angle(e.LateDeg), p.amongTeeth(e)})
		}
		p.table(columns, rows)
	}
	p.sentences("Remarks", f.Notes)
	p.sentences("Calculation", f.Steps)
	p.cautions()
}
