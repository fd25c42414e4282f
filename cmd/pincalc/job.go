package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
)

// manual is what a command's help says.
type manual struct{ use, short, long, example string }

// opened is the job a command works on: every angle that was measured on a
// photograph has been taken from it.
type opened struct {
	name string
	job.Job
	photos finding.Photos
}

// jobCommand is a command whose only argument is a job. What work prints
// appears only when all of it has gone well.
func jobCommand(m manual, work func(out *bytes.Buffer, j opened) error) *cobra.Command {
	return rawJobCommand(m, func(out *bytes.Buffer, name string, doc *job.Document) error {
		j, photos, err := finding.WithPhotos(doc.Job(), filepath.Dir(name), photo.InspectFile, 0)
		if err != nil {
			return err
		}
		return work(out, opened{name, j, photos})
	})
}

// measuredJob is a job as its file has it, beside the one whose photographs have
// been measured.
type measuredJob struct {
	opened
	asRead job.Job
}

// photoJobCommand is a job command that shows the photographs too, and prints
// nothing.
func photoJobCommand(m manual, work func(j measuredJob) error) *cobra.Command {
	return rawJobCommand(m, func(_ *bytes.Buffer, name string, doc *job.Document) error {
		j, photos, err := finding.WithPhotos(doc.Job(), filepath.Dir(name), photo.InspectFile, 0)
		if err != nil {
			return err
		}
		return work(measuredJob{opened{name, j, photos}, doc.Job()})
	})
}

// rawJobCommand is a command that works on the file as it is.
func rawJobCommand(m manual, work func(out *bytes.Buffer, name string, doc *job.Document) error) *cobra.Command {
	return &cobra.Command{
		Use:                   m.use,
		Short:                 m.short,
		Long:                  m.long,
		Example:               m.example,
		DisableFlagsInUseLine: true,
		Args: func(cmd *cobra.Command, args []string) error {
			switch {
			case len(args) == 0:
				return fmt.Errorf("%s needs a job file, or demo", cmd.Name())
			case len(args) > 1:
				return fmt.Errorf("%s takes one job, not %d arguments", cmd.Name(), len(args))
			}
			return nil
		},
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"toml"}, cobra.ShellCompDirectiveFilterFileExt
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			doc, err := openJob(args[0])
			if err != nil {
				return inFile(args[0], err)
			}
			var out bytes.Buffer
			if err := work(&out, args[0], doc); err != nil {
				return inFile(args[0], err)
			}
			if _, err := out.WriteTo(cmd.OutOrStdout()); err != nil {
				return failure{fmt.Errorf("printing: %w", reason(err))}
			}
			return nil
		},
	}
}

// openJob reads the named job; "demo" is the one the program carries with it.
func openJob(name string) (*job.Document, error) {
	if name == assets.DemoName {
		return job.Read(name, assets.DemoJob)
	}
	return job.ReadFile(name)
}

// inFile names the file in an error: in faults that were found after reading it,
// such as something a command needs and the job lacks, and in a failure to read
// it.
func inFile(name string, err error) error {
	var faults job.Faults
	if !errors.As(err, &faults) {
		if errors.As(err, new(failure)) {
			return err
		}
		return failure{fmt.Errorf("%s: %w", name, reason(err))}
	}
	named := append(job.Faults(nil), faults...)
	for i := range named {
		if named[i].File == "" {
			named[i].File = name
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
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

func checkCommand() *cobra.Command {
	return rawJobCommand(manual{
		use: "check JOB", short: "Say whether a job file is sound",
		long:    `Reads the job and reports every fault in it, one line each, with file, line and key.`,
		example: `  pincalc check engine.toml`,
	}, func(out *bytes.Buffer, name string, doc *job.Document) error {
		if faults := finding.CheckEvidence(doc.Job()); faults != nil {
			return faults
		}
		fmt.Fprintf(out, "%s: sound\n", name)
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
	e.SetEscapeHTML(false)
	return e.Encode(v)
}
