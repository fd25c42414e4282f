package main

import (
	"bytes"
	"errors"
	"runtime/debug"
	"time"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/part/photo/picture"
	"pinphase.org/pinphase/timing/sheet"
)

// sheetFormats are the file endings a sheet can be written to.
var sheetFormats = []string{"pdf", "html"}

func (s *shell) sheetCommand() *cobra.Command {
	var out *output
	var claim, sign, outside, fill bool
	var on day
	paper := word{value: "a4", of: []string{"a4", "letter"}}
	var cmd *cobra.Command
	cmd = s.jobCommand(manual{
		use: "sheet JOB -o FILE [--claim | --sign-off] [--lines]", short: "Write the job sheet, or a claim to a supplier",
		long: `Writes the job down for paper, as a PDF or as one HTML file that needs nothing
beside it: the finding, the engine, what was measured and with what uncertainty, where
injection starts, the figures, fuel ignition, gears, causes and the checks to make next.

--claim writes a sheet for whoever supplied a part instead: drawing against measured,
the photograph with the angle drawn in, how it was measured, with what uncertainty, and
its effect on injection. It needs a dowel or keyway with both drawing and measured.

--sign-off writes a sheet after a repair instead: the part in the engine beside the one
with use = "before", with wheel error and start of injection, what was not checked, and
a place for a signature.

The same job and date give the same file. JPEG, PNG and WebP photographs are shown;
HEIC ones only by the desktop program. Pictures that lie outside the job's folder are
left out, for a job from somebody else may name a picture of yours that it has no
business with; --outside-pictures shows them.`,
		example: `  pincalc sheet demo -o tern.pdf
  pincalc sheet engine.toml -o engine.html --date 2026-03-31
  pincalc sheet engine.toml -o claim.pdf --claim --paper letter
  pincalc sheet engine.toml -o - --format html --lang de > engine.html`,
	}, func(_ *page, j opened) error {
		in := sheet.Input{Fill: fill, Job: j.asRead, Angles: j.Job, Photos: j.photos, Date: time.Time(on), Lang: s.lang.value, Say: s.voice().Say,
			Picture: sheet.Pictures{Folder: j.folder, Outside: outside, Time: pictureTime, Load: picture.Reader{Most: pictureMemory}.Load}.Read}
		// Garbage is collected before it doubles what the pictures take.
		defer debug.SetMemoryLimit(debug.SetMemoryLimit(pictureMemory))
		if !cmd.Flags().Changed("date") {
			in.Date = time.Now()
		}
		d, err := sheet.Document{}, error(nil)
		if sign {
			if d, err = sheet.SignOff(in); err != nil {
				return err
			}
		} else if claim {
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
		return s.writeSheet(out, out.file, d, p)
	})
	out = outputFlag(cmd, "the `FILE` to write", sheetFormats...)
	cmd.Flags().BoolVar(&claim, "claim", false, "a claim to a supplier in place of the job sheet")
	cmd.Flags().BoolVar(&sign, "sign-off", false, "before and after a repair, for a signature, in place of the job sheet")
	cmd.Flags().BoolVar(&fill, "lines", false, "lines to fill in by hand, for what the job does not say of the case")
	cmd.Flags().BoolVar(&outside, "outside-pictures", false, "show pictures that lie outside the job's folder too")
	cmd.Flags().Var(&paper, "paper", "the paper: a4 or letter")
	cmd.Flags().Var(&on, "date", "the sheet's date; today's when left out")
	complete(cmd, "paper", paper.of)
	s.options(cmd, optionLang)
	cmd.PreRunE = func(*cobra.Command, []string) error {
		if claim && sign {
			return errors.New("either --claim or --sign-off, not both")
		}
		if out.file == "" {
			return out.needed()
		}
		return out.check(s, out.file)
	}
	return cmd
}

// writeSheet writes a document in the format of a file's name.
func (s *shell) writeSheet(out *output, name string, d sheet.Document, p sheet.Paper) error {
	var b bytes.Buffer
	write := d.WritePDF
	if out.kind(name) == "html" {
		write = d.WriteHTML
	}
	if err := write(&b, p); err != nil {
		return err
	}
	return s.write(name, b.Bytes())
}

// What one picture of a sheet may take.
const (
	pictureMemory = 240 << 20 // bytes
	pictureTime   = 8 * time.Second
)
