package main

import (
	"errors"
	"time"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/sheet"
)

func (s *shell) templateCommand() *cobra.Command {
	var out *output
	var in sheet.Scale
	var on day
	paper := word{value: "a4", of: []string{"a4", "letter"}}
	end := word{value: "nose", of: []string{"nose", "flywheel"}}
	var cmd *cobra.Command
	cmd = s.jobCommand(manual{
		use: "template JOB -o FILE.(pdf|dxf)", short: "Where to drill the dowel's hole anew, to true scale",
		long: `Writes where the dowel of a part that is wrong belongs, on the part as it was measured:
as a PDF whose millimetres are millimetres, with two rulers to check the printer by, or
as DXF R12 for a machine shop, the axis at the origin and the keyway up. It needs the
dowel's drawing (or old part), its measured angle, and how far it lies from the axis.

Read what is at risk before anything is drilled: pincalc part JOB.`,
		example: `  pincalc template demo -o hole.pdf
  pincalc template engine.toml -o hole.dxf --seen-from flywheel`,
	}, func(_ *page, j opened) error {
		in.From, _ = timing.ParseEnd(end.value) // a word of its list
		h, err := sheet.HoleOf(j.Job, in.From)
		if err != nil {
			return err
		}
		if out.kind(out.file) == "dxf" {
			return s.write(out.file, h.DXF())
		}
		in.Lang, in.Say, in.Date = s.lang.value, s.voice().Say, time.Time(on)
		if !cmd.Flags().Changed("date") {
			in.Date = time.Now()
		}
		p, err := sheet.PaperNamed(paper.value)
		if err != nil {
			return err
		}
		d, err := sheet.Template(in, h, p)
		if err != nil {
			return err
		}
		return s.writeSheet(out, out.file, d, p)
	})
	out = outputFlag(cmd, "the `FILE` to write", "pdf", "dxf")
	cmd.Flags().Var(number{&in.RulerMM, "millimetres", "N"}, "ruler-mm", "what the ruler of 150 mm measured when it was printed before")
	cmd.Flags().Var(&paper, "paper", "the paper: a4 or letter")
	cmd.Flags().Var(&end, "seen-from", "the end it is seen from: nose or flywheel")
	cmd.Flags().Var(&on, "date", "the date at its foot; today's when left out")
	complete(cmd, "paper", paper.of)
	complete(cmd, "seen-from", end.of)
	s.options(cmd, optionLang)
	cmd.PreRunE = func(*cobra.Command, []string) error {
		if out.file == "" {
			return out.needed()
		}
		if in.RulerMM == 0 && cmd.Flags().Changed("ruler-mm") {
			return errors.New("--ruler-mm 0: the ruler measured something")
		}
		return out.check(s, out.file)
	}
	return cmd
}
