package main

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/console"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

func (s *shell) checkCommand() *cobra.Command {
	cmd := commandOf(manual{
		use: "check JOB... [--quiet] [--json]", short: "Say whether job files are sound",
		long: `Reads each job and reports every fault in it, one line each, with file, line and key.
--quiet says nothing of those that are sound.

With --json the faults are printed to standard output. The exit status is 2 when a
file has faults, else 1 when one cannot be read.`,
		example: `  pincalc check engine.toml
  pincalc check jobs/*.toml --quiet
  make-job | pincalc check - --json`,
	})
	cmd.Args = func(_ *cobra.Command, args []string) error {
		if len(args) == 0 {
			return errors.New("check needs a job file, or demo")
		}
		if first := slices.Index(args, standard); first >= 0 && slices.Contains(args[first+1:], standard) {
			return twice("a job", "another")
		}
		return nil
	}
	cmd.PreRunE = func(cmd *cobra.Command, _ []string) error {
		if s.json {
			return idle(cmd, "with --json", optionQuiet)
		}
		return nil
	}
	cmd.RunE = func(_ *cobra.Command, args []string) error { return s.check(args) }
	s.options(cmd, optionJSON, optionQuiet, optionLang)
	return cmd
}

// checkJSON is what is said of the files; fileJSON of one of them.
type checkJSON struct {
	Files []fileJSON `json:"files"`
}

type fileJSON struct {
	File   string      `json:"file"`
	Sound  bool        `json:"sound"`
	Error  *string     `json:"error"` // why it cannot be read; null when it can
	Faults []faultJSON `json:"faults"`
}

type faultJSON struct {
	Line    *int   `json:"line"` // null where no line is to blame
	Key     string `json:"key"`  // "" for the file itself
	Message string `json:"message"`
}

// check says of each file whether it is sound.
func (s *shell) check(names []string) error {
	p, all, worst := s.page(), checkJSON{}, error(nil)
	for _, name := range names {
		err := s.checkOne(name)
		var faults job.Faults
		isFaulty := errors.As(err, &faults)
		if err != nil && (worst == nil || isFaulty) {
			worst = err
		}
		if s.json {
			all.Files = append(all.Files, s.newFileJSON(name, faults, err))
			continue
		}
		switch {
		case err != nil:
			s.tell(err)
		case !s.quiet:
			p.line(fmt.Sprintf(p.Text("%s: sound"), shown(name)))
		}
	}
	if s.json {
		if err := p.json(all); err != nil {
			return err
		}
	}
	if err := s.print(p); err != nil {
		return err
	}
	switch {
	case worst == nil:
		return nil
	case errors.As(worst, new(job.Faults)):
		return alreadyTold(exitInput)
	}
	return alreadyTold(exitFailed)
}

func (s *shell) checkOne(name string) error {
	doc, _, err := s.open(name)
	if err != nil {
		return inFile(name, nil, err)
	}
	if faults := finding.CheckEvidence(doc.Job()); faults != nil {
		return inFile(name, doc, faults)
	}
	return nil
}

func (s *shell) newFileJSON(name string, faults job.Faults, err error) fileJSON {
	f := fileJSON{File: name, Sound: err == nil, Faults: []faultJSON{}}
	if err != nil && faults == nil {
		var failed failure
		if errors.As(err, &failed) {
			err = cmp.Or(errors.Unwrap(failed.err), err) // the name stands beside it
		}
		words := console.Line(s.voice().Say(phrase.From(err)))
		f.Error = &words
	}
	for _, k := range faults {
		one := faultJSON{Key: k.Key, Message: k.Message}
		if k.Says.Text != "" {
			one.Message = s.voice().Say(k.Says)
		}
		if k.Line > 0 {
			one.Line = &k.Line
		}
		f.Faults = append(f.Faults, one)
	}
	return f
}
