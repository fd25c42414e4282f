package main

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"pinphase/timing"
	"pinphase/timing/figure"
	"pinphase/timing/job"
	"pinphase/timing/plate"
)

// The sizes a figure is drawn at, in points: the cycle as wide as an A4 page
// lying, the wheel as a square plate.
var boxes = map[string]figure.Box{
	"cycle": {W: 842, H: 480},
	"wheel": {W: 640, H: 640},
}

func drawCommand() *cobra.Command {
	var at crankAngle
	var name, output, end, order string
	cmd := jobCommand("draw JOB", "Draw a figure to an SVG, PDF or PNG file",
		`Draws one of the job's figures to a file; its ending says the format.`,
		func(cmd *cobra.Command, _ string, doc *job.Document) error {
			var cursor *timing.Deg
			if cmd.Flags().Changed("at") {
				d := timing.Deg(at)
				cursor = &d
			}
			write, err := writerFor(output)
			if err != nil {
				return err
			}
			from, ok := timing.ParseEnd(end)
			if !ok {
				return usageError{fmt.Errorf("--seen-from %q is neither nose nor flywheel", end)}
			}
			if order != "firing" && order != "number" {
				return usageError{fmt.Errorf("--order %q is neither firing nor number", order)}
			}
			d, err := drawing(doc.Job(), name, cursor, from, order == "number")
			if err != nil {
				return err
			}
			var b bytes.Buffer
			if err := write(&b, d); err != nil {
				return err
			}
			return job.WriteFile(output, b.Bytes())
		})
	atFlag(cmd, &at)
	cmd.Flags().StringVar(&name, "figure", "", "which figure: cycle or wheel")
	cmd.Flags().StringVarP(&output, "output", "o", "", "the file to write: .svg, .pdf or .png")
	cmd.Flags().StringVar(&end, "seen-from", "nose", "the end the wheel is seen from: nose or flywheel")
	cmd.Flags().StringVar(&order, "order", "firing", "the order of the cycle's rows: firing or number")
	for flag, words := range map[string][]string{"figure": {"cycle", "wheel"}, "seen-from": {"nose", "flywheel"}, "order": {"firing", "number"}} {
		_ = cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp)) // fails only for a flag that is not there
	}
	return cmd
}

func drawing(j job.Job, name string, cursor *timing.Deg, from timing.End, byNumber bool) (figure.Drawing, error) {
	switch name {
	case "cycle":
		in, err := plate.Cycle(j, plate.CycleOptions{Cursor: cursor, ByNumber: byNumber})
		if err != nil {
			return figure.Drawing{}, err
		}
		d, _ := figure.Cycle(in, boxes[name])
		return d, nil
	case "wheel":
		o := plate.WheelOptions{From: from}
		if cursor != nil {
			o.At = *cursor
		}
		in, err := plate.Wheel(j, o)
		if err != nil {
			return figure.Drawing{}, err
		}
		d, _ := figure.Wheel(in, boxes[name])
		return d, nil
	case "":
		return figure.Drawing{}, usageError{errors.New("say which figure: --figure cycle or --figure wheel")}
	}
	return figure.Drawing{}, usageError{fmt.Errorf("there is no figure %q; there are cycle and wheel", name)}
}

// writerFor returns what writes the format that a file's ending asks for.
func writerFor(file string) (func(*bytes.Buffer, figure.Drawing) error, error) {
	switch strings.ToLower(filepath.Ext(file)) {
	case ".svg":
		return func(b *bytes.Buffer, d figure.Drawing) error { return figure.WriteSVG(b, d, figure.Light()) }, nil
	case ".pdf":
		return func(b *bytes.Buffer, d figure.Drawing) error { return figure.WritePDF(b, d, figure.Light()) }, nil
	case ".png":
		return func(b *bytes.Buffer, d figure.Drawing) error { return figure.WritePNG(b, d, figure.Light(), 192) }, nil
	case "":
		return nil, usageError{errors.New("say where to: -o FILE.svg, FILE.pdf or FILE.png")}
	}
	return nil, usageError{fmt.Errorf("%s: the file must end in .svg, .pdf or .png", file)}
}
