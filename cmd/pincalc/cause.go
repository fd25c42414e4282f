package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
)

func (s *shell) causeCommand() *cobra.Command {
	var kinds bool
	priors, minutes := numbers{"prior", map[string]float64{}}, numbers{"minutes", map[string]float64{}}
	cmd := s.jobCommand(manual{
		use: "cause JOB [--prior CAUSE=P] [--minutes CHECK=N] [--json]", short: "Which mistake explains what was seen, and what to check next",
		long: `Ranks what can be wrong by the job's evidence, says what speaks for and against
each cause, and lists the checks that would tell most for their labour.

Evidence is what stands in [[evidence]], and the dowel and keyway that were
measured against their drawings, a compression gauge's reading and gear teeth said
to be out. --kinds, without a job, lists the kinds of evidence and how each is weighed.`,
		example: `  pincalc cause demo
  pincalc cause engine.toml --prior "bad fuel=0.2" --minutes "measure the compression=30"
  pincalc cause demo --json
  pincalc cause --kinds`,
	}, func(p *page, j opened) error {
		c, err := finding.CausesOf(j.Job, finding.CauseOptions{Priors: priors.of, Minutes: minutes.of})
		switch {
		case err != nil:
			return err
		case s.json:
			return p.json(causeJSON{c, p.answer(c), p.texts(c.Notes)})
		}
		p.causes(c)
		return nil
	})
	cmd.Flags().BoolVar(&kinds, "kinds", false, "list the kinds of evidence there are")
	cmd.Flags().Var(&priors, "prior", "how probable `CAUSE=P` is beforehand, from 0 to 1")
	cmd.Flags().Var(&minutes, "minutes", "how long `CHECK=N` takes")
	needsJob, run := cmd.Args, cmd.RunE
	cmd.Args = func(cmd *cobra.Command, args []string) error {
		switch {
		case !kinds:
			return needsJob(cmd, args)
		case len(args) > 0:
			return errors.New("--kinds lists the same for every job; leave the job out")
		}
		return nil
	}
	cmd.RunE = func(cmd *cobra.Command, args []string) error {
		if kinds {
			return s.kinds()
		}
		return run(cmd, args)
	}
	cmd.PreRunE = func(*cobra.Command, []string) error {
		if kinds {
			return idle(cmd, "with --kinds", "prior", "minutes", optionQuiet, optionLang)
		}
		return finding.CheckCauseOptions(finding.CauseOptions{Priors: priors.of, Minutes: minutes.of})
	}
	s.results(cmd)
	return cmd
}

// numbers is a flag that can be given more than once, each time a name and its
// number.
type numbers struct {
	what string
	of   map[string]float64
}

func (n *numbers) String() string { return "" }
func (n *numbers) Type() string   { return "NAME=NUMBER" }

func (n *numbers) Set(s string) error {
	name, text, ok := strings.Cut(s, "=")
	v, err := finding.ParseNumber(text)
	if !ok || err != nil {
		return fmt.Errorf("%q is not a name, an equals sign and a number", s)
	}
	name = strings.TrimSpace(name)
	if _, ok := n.of[name]; ok {
		return fmt.Errorf("%q is given twice", name)
	}
	n.of[name] = v
	return nil
}

// causeJSON adds the sentences to the result's own fields.
type causeJSON struct {
	finding.Causes
	Finding string   `json:"finding"`
	Notes   []string `json:"notes"`
}

// shownCauses is how many causes and checks are printed for people; a pair of
// faults only where it is at least so probable.
const (
	shownCauses = 8
	worthNaming = 0.05
)

// answer is what the evidence comes to.
func (p *page) answer(c finding.Causes) string {
	return strings.Join(p.texts(c.Answer()), " ")
}

