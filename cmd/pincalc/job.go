package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"pinphase/assets"
	"pinphase/timing/job"
)

// openJob reads the named job; "demo" is the one the program carries with it.
func openJob(name string) (*job.Document, error) {
	if name == assets.DemoName {
		return job.Read(name, assets.DemoJob)
	}
	return job.ReadFile(name)
}

// inFile names the file in faults that were found after reading it, such as
// something a command needs and the job lacks.
func inFile(name string, err error) error {
	var faults job.Faults
	if !errors.As(err, &faults) {
		return err
	}
	named := append(job.Faults(nil), faults...)
	for i := range named {
		if named[i].File == "" {
			named[i].File = name
		}
	}
	return named
}

func checkCommand() *cobra.Command {
	return jobCommand("check JOB", "Say whether a job file is sound",
		`Reads the job and reports every fault in it, one line each, with file, line and key.`,
		func(cmd *cobra.Command, name string, doc *job.Document) error {
			fmt.Fprintf(cmd.OutOrStdout(), "%s: sound\n", name)
			return nil
		})
}

// wantJSON adds the flag --json to a command.
func wantJSON(cmd *cobra.Command) *bool {
	return cmd.Flags().Bool("json", false, "print JSON for programs")
}

func printJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	return e.Encode(v)
}
