package main

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/part/photo/picture"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/timing/sheet"
	"pinphase.org/pinphase/timing/store"
)

// sheetFormats are the file endings a sheet can be written to.
var sheetFormats = []string{".pdf", ".html"}

func sheetCommand() *cobra.Command {
	var output string
	var claim bool
	var on day
	paper := word{value: "a4", of: []string{"a4", "letter"}}
	tongue := word{value: language.Codes[0], of: language.Codes}
	var cmd *cobra.Command
	cmd = photoJobCommand(manual{
		use: "sheet JOB -o FILE [--claim]", short: "Write the job sheet, or a claim to a supplier",
		long: `Writes the job down for paper, as a PDF or as one HTML file that needs nothing
beside it: the finding, the engine, what was measured and how surely, where injection
lands, the figures, light-off, gears, causes and the checks to make next.

--claim writes a sheet for whoever supplied a part instead: drawing against measured,
the photograph with the angle drawn in, how it was measured, how surely, and what it
does to injection. It needs a dowel or keyway with both drawing and measured.

The same job and date give the same file. JPEG, PNG and WebP photographs are shown;
HEIC ones only by the desktop program.`,
		example: `  pincalc sheet demo -o tern.pdf
  pincalc sheet engine.toml -o engine.html --date 2026-03-31
  pincalc sheet engine.toml -o claim.pdf --claim --paper letter`,
	}, func(j measuredJob) error {
		in := sheet.Input{Job: j.asRead, Angles: j.Job, Photos: j.photos, Date: time.Time(on), Lang: tongue.value, Say: language.New(tongue.value, quantity.Units{}).Say,
			Picture: func(file string) (image.Image, error) {
				img, _, err := picture.Reader{}.Load(inFolder(filepath.Dir(j.name), file), 0)
				if err != nil {
					return nil, err
				}
				return img, nil
			}}
		if !cmd.Flags().Changed("date") {
			in.Date = time.Now()
		}
		d, err := sheet.Document{}, error(nil)
		if claim {
			if d, err = sheet.ClaimSheet(in); err != nil {
				return err
			}
		} else {
			d = sheet.JobSheet(in)
		}
		p, err := sheet.PaperNamed(paper.value)
		if err != nil {
			return err
		}
		var b bytes.Buffer
		if strings.ToLower(filepath.Ext(output)) == ".html" {
			err = d.WriteHTML(&b, p)
		} else {
			err = d.WritePDF(&b, p)
		}
		if err != nil {
			return err
		}
		return writeOutput(output, b.Bytes())
	})
	cmd.Flags().StringVarP(&output, "output", "o", "", "the `FILE` to write: .pdf or .html")
	cmd.Flags().BoolVar(&claim, "claim", false, "a claim to a supplier in place of the job sheet")
	cmd.Flags().Var(&paper, "paper", "the paper: a4 or letter")
	cmd.Flags().Var(&on, "date", "the sheet's date; today's when left out")
	cmd.Flags().Var(&tongue, "lang", "the language: "+strings.Join(tongue.of, ", "))
	for flag, w := range map[string]word{"paper": paper, "lang": tongue} {
		// It fails only for a flag that is not there.
		_ = cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(w.of, cobra.ShellCompDirectiveNoFileComp))
	}
	cmd.PreRunE = func(*cobra.Command, []string) error {
		switch {
		case output == "":
			return errors.New("say where to: -o FILE.pdf or FILE.html")
		case !slices.Contains(sheetFormats, strings.ToLower(filepath.Ext(output))):
			return fmt.Errorf("%s: the file must end in .pdf or .html", output)
		}
		return nil
	}
	return cmd
}

// files are the system's, but in tests of what happens when they fail.
var files = store.System

// writeOutput writes a file, or replaces it once the new one is whole. What the new
// one could not keep of the old one is said on standard error.
func writeOutput(path string, data []byte) error {
	lost, err := store.Replace(files, path, data, 0o666)
	if err != nil {
		return failure{fmt.Errorf("%s: %w", path, reason(err))}
	}
	for _, l := range lost {
		fmt.Fprintf(os.Stderr, "%s: %s\n", path, l)
	}
	return nil
}

// inFolder is where a job in a folder finds a picture.
func inFolder(folder, file string) string {
	file = filepath.FromSlash(file)
	if filepath.IsAbs(file) {
		return file
	}
	return filepath.Join(folder, file)
}

// day is a flag that takes a date.
type day time.Time

func (d *day) String() string { return "" }
func (d *day) Type() string   { return "YYYY-MM-DD" }

func (d *day) Set(s string) error {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil || t.Year() < 1900 {
		return fmt.Errorf("%q is not a date such as 2026-03-31", s)
	}
	*d = day(t)
	return nil
}
