package main

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/console"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/quantity"
)

// streams are where a command line reads and writes.
type streams struct {
	in          io.Reader
	out, errOut io.Writer
	// Whether they are terminals, on which a person looks.
	outIsTerminal, errIsTerminal bool
}

// shell is one command line being carried out: its streams and the options that
// most commands have.
type shell struct {
	streams
	// What is said goes through these, so that no character of a file, a name or an
	// option gives a terminal orders. Files alone go to streams.out.
	said, told *console.Writer

	now     func() time.Time
	inTaken string // by what standard input was read already
	json    bool
	quiet   bool
	lang    word

	unpacked []unpacked
}

func newShell(s streams) *shell {
	return &shell{
		streams: s, said: console.NewWriter(s.out), told: console.NewWriter(s.errOut), now: time.Now,
		lang: word{value: language.Codes[0], of: language.Codes},
	}
}

func (s *shell) voice() *language.Voice { return language.New(s.lang.value, quantity.Units{}) }

// standard is the name that stands for standard input or output, inputName how
// messages call the input.
const (
	standard  = "-"
	inputName = "standard input"
)

// input is standard input for one purpose; it can be read but once.
func (s *shell) input(what string) (io.Reader, error) {
	if s.inTaken != "" {
		return nil, twice(s.inTaken, what)
	}
	s.inTaken = what
	return s.in, nil
}

func twice(a, b string) error {
	return fmt.Errorf("%s and %s cannot both come from standard input", a, b)
}

// The options that stand before a command or after it, where they mean something.
const (
	optionJSON  = "json"
	optionQuiet = "quiet"
	optionLang  = "lang"
)

// usage of the options, for each command's help.
var optionUsage = map[string]string{
	optionJSON:  "print JSON for programs",
	optionQuiet: "print the answer alone, without notes, steps and cautions",
	optionLang:  "the language: " + strings.Join(language.Codes, ", "),
}

// options adds those of the common options that mean something to a command.
func (s *shell) options(cmd *cobra.Command, names ...string) {
	for _, name := range names {
		switch name {
		case optionJSON:
			cmd.Flags().BoolVar(&s.json, name, false, optionUsage[name])
		case optionQuiet:
			cmd.Flags().BoolVar(&s.quiet, name, false, optionUsage[name])
		case optionLang:
			cmd.Flags().Var(&s.lang, name, optionUsage[name])
			complete(cmd, name, s.lang.of)
		}
	}
}

// everywhere gives the program itself the common options, so that they can stand
// before a command too. A command that has one of its own takes it; for any other
// it is an error.
func (s *shell) everywhere(root *cobra.Command) {
	all := root.PersistentFlags()
	all.BoolVar(&s.json, optionJSON, false, optionUsage[optionJSON])
	all.BoolVar(&s.quiet, optionQuiet, false, optionUsage[optionQuiet])
	all.Var(&s.lang, optionLang, optionUsage[optionLang])
	complete(root, optionLang, s.lang.of)
	for name := range optionUsage {
		all.Lookup(name).Hidden = true // each command's help shows those it takes
	}
	root.PersistentPreRunE = func(cmd *cobra.Command, _ []string) error {
		for _, name := range []string{optionJSON, optionQuiet, optionLang} {
			if f := all.Lookup(name); f.Changed && cmd.Flags().Lookup(name) == f {
				return noEffect(name, "with "+cmd.Name())
			}
		}
		return nil
	}
}

func noEffect(option, when string) error {
	return fmt.Errorf("--%s has no effect %s; leave it out", option, when)
}

// idle returns an error for the first of some options that was given although it
// has no effect.
func idle(cmd *cobra.Command, when string, options ...string) error {
	for _, o := range options {
		if f := cmd.Flags().Lookup(o); f != nil && f.Changed {
			return noEffect(o, when)
		}
	}
	return nil
}

// complete lets the user's shell complete an option that takes one of some words.
func complete(cmd *cobra.Command, option string, words []string) {
	// It fails only for an option that is not there.
	_ = cmd.RegisterFlagCompletionFunc(option, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp))
}

// print hands a page on, which is whole by then.
func (s *shell) print(p *page) error {
	_, err := p.out.WriteTo(s.said)
	return printed(err)
}

// printed is an error of standard output as one of the work.
func printed(err error) error {
	if err != nil {
		return failure{fmt.Errorf("printing: %w", reason(err))}
	}
	return nil
}

var errTerminal = errors.New("standard output is a terminal, and -o - writes a file to it: send it on with > or |")

// progress tells on standard error how far the reading of a file is, where a person
// looks at it: read is told the bytes so far, done takes the line away. size is 0
// where it is not known.
func (s *shell) progress(size int64) (read func(int64), done func()) {
	if !s.errIsTerminal || s.quiet {
		return nil, func() {}
	}
	const patience, often = 300 * time.Millisecond, 100 * time.Millisecond
	v, next, wide := s.voice(), s.now().Add(patience), 0
	show := func(line string) {
		// Only our own words and numbers stand in it, so it may go to the start of the
		// line, as nothing else may.
		n := len([]rune(line))
		fmt.Fprintf(s.errOut, "\r%s%s\r", line, strings.Repeat(" ", max(0, wide-n)))
		wide = n
	}
	read = func(bytes int64) {
		now := s.now()
		if now.Before(next) {
			return
		}
		next = now.Add(often)
		if size > 0 {
			show(fmt.Sprintf(v.Text("reading: %d %%"), min(100, 100*bytes/size)))
			return
		}
		show(fmt.Sprintf(v.Text("reading: %d MB"), bytes/1e6))
	}
	return read, func() {
		if wide > 0 {
			show("")
		}
	}
}

// results adds the options of a command that prints a result: a sentence, tables and
// what stands beside them.
func (s *shell) results(cmd *cobra.Command) {
	s.options(cmd, optionJSON, optionQuiet, optionLang)
	before := cmd.PreRunE
	cmd.PreRunE = func(cmd *cobra.Command, args []string) error {
		if s.json {
			if err := idle(cmd, "with --json", optionQuiet); err != nil {
				return err
			}
		}
		if before == nil {
			return nil
		}
		return before(cmd, args)
	}
}
