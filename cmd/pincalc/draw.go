package main

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/plate"
	"pinphase.org/pinphase/timing/trace"
)

func drawCommand() *cobra.Command {
	var at crankAngle
	figure := word{of: plate.Names}
	end := word{value: "nose", of: []string{"nose", "flywheel"}}
	order := word{value: "firing", of: []string{"firing", "number"}}
	theme := word{value: "light", of: plate.Themes}
	var output, recording, size, wide string
	var dpi float64
	var o plate.Options
	var cmd *cobra.Command
	cmd = jobCommand(manual{
		use: "draw JOB --figure FIGURE -o FILE [--at DEG] [--size WxH]", short: "Draw a figure to an SVG, PDF or PNG file",
		long: `Draws one of the job's figures to a file, whose ending says the format: the cycle
with every cylinder's strokes and injections, the end of the crankshaft with its
sensor wheel, the measured part (dowel or keyway as drawn and as measured), the
light-off of the charge, its map by wheel error and air temperature, the gear train
with its marks, which --at turns on through any number of cycles, or the signals of
crank and cam sensor as they should be, as measured, and with --recording as
recorded. A file of that name is replaced once the new one is whole.`,
		example: `  pincalc draw demo --figure cycle -o cycle.pdf
  pincalc draw demo --figure wheel --at 18 --seen-from flywheel -o wheel.svg
  pincalc draw demo --figure part -o part.pdf
  pincalc draw demo --figure cycle -o cycle.png --width 180mm --dpi 300 --theme mono`,
	}, func(_ *bytes.Buffer, j opened) error {
		o.ByNumber = order.value == "number"
		o.From, _ = timing.ParseEnd(end.value) // one of the words above
		if cmd.Flags().Changed("at") {
			d := timing.Deg(at)
			o.Cursor = &d
		}
		if recording != "" {
			r, err := drawnRecording(j.Job, recording)
			if err != nil {
				return err
			}
			o.Recorded = r
		}
		d, err := plate.Drawing(figure.value, j.Job, o)
		if err != nil {
			return err
		}
		style, err := plate.Style(theme.value)
		if err != nil {
			return err
		}
		var b bytes.Buffer
		if err := plate.WriteAs(&b, filepath.Ext(output), d, style, dpi); err != nil {
			return err
		}
		return writeOutput(output, b.Bytes())
	})
	atFlag(cmd, &at)
	cmd.Flags().Var(&figure, "figure", "which figure: cycle, wheel, part, light, light-map, gears or signals")
	cmd.Flags().StringVarP(&output, "output", "o", "", "the `FILE` to write: .svg, .pdf or .png")
	cmd.Flags().StringVar(&recording, "recording", "", "a recording's `FILE`, to go below the signals")
	cmd.Flags().StringVar(&size, "size", "", "how large, `WIDTHxHEIGHT`: 200x150mm, 8x6in")
	cmd.Flags().StringVar(&wide, "width", "", "how wide, `LENGTH`, in its usual shape: 180mm, 18cm, 7in")
	cmd.Flags().Float64Var(&dpi, "dpi", plate.UsualDPI, "of a PNG: `N` dots to the inch")
	cmd.Flags().Var(&theme, "theme", "how it looks: light, dark, or mono for black ink alone")
	cmd.Flags().Var(&end, "seen-from", "the end that wheel and part are seen from: nose or flywheel")
	cmd.Flags().Var(&order, "order", "the order of the cycle's rows: firing or number")
	for flag, w := range map[string]word{"figure": figure, "theme": theme, "seen-from": end, "order": order} {
		// It fails only for a flag that is not there.
		_ = cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(w.of, cobra.ShellCompDirectiveNoFileComp))
	}
	cmd.PreRunE = func(*cobra.Command, []string) error {
		switch {
		case figure.value == "":
			return fmt.Errorf("say which figure: --figure %s", strings.Join(plate.Names, " or --figure "))
		case recording != "" && figure.value != "signals":
			return errors.New("--recording goes with --figure signals")
		case output == "":
			return errors.New("say where to: -o FILE.svg, FILE.pdf or FILE.png")
		case !slices.Contains(plate.Formats, strings.ToLower(filepath.Ext(output))):
			return fmt.Errorf("%s: the file must end in .svg, .pdf or .png", output)
		case size != "" && wide != "":
			return errors.New("--size says the width too; leave --width out")
		}
		var err error
		if o.Box, err = boxOf(figure.value, size, wide); err != nil {
			return err
		}
		if strings.ToLower(filepath.Ext(output)) == ".png" {
			return plate.CheckPicture(figure.value, o.Box, dpi)
		}
		return nil
	}
	return cmd
}

// drawnRecording reads a recording for drawing.
func drawnRecording(j job.Job, name string) (*plate.Recorded, error) {
	picture := new(trace.Picture)
	t, err := readTrace(j, name, finding.TraceOptions{}, picture)
	if err != nil {
		return nil, err
	}
	return plate.NewRecorded(j, nil, t, picture)
}

// boxOf is the room that --size or --width give a figure; none without them.
func boxOf(name, size, wide string) (figure.Box, error) {
	var w, h float64
	var err error
	switch {
	case size != "":
		w, h, err = plate.ParseSize(size)
	case wide != "":
		w, err = plate.ParseLength(wide)
	default:
		return figure.Box{}, nil
	}
	if err != nil {
		return figure.Box{}, err
	}
	return plate.Sized(name, w, h)
}

// word is a flag that takes one of a few words.
type word struct {
	value string
	of    []string
}

func (w *word) String() string { return w.value }
func (w *word) Type() string   { return strings.Join(w.of, "|") }

func (w *word) Set(s string) error {
	if !slices.Contains(w.of, s) {
		return fmt.Errorf("%q is not one of %s", s, strings.Join(w.of, ", "))
	}
	w.value = s
	return nil
}
