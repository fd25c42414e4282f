package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/schema"
)

func (s *shell) schemaCommand() *cobra.Command {
	cmd := commandOf(manual{
		use: "schema job|results", short: "Describe the job file, or the results, as JSON Schema",
		long: `Prints a JSON Schema (draft 2020-12). That of the job tells which keys a job file
has and what each may hold; an editor that knows TOML takes it from the first line of
the file, #:schema and where the schema lies, which stays when the job is saved. That
of the results tells what each command prints with --json.`,
		example: `  pincalc schema job > pinphase-job.schema.json
  pincalc schema results`,
	})
	cmd.ValidArgs = []string{"job", "results"}
	cmd.Args = func(_ *cobra.Command, args []string) error {
		switch {
		case len(args) != 1:
			return errors.New("schema of what? job or results")
		case args[0] != "job" && args[0] != "results":
			return fmt.Errorf("there is no schema of %q; there is of job and of results", args[0])
		}
		return nil
	}
	cmd.RunE = func(_ *cobra.Command, args []string) error {
		var of any = schema.Job()
		if args[0] == "results" {
			all, err := schema.Results(results)
			if err != nil {
				return err
			}
			of = all
		}
		p := s.page()
		if err := p.json(of); err != nil {
			return err
		}
		return s.print(p)
	}
	return cmd
}

// results are what the commands print with --json.
var results = map[string]any{
	"phase":    finding.Phase{},
	"shift":    shiftJSON{},
	"part":     partJSON{},
	"light":    lightJSON{},
	"sweep":    finding.Sweep{},
	"signal":   signalJSON{},
	"trace":    traceJSON{},
	"cause":    causeJSON{},
	"kinds":    kindsJSON{},
	"gears":    gearsJSON{},
	"check":    checkJSON{},
	"exercise": exerciseJSON{},
	"version":  versionJSON{},
}
