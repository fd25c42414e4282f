package main

import (
	"bytes"
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/packed"
	"pinphase.org/pinphase/timing/part/photo"
)

func (s *shell) packCommand() *cobra.Command {
	var file string
	var outside bool
	cmd := commandOf(manual{
		use: "pack JOB -o FILE.zip", short: "Put a job and its pictures into one file",
		long: `Writes a job and the pictures from which it was measured into one file, a ZIP
archive, that stands for JOB in every command. Comments in the job stay.

A picture that lies outside the job's folder is refused, for a job from somebody else
may name a picture of yours that it has no business with; --outside-pictures takes it
along.`,
		example: `  pincalc pack engine.toml -o engine.zip
  pincalc part engine.zip`,
	})
	cmd.Args = func(_ *cobra.Command, args []string) error {
		if len(args) != 1 {
			return fmt.Errorf("pack needs one job file, or demo; it got %s", arguments(len(args)))
		}
		return nil
	}
	cmd.Flags().StringVarP(&file, "output", "o", "", `the `+"`FILE`"+` to write; "-" is standard output`)
	cmd.Flags().BoolVar(&outside, "outside-pictures", false, "take pictures along that lie outside the job's folder too")
	cmd.PreRunE = func(*cobra.Command, []string) error {
		switch {
		case file == "":
			return errors.New("say where to: -o FILE.zip")
		case file == standard && s.outIsTerminal:
			return errTerminal
		}
		return nil
	}
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		doc, folder, err := s.open(args[0])
		if err != nil {
			return inFile(args[0], nil, err)
		}
		var b bytes.Buffer
		err = packed.Write(&b, doc, folder, func(name string) error {
			if !outside && photo.OutsideFolder(folder, name) {
				return fmt.Errorf("%s: %w", name, errOutside)
			}
			return nil
		})
		switch {
		case errors.Is(err, errOutside):
			return err
		case err != nil:
			return failure{err}
		}
		return s.write(file, b.Bytes())
	}
	return cmd
}

var errOutside = errors.New("lies outside the job's folder; --outside-pictures takes it along")
