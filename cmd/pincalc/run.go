package main

import (
	"errors"
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"pinphase/timing/job"
)

// The exit codes.
const (
	exitDone   = 0
	exitFailed = 1 // the work failed: a file cannot be read or written
	exitInput  = 2 // the input is wrong: usage, or the job
)

// usageError is a wrong command line.
type usageError struct{ err error }

func (u usageError) Error() string { return u.err.Error() }
func (u usageError) Unwrap() error { return u.err }

// run is the whole program: it carries the command line out and returns the
// exit code.
func run(args []string, out, errOut io.Writer) int {
	root := newRoot()
	root.SetArgs(args)
	root.SetOut(out)
	root.SetErr(errOut)
	err := root.Execute()
	if err == nil {
		return exitDone
	}
	var faults job.Faults
	var usage usageError
	switch {
	case errors.As(err, &faults):
		fmt.Fprintln(errOut, faults.Error())
		return exitInput
	case errors.As(err, &usage):
		fmt.Fprintf(errOut, "pincalc: %v\n", err)
		return exitInput
	}
	fmt.Fprintf(errOut, "pincalc: %v\n", err)
	return exitFailed
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "pincalc",
		Short: "Where a crankshaft's sensor wheel puts injection",
		Long: `Reads a job file, which describes one engine and what was measured on it, and
prints or draws what follows. JOB is a .toml file, or "demo" for a job of our own.

Exit status: 0 done, 1 the work failed, 2 the input is wrong.`,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usageError{fmt.Errorf("there is no command %q; see pincalc --help", args[0])}
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			return usageError{errors.New("which command? See pincalc --help")}
		},
	}
	root.SetFlagErrorFunc(func(_ *cobra.Command, err error) error { return usageError{err} })
	root.AddCommand(phaseCommand(), shiftCommand(), partCommand(), checkCommand(), drawCommand())
	return root
}

// jobCommand is a command whose only argument is a job.
func jobCommand(use, short, long string, work func(cmd *cobra.Command, name string, doc *job.Document) error) *cobra.Command {
	return &cobra.Command{
		Use:   use,
		Short: short,
		Long:  long,
		Args: func(cmd *cobra.Command, args []string) error {
			switch {
			case len(args) == 0:
				return usageError{fmt.Errorf("%s needs a job file, or demo", cmd.Name())}
			case len(args) > 1:
				return usageError{fmt.Errorf("%s takes one job, not %d arguments", cmd.Name(), len(args))}
			}
			return nil
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			doc, err := openJob(args[0])
			if err != nil {
				return err
			}
			return inFile(args[0], work(cmd, args[0], doc))
		},
	}
}
