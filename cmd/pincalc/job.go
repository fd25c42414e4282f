package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/regular"
)

// manual is what a command's help says.
type manual struct{ use, short, long, example string }

// opened is the job a command works on: every angle that was measured on a
// photograph has been taken from it.
type opened struct {
	job.Job
	asRead job.Job // before that
	name   string  // of the file; that of standard input is "-"
	photos finding.Photos
}

// folder is where the pictures' names count from.
func (o opened) folder() string { return filepath.Dir(o.name) }

// jobCommand is a command that works on a job. What work prints appears only when
// all of it has gone well.
func (s *shell) jobCommand(m manual, work func(p *page, j opened) error) *cobra.Command {
	cmd := commandOf(m)
	cmd.Args = func(cmd *cobra.Command, args []string) error {
		switch {
		case len(args) == 0:
			return fmt.Errorf("%s needs a job file, or demo", cmd.Name())
		case len(args) > 1:
			return fmt.Errorf("%s takes one job, not %d arguments", cmd.Name(), len(args))
		}
		return nil
	}
	cmd.RunE = func(_ *cobra.Command, args []string) error { return s.onJob(args[0], work) }
	return cmd
}

// commandOf is a command as its manual has it; the shell completes jobs.
func commandOf(m manual) *cobra.Command {
	return &cobra.Command{
		Use: m.use, Short: m.short, Long: m.long, Example: m.example,
		DisableFlagsInUseLine: true,
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
}

// onJob does the work of a command on a job and prints its page.
func (s *shell) onJob(name string, work func(p *page, j opened) error) error {
	doc, err := s.open(name)
	if err != nil {
		return inFile(name, nil, err)
	}
	j, photos, err := finding.WithPhotos(doc.Job(), filepath.Dir(name), photo.InspectFile, 0)
	if err != nil {
		return inFile(name, doc, err)
	}
	p := s.page()
	if err := work(p, opened{j, doc.Job(), name, photos}); err != nil {
		return inFile(name, doc, err)
	}
	return s.print(p)
}

func (s *shell) page() *page { return &page{Voice: s.voice(), quiet: s.quiet} }

// open reads the named job: "demo" is the one the program carries with it, "-"
// standard input.
func (s *shell) open(name string) (*job.Document, error) {
	switch {
	case name == assets.DemoName:
		return job.Read(name, assets.DemoJob)
	case name == standard:
		r, err := s.input("the job")
		if err != nil {
			return nil, err
		}
		return job.ReadFrom(inputName, r)
	case isPassed(name):
		f, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		defer f.Close()
		return job.ReadFrom(name, f)
	}
	return job.ReadFile(name)
}

// passed are the names under which a shell hands an open file or pipe on, as in
// pincalc check <(make-job): what was handed on may be read, pipe or not.
var passed = regexp.MustCompile(`^/(?:dev/stdin|dev/fd/\d+|proc/self/fd/\d+)$`)

func isPassed(name string) bool { return passed.MatchString(name) }

// shown is how messages call a file that was named.
func shown(name string) string {
	if name == standard {
		return inputName
	}
	return name
}

// inFile names the file in an error: in faults that were found after reading it,
// such as something a command needs and the job lacks, which then get the line they
// are about, and in a failure to read it.
func inFile(name string, doc *job.Document, err error) error {
	var faults job.Faults
	if !errors.As(err, &faults) {
		if errors.As(err, new(failure)) || errors.As(err, new(misuse)) {
			return err
		}
		return failure{fmt.Errorf("%s: %w", shown(name), reason(err))}
	}
	named := append(job.Faults(nil), faults...)
	for i := range named {
		if named[i].File == "" {
			named[i].File = shown(name)
		}
		if named[i].Line == 0 && doc != nil {
			named[i].Line = doc.Line(named[i].Key)
		}
	}
	return named
}

// reason is what went wrong with a file, without the system call and the
// temporary name that its user has not heard of.
func reason(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.Is(err, regular.ErrNotFile):
		return regular.ErrNotFile
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// json prints a value for programs.
func (p *page) json(v any) error {
	e := json.NewEncoder(&p.out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