func (p *page) causes(c finding.Causes) {
	p.line(p.answer(c))
	p.blank()
	var rows [][]string
	left, leftPrior := 0.0, 0.0
	for _, k := range c.Causes {
		if len(rows) < shownCauses && (len(k.Meaning) == 1 || k.Probability >= worthNaming) {
			all := p.percent(k.InAll)
			if len(k.Meaning) > 1 {
				all = ""
			}
			rows = append(rows, []string{p.cause(k.Cause), p.percent(k.Probability), all, p.percent(k.Prior)})
			continue
		}
		left, leftPrior = left+k.Probability, leftPrior+k.Prior
	}
	rows = append(rows, []string{p.cause(""), p.percent(left), "", p.percent(leftPrior)})
	p.table([]column{{"cause", false}, {"alone", true}, {"alone or with another", true}, {"before evidence", true}}, rows)
	if p.quiet {
		return
	}
	for i, k := range c.Causes {
		if i >= 3 || len(k.Reasons) == 0 || i > 0 && k.Probability < worthNaming {
			break
		}
		p.blank()
		p.line(upper(p.cause(k.Cause)))
		for _, m := range k.Meaning {
			p.line("  " + p.Say(m))
		}
		for _, r := range k.ByStrength() {
			p.line("  " + p.Say(r.Says))
		}
	}
	p.checks(c)
	p.plan(c)
	p.sentences("Remarks", c.Notes)
	p.cautions()
}

// upper begins a line with a capital.
func upper(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// cause names a cause, two of them at once, or with "" all others.
func (p *page) cause(name string) string { return p.Say(finding.CauseTitle(name)) }

// minutes are shown as they are kept.
func (p *page) minutes(v float64) string { return p.number(v, 6) }

func (p *page) checks(c finding.Causes) {
	if len(c.Next) == 0 {
		return
	}
	p.blank()
	p.line(p.Text("What to check next; most information per minute first"))
	var rows [][]string
	for i, n := range c.Next {
		if i < shownCauses {
			rows = append(rows, []string{p.Text(n.Title), p.minutes(n.Minutes), p.fixed(n.GainBits, 2), p.Text(n.Tools)})
		}
	}
	p.table([]column{{"check", false}, {"minutes", true}, {"bits", true}, {"tools", false}}, rows)
	p.blank()
	p.line(p.Text("What each outcome of the first would mean"))
	rows = nil
	for _, o := range c.Next[0].Outcomes {
		rows = append(rows, []string{p.shows(o.Says), p.percent(o.Probability), p.cause(o.Cause), p.percent(o.Then)})
	}
	p.table([]column{{"it shows", false}, {"probability of that", true}, {"then most probable", false}, {"", true}}, rows)
	for _, a := range c.Next[0].Cautions {
		p.line("  " + p.Text(a))
	}
}

func (p *page) plan(c finding.Causes) {
	if len(c.Plan) == 0 {
		return
	}
	p.blank()
	p.line(p.Say(c.PlanSays))
	var rows [][]string
	for i, s := range c.Plan {
		rows = append(rows, []string{strconv.Itoa(i + 1), p.Text(s.Title), p.minutes(s.Minutes), p.shows(s.Says), p.cause(s.Cause), p.percent(s.Then)})
	}
	p.table([]column{{"", true}, {"check", false}, {"minutes", true}, {"if it shows", false}, {"then most probable", false}, {"", true}}, rows)
}

// shows is what a check shows: a sentence for each kind of evidence.
func (p *page) shows(says []phrase.Sentence) string { return strings.Join(p.texts(says), "; ") }

// kindJSON is a kind of evidence.
type kindJSON struct {
	Name   string `json:"kind"`
	Title  string `json:"title"`
	Takes  string `json:"takes"`
	Rule   string `json:"rule"`
	Source string `json:"source"`
}

type kindsJSON struct {
	Kinds []kindJSON `json:"kinds"`
}

// kinds prints the kinds of evidence, a table for looking up and in English.
func (s *shell) kinds() error {
	p, all := s.page(), []kindJSON{}
	for _, k := range finding.EvidenceKinds() {
		all = append(all, kindJSON(k))
	}
	if s.json {
		if err := p.json(kindsJSON{all}); err != nil {
			return err
		}
		return s.print(p)
	}
	for _, k := range all {
		fmt.Fprintf(&p.out, "%s\n  %s; takes %s\n  weighed: %s\n  source: %s\n", k.Name, k.Title, k.Takes, k.Rule, k.Source)
	}
	return s.print(p)
}
