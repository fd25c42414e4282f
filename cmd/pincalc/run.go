package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase"
	"pinphase.org/pinphase/timing/job"
)

// The exit codes.
const (
	exitDone   = 0
	exitFailed = 1 // the work failed: a file cannot be read or written
	exitInput  = 2 // the input is wrong: usage, or the job
)

// failure is work that failed though the input was right. Every other error of
// a command is one of usage, or faults of a job.
type failure struct{ err error }

func (f failure) Error() string { return f.err.Error() }
func (f failure) Unwrap() error { return f.err }

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
	if errors.As(err, &faults) {
		fmt.Fprintln(errOut, faults.Error())
		return exitInput
	}
	fmt.Fprintf(errOut, "pincalc: %s\n", strings.Join(strings.Fields(err.Error()), " "))
	if errors.As(err, new(failure)) {
		return exitFailed
	}
	return exitInput
}

// extra are the commands that only some builds have.
var extra []func() *cobra.Command

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "pincalc",
		Short: "Where a crankshaft's sensor wheel puts injection",
		Long: `Reads a job file, which describes one engine and what was measured on it, and
prints or draws what follows. JOB is a .toml file, or "demo" for a job the program
carries with it.

Exit status: 0 done, 1 the work failed, 2 the input is wrong.`,
		Example: `  pincalc shift demo
  pincalc check engine.toml`,
		Version:                    pinphase.About().Version,
		SilenceUsage:               true,
		SilenceErrors:              true,
		SuggestionsMinimumDistance: 2,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return noCommand(cmd, args[0])
			}
			return nil
		},
		RunE: func(*cobra.Command, []string) error {
			return errors.New("which command? See pincalc --help")
		},
	}
	root.SetVersionTemplate("pincalc {{.Version}}\n")
	root.SetHelpCommand(helpCommand(root))
	root.AddCommand(phaseCommand(), shiftCommand(), partCommand(), lightCommand(), checkCommand(), drawCommand())
	root.AddCommand(gearsCommand(), causeCommand(), traceCommand(), signalCommand())
	for _, c := range extra {
		root.AddCommand(c())
	}
	root.AddCommand(sheetCommand(), exerciseCommand(), degreeWheelCommand(), tapeCommand())
	refineCompletion(root)
	return root
}

// refineCompletion makes the library's command for shell completion refuse a
// shell it does not know, and tell when its script cannot be written.
func refineCompletion(root *cobra.Command) {
	root.InitDefaultCompletionCmd("completion")
	completion, _, err := root.Find([]string{"completion"})
	if err != nil || completion == root {
		return
	}
	completion.Args = func(_ *cobra.Command, args []string) error {
		if len(args) > 0 {
			return fmt.Errorf("there is no completion for %q; there is for bash, zsh, fish and powershell", args[0])
		}
		return nil
	}
	completion.RunE = func(*cobra.Command, []string) error {
		return errors.New("completion for which shell? bash, zsh, fish or powershell")
	}
	for _, shell := range completion.Commands() {
		write := shell.RunE
		shell.RunE = func(cmd *cobra.Command, args []string) error {
			if err := write(cmd, args); err != nil {
				return failure{fmt.Errorf("printing: %w", reason(err))}
			}
			return nil
		}
	}
}

func noCommand(root *cobra.Command, name string) error {
	if like := root.SuggestionsFor(name); len(like) > 0 {
		return fmt.Errorf("there is no command %q; did you mean %s?", name, strings.Join(like, " or "))
	}
	return fmt.Errorf("there is no command %q; see pincalc --help", name)
}

// helpCommand is the library's own but for a command that does not exist, which
// is an error here.
func helpCommand(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:   "help [COMMAND]",
		Short: "Help about a command",
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			var names []string
			for _, c := range root.Commands() {
				if c.IsAvailableCommand() {
					names = append(names, c.Name())
				}
			}
			return names, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			about, rest, err := root.Find(args)
			if err != nil || len(rest) > 0 {
				return noCommand(root, strings.Join(args, " "))
			}
			about.InitDefaultHelpFlag()
			return about.Help()
		},
	}
}
