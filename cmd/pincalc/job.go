package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/packed"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/phrase"
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
	folder string  // where its pictures' names count from
	photos finding.Photos
}

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
	doc, folder, err := s.open(name)
	if err != nil {
		return inFile(name, nil, err)
	}
	j, photos, err := finding.WithPhotos(doc.Job(), folder, photo.InspectFile, 0)
	if err != nil {
		return inFile(name, doc, err)
	}
	p := s.page()
	if err := work(p, opened{j, doc.Job().Compared(), name, folder, photos}); err != nil {
		return inFile(name, doc, err)
	}
	return s.print(p)
}

func (s *shell) page() *page { return &page{Voice: s.voice(), quiet: s.quiet} }

// open reads the named job: "demo" is the one the program carries with it, "-"
// standard input. It may be packed. folder is where its pictures' names count from.
func (s *shell) open(name string) (doc *job.Document, folder string, err error) {
	if name == assets.DemoName {
		doc, err = job.Read(name, assets.DemoJob)
		return doc, ".", err
	}
	from, err := s.reader(name)
	if err != nil {
		return nil, "", err
	}
	defer from.Close()
	r := bufio.NewReader(from)
	if first, _ := r.Peek(4); packed.Is(first) { // an error comes again when it is read
		return s.unpack(shown(name), r)
	}
	doc, err = job.ReadFrom(shown(name), r)
	return doc, filepath.Dir(name), err
}

// reader opens the file of a job, or standard input.
func (s *shell) reader(name string) (io.ReadCloser, error) {
	switch {
	case name == standard:
		r, err := s.input("the job")
		if err != nil {
			return nil, err
		}
		return io.NopCloser(r), nil
	case isPassed(name):
		return os.Open(name)
	}
	f, err := regular.Open(name)
	if err != nil {
		return nil, phrase.Errorf("reading the job: %v", err)
	}
	return f, nil
}

// unpack reads a packed job. Its pictures lie in a folder of their own until the
// command has ended.
func (s *shell) unpack(name string, r io.Reader) (*job.Document, string, error) {
	data, err := io.ReadAll(io.LimitReader(r, packed.MaxBytes+1))
	if err != nil {
		return nil, "", err
	}
	folder, err := os.MkdirTemp("", "pinphase-")
	if err != nil {
		return nil, "", err
	}
	s.unpacked = append(s.unpacked, unpacked{name, folder})
	doc, err := packed.Open(name, data, folder)
	return doc, folder, err
}

// unpacked is a packed job and where its pictures lie.
type unpacked struct{ name, folder string }

// tidy removes what was unpacked.
func (s *shell) tidy() {
	for _, u := range s.unpacked {
		_ = os.RemoveAll(u.folder) // in the folder for what is temporary: it does not stay for ever
	}
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
			j := doc.Job()
			named[i].Line = doc.Line(j.KeyOf(named[i].Key))
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
