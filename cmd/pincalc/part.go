package main

import (
	"maps"
	"slices"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
)

func (s *shell) partCommand() *cobra.Command {
	cmd := s.jobCommand(manual{
		use: "part JOB [--json]", short: "What was measured on the crankshaft, and how surely",
		long: `Prints the angles of dowel and keyway, drawing against measured, positive in the
direction of rotation, with standard uncertainty and 95 % interval; what the part
is and how probable that is; and where the uncertainty comes from.`,
		example: `  pincalc part demo
  pincalc part engine.toml --json`,
	}, func(p *page, j opened) error {
		f, err := finding.PartOf(j.Job)
		if err != nil {
			return err
		}
		for _, key := range slices.Sorted(maps.Keys(j.photos)) {
			f.Notes = append(f.Notes, finding.PhotoNotes(j.photos[key])...)
		}
		f.Notes = append(f.Notes, finding.MirrorNotes(j.asRead, j.Job)...)
		remedy, _ := finding.RemedyOf(j.Job) // without both angles there is nothing to say
		if s.json {
			return p.json(partJSON{f, p.Say(f.Says), p.texts(f.Notes), remedy})
		}
		p.part(f)
		if remedy != nil {
			p.sentences("What now", remedy.Says)
			p.sentences("To ask of the supplier", remedy.Ask)
		}
		p.cautions()
		return nil
	})
	s.results(cmd)
	return cmd
}

type partJSON struct {
	finding.Part
	Finding string   `json:"finding"` // "" when nothing can be compared with a drawing
	Notes   []string `json:"notes"`

	Remedy *finding.Remedy `json:"remedy"` // null where nothing is to be put right
}

func (p *page) part(f finding.Part) {
	columns := []column{
		{"angle", false}, {"drawing", true}, {"measured", true}, {"standard uncertainty", true}, {"95 % interval", false},
	}
	var rows [][]string
	for _, a := range []struct {
		name  string
		angle *finding.FeatureAngle
	}{{p.Text("keyway to dowel"), f.Dowel}, {p.Text("No. 1 throw to keyway"), f.Keyway}} {
		if a.angle == nil {
			continue
		}
		interval := unknown
		if i := a.angle.Interval95Deg; i != nil {
			interval = p.with("{{.From}} to {{.To}}", map[string]any{"From": p.angle(i[0]), "To": p.angle(i[1])})
		}
		rows = append(rows, []string{a.name, p.maybeAngle(a.angle.DrawingDeg), p.maybeAngle(a.angle.MeasuredDeg), p.maybeAngle(a.angle.UDeg), interval})
	}
	p.table(columns, rows)
	p.blank()
	p.line(p.Text("Angles count positive in the direction of rotation."))
	if v := f.Verdict; v != nil {
		p.blank()
		p.line(p.Say(f.Says))
		p.line(p.with("As drawn {{.AsDrawn}}, mirrored {{.Mirrored}}, keyway wrong {{.Keyway}}, another error {{.Other}}.", map[string]any{
			"AsDrawn": p.percent(v.AsDrawn), "Mirrored": p.percent(v.Mirrored), "Keyway": p.percent(v.KeywayWrong), "Other": p.percent(v.OtherError)}))
	}
	p.budget(f)
	p.sentences("Remarks", f.Notes)
}

// budget prints where the uncertainty of each measured angle comes from.
func (p *page) budget(f finding.Part) {
	var rows [][]string
	for _, a := range []struct {
		section string
		angle   *finding.FeatureAngle
	}{{p.Text("dowel"), f.Dowel}, {p.Text("keyway"), f.Keyway}} {
		if a.angle == nil {
			continue
		}
		for _, s := range a.angle.Budget {
			unit := map[string]string{"deg": "°", "mm": " mm"}[s.Unit]
			rows = append(rows, []string{
				a.section, s.Reading, p.number(s.U, 3) + unit, p.number(s.ContributionDeg, 3) + "°", p.number(100*s.Share, 0) + " %",
			})
		}
	}
	if len(rows) == 0 || p.quiet {
		return
	}
	p.blank()
	p.line(p.Text("Where the uncertainty comes from"))
	p.table([]column{{"section", false}, {"reading", false}, {"± (standard)", true}, {"contribution", true}, {"share", true}}, rows)
}
