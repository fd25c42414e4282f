package main

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/trace"
)

func (s *shell) drawCommand() *cobra.Command {
	var at float64
	figure := word{of: chart.Names}
	end := word{value: "nose", of: []string{"nose", "flywheel"}}
	order := word{value: "firing", of: []string{"firing", "number"}}
	theme := word{value: "light", of: chart.Themes}
	var recording, size, wide string
	dpi := float64(chart.UsualDPI)
	var out *output
	var o chart.Options
	var cmd *cobra.Command
	cmd = s.jobCommand(manual{
		use: "draw JOB --figure FIGURE -o FILE [--at DEG] [--size WxH]", short: "Draw a figure to an SVG, PDF or PNG file",
		long: `Draws one of the job's figures to a file, whose ending says the format: the cycle
with every cylinder's strokes and injections, the end of the crankshaft with its
sensor wheel, the measured part (dowel or keyway as drawn and as measured), the
ignition of the fuel, its map by wheel error and air temperature, the gear train
with its marks, which --at turns on through any number of cycles, the engine with its
pistons and crank throws, the valve timing with its overlap, or the signals of
crankshaft and camshaft sensor, correct, as measured, and with --recording as
recorded. A file of that name is replaced once the new one is whole.`,
		example: `  pincalc draw demo --figure cycle -o cycle.pdf
  pincalc draw demo --figure wheel --at 18 --seen-from flywheel -o wheel.svg
  pincalc draw demo --figure part -o part.pdf
  pincalc draw demo --figure cycle -o cycle.png --width 180mm --dpi 300 --theme mono
  make-job | pincalc draw - --figure wheel -o - --format svg > wheel.svg`,
	}, func(_ *page, j opened) error {
		o.Say = s.voice().Say
		o.ByNumber = order.value == "number"
		o.From, _ = timing.ParseEnd(end.value) // one of the words above
		if cmd.Flags().Changed("at") {
			d := timing.Deg(at)
			o.Cursor = &d
		}
		if recording != "" {
			r, err := s.drawnRecording(j.Job, recording)
			if err != nil {
				return err
			}
			o.Recorded = r
		}
		d, err := chart.Drawing(figure.value, j.Job, o)
		if err != nil {
			return err
		}
		style, err := chart.Style(theme.value)
		if err != nil {
			return err
		}
		var b bytes.Buffer
		if err := chart.WriteAs(&b, "."+out.kind(out.file), d, style, dpi); err != nil {
			return err
		}
		return s.write(out.file, b.Bytes())
	})
	atFlag(cmd, &at)
	cmd.Flags().Var(&figure, "figure", "which figure: cycle, wheel, part, light, light-map, gears, signals, engine or valves")
	out = outputFlag(cmd, "the `FILE` to write", "svg", "pdf", "png")
	cmd.Flags().StringVar(&recording, "recording", "", "a recording's `FILE`, to go below the signals; \"-\" is standard input")
	cmd.Flags().StringVar(&size, "size", "", "how large, `WIDTHxHEIGHT`: 200x150mm, 8x6in")
	cmd.Flags().StringVar(&wide, "width", "", "how wide, `LENGTH`, in its usual shape: 180mm, 18cm, 7in")
	cmd.Flags().Var(number{&dpi, "dots to the inch", "N"}, "dpi", "of a PNG: dots to the inch")
	cmd.Flags().Var(&theme, "theme", "how it looks: light, dark, or mono for black ink alone")
	cmd.Flags().Var(&end, "seen-from", "the end that wheel and part are seen from: nose or flywheel")
	cmd.Flags().Var(&order, "order", "the order of the cycle's rows: firing or number")
	for flag, w := range map[string]word{"figure": figure, "theme": theme, "seen-from": end, "order": order} {
		complete(cmd, flag, w.of)
	}
	s.options(cmd, optionQuiet, optionLang)
	args := cmd.Args
	cmd.Args = func(cmd *cobra.Command, list []string) error {
		if recording == standard && slices.Contains(list, standard) {
			return twice("the job", "the recording")
		}
		return args(cmd, list)
	}
	cmd.PreRunE = func(cmd *cobra.Command, _ []string) error {
		switch {
		case figure.value == "":
			return fmt.Errorf("say which figure: --figure %s", strings.Join(chart.Names, " or --figure "))
		case recording != "" && figure.value != "signals":
			return errors.New("--recording goes with --figure signals")
		case out.file == "":
			return out.needed()
		case size != "" && wide != "":
			return errors.New("--size says the width too; leave --width out")
		}
		if err := cmp.Or(out.check(s, out.file), drawnIdle(cmd, figure.value, out.kind(out.file), recording)); err != nil {
			return err
		}
		var err error
		if o.Box, err = boxOf(figure.value, size, wide); err != nil {
			return err
		}
		if out.kind(out.file) == "png" {
			return chart.CheckPicture(figure.value, o.Box, dpi)
		}
		return nil
	}
	return cmd
}

// drawnIdle is an error of an option that changes nothing on a figure.
func drawnIdle(cmd *cobra.Command, figure, kind, recording string) error {
	turned := []string{"wheel", "part", "gears", "engine"}
	at := []string{"cycle", "wheel", "light", "gears", "signals", "engine", "valves"}
	with := "with --figure " + figure
	switch {
	case !slices.Contains(turned, figure) && cmd.Flags().Changed("seen-from"):
		return noEffect("seen-from", with)
	case !slices.Contains(at, figure) && cmd.Flags().Changed("at"):
		return noEffect("at", with)
	case figure != "cycle" && cmd.Flags().Changed("order"):
		return noEffect("order", with)
	case kind != "png":
		if err := idle(cmd, "on "+strings.ToUpper(kind), "dpi"); err != nil {
			return err
		}
	}
	if recording == "" {
		return idle(cmd, "without --recording", optionQuiet)
	}
	return nil
}

// drawnRecording reads a recording for drawing.
func (s *shell) drawnRecording(j job.Job, name string) (*chart.Recorded, error) {
	picture := new(trace.Picture)
	t, err := s.readTrace(j, name, finding.TraceOptions{}, picture)
	if err != nil {
		return nil, err
	}
	return chart.NewRecorded(j, nil, t, picture)
}

// boxOf is the room that --size or --width give a figure; none without them.
func boxOf(name, size, wide string) (figure.Box, error) {
	var w, h float64
	var err error
	switch {
	case size != "":
		w, h, err = chart.ParseSize(size)
	case wide != "":
		w, err = chart.ParseLength(wide)
	default:
		return figure.Box{}, nil
	}
	if err != nil {
		return figure.Box{}, err
	}
	return chart.Sized(name, w, h)
}
