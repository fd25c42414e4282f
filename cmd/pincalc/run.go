package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase"
	"pinphase.org/pinphase/timing/console"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
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

// misuse is an option that turns out to have no effect once a file has been read.
type misuse struct{ err error }

func (m misuse) Error() string { return m.err.Error() }
func (m misuse) Unwrap() error { return m.err }

// alreadyTold is an error whose words were written already.
type alreadyTold int

func (alreadyTold) Error() string { return "" }

// run is the whole program: it carries the command line out and returns the
// exit code.
func run(args []string, std streams) int {
	s := newShell(std)
	root := newRoot(s)
	root.SetArgs(args)
	root.SetIn(std.in)
	root.SetOut(s.said)
	root.SetErr(s.told)
	defer s.tidy()
	err := root.Execute()
	if last := s.said.Flush(); err == nil {
		err = printed(last)
	}
	code := s.tell(err)
	_ = s.told.Flush() // there is nowhere to say that it failed
	return code
}

// tell says what went wrong, a line for each fault, and returns the exit code.
func (s *shell) tell(err error) int {
	var faults job.Faults
	var code alreadyTold
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &code):
		return int(code)
	case errors.As(err, &faults):
		for _, f := range faults {
			fmt.Fprintln(s.told, s.fault(f))
		}
		return exitInput
	}
	words := err.Error()
	for _, u := range s.unpacked {
		words = strings.ReplaceAll(words, u.folder, u.name)
	}
	if p := phrase.From(err); errors.As(err, new(failure)) {
		words = strings.Replace(words, p.String(), s.voice().Say(p), 1)
	}
	fmt.Fprintf(s.told, "pincalc: %s\n", console.Line(strings.TrimSpace(words)))
	if errors.As(err, new(failure)) {
		return exitFailed
	}
	return exitInput
}

// fault is a fault as one line in the reader's language.
func (s *shell) fault(f job.Fault) string {
	if f.Says.Text != "" {
		f.Message = s.voice().Say(f.Says)
	}
	return console.Line(f.Error())
}

// extra are the commands that only some builds have.
var extra []func() *cobra.Command

func newRoot(s *shell) *cobra.Command {
	var version bool
	root := &cobra.Command{
		Use:   "pincalc",
		Short: "Where a crankshaft's sensor wheel puts injection",
		Long: `Reads a job file, which describes one engine and what was measured on it, and
prints or draws what follows. JOB is a .toml file, or "demo" for a job the program
carries with it (a file of that name is ./demo). "-" is standard input for JOB and
RECORDING, and standard output for -o; the pictures of a job that comes from standard
input are looked for in the current folder.

--json, --quiet and --lang CODE stand before the command or after it, where they mean
something; each command's help lists those it takes. --lang is for results and for
faults of a job; this help and errors of usage are in English.

Exit status: 0 done, 1 the work failed, 2 the input is wrong.`,
		Example: `  pincalc shift demo
  pincalc check engine.toml
  pincalc --lang de shift engine.toml`,
		SilenceUsage:               true,
		SilenceErrors:              true,
		SuggestionsMinimumDistance: 2,
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return noCommand(cmd, args[0])
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, _ []string) error {
			if version {
				return s.version()
			}
			return errors.New("which command? See pincalc --help")
		},
	}
	root.Flags().BoolVar(&version, "version", false, "print the version")
	root.SetFlagErrorFunc(flagError)
	root.SetHelpCommand(helpCommand(root))
	s.everywhere(root)
	onlyOnce(root.PersistentFlags())
	onlyOnce(root.Flags())
	for _, c := range s.commands() {
		onlyOnce(c.Flags())
		root.AddCommand(c)
	}
	refineCompletion(root)
	return root
}

func (s *shell) commands() []*cobra.Command {
	list := []*cobra.Command{
		s.phaseCommand(), s.shiftCommand(), s.partCommand(), s.lightCommand(), s.checkCommand(), s.drawCommand(),
		s.gearsCommand(), s.causeCommand(), s.traceCommand(), s.signalCommand(),
		s.sheetCommand(), s.exerciseCommand(), s.degreeWheelCommand(), s.tapeCommand(), s.templateCommand(), s.schemaCommand(), s.packCommand(), s.versionCommand(),
	}
	for _, c := range extra {
		list = append(list, c())
	}
	return list
}

func (s *shell) versionCommand() *cobra.Command {
	cmd := &cobra.Command{
		Use: "version [--json]", Short: "Print the version", DisableFlagsInUseLine: true,
		Example: `  pincalc version
  pincalc version --json`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 0 {
				return errors.New("version takes no arguments")
			}
			return nil
		},
		RunE: func(*cobra.Command, []string) error { return s.version() },
	}
	s.options(cmd, optionJSON)
	return cmd
}

type versionJSON struct {
	Version string `json:"version"`
}

func (s *shell) version() error {
	p := s.page()
	if s.json {
		if err := p.json(versionJSON{pinphase.About().Version}); err != nil {
			return err
		}
	} else {
		p.line("pincalc " + pinphase.About().Version)
	}
	return s.print(p)
}

// refineCompletion makes the library's command for shell completion refuse a
// shell it does not know, and tell when its script cannot be written.
func refineCompletion(root *cobra.Command) {
	root.InitDefaultCompletionCmd("completion")
	completion, _, err := root.Find([]string{"completion"})
	if err != nil || completion == root {
		return
	}
	completion.Example = `  pincalc completion bash > ~/.local/share/bash-completion/completions/pincalc`
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
			return printed(write(cmd, args))
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
		Example: `  pincalc help draw
  pincalc draw --help`,
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
