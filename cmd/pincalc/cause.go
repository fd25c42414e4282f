package main

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/finding"
)

func causeCommand() *cobra.Command {
	var asJSON, kinds *bool
	priors, minutes := numbers{"prior", map[string]float64{}}, numbers{"minutes", map[string]float64{}}
	cmd := jobCommand(manual{
		use: "cause JOB [--prior CAUSE=P] [--minutes CHECK=N] [--json]", short: "Which mistake explains what was seen, and what to check next",
		long: `Ranks what can be wrong by the job's evidence, says what speaks for and against
each cause, and lists the checks that would tell most for their labour.

Evidence is what stands in [[evidence]], and the dowel and keyway that were
measured against their drawings, a compression gauge's reading and gear teeth said
to be out. --kinds lists the kinds of evidence, with how each is weighed.`,
		example: `  pincalc cause demo
  pincalc cause engine.toml --prior "bad fuel=0.2" --minutes "measure the compression=30"
  pincalc cause demo --json
  pincalc cause demo --kinds`,
	}, func(out *bytes.Buffer, j opened) error {
		if *kinds {
			printKinds(out)
			return nil
		}
		c, err := finding.CausesOf(j.Job, finding.CauseOptions{Priors: priors.of, Minutes: minutes.of})
		if err != nil {
			return err
		}
		if *asJSON {
			return printJSON(out, newCauseJSON(c))
		}
		printCauses(out, c)
		return nil
	})
	asJSON = wantJSON(cmd)
	kinds = cmd.Flags().Bool("kinds", false, "list the kinds of evidence there are")
	cmd.Flags().Var(&priors, "prior", "how probable `CAUSE=P` is beforehand, from 0 to 1")
	cmd.Flags().Var(&minutes, "minutes", "how long `CHECK=N` takes")
	cmd.PreRunE = func(*cobra.Command, []string) error {
		return finding.CheckCauseOptions(finding.CauseOptions{Priors: priors.of, Minutes: minutes.of})
	}
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

func newCauseJSON(c finding.Causes) causeJSON { return causeJSON{c, c.Says.String(), texts(c.Notes)} }

// shownCauses is how many causes and checks are printed for people; a pair of
// faults only where it is at least so probable.
const (
	shownCauses = 8
	worthNaming = 0.05
)

func printCauses(out *bytes.Buffer, c finding.Causes) {
	fmt.Fprintf(out, "%s\n\n", c.Says)
	var rows [][]string
	left, leftPrior := 0.0, 0.0
	for _, k := range c.Causes {
		if len(rows) < shownCauses && (len(k.Meaning) == 1 || k.Probability >= worthNaming) {
			rows = append(rows, []string{k.Cause, percent(k.Probability), percent(k.Prior)})
			continue
		}
		left, leftPrior = left+k.Probability, leftPrior+k.Prior
	}
	rows = append(rows, []string{"anything else, or two at once", percent(left), percent(leftPrior)})
	table(out, []column{{"cause", false}, {"probability", true}, {"before evidence", true}}, rows)
	for i, k := range c.Causes {
		if i >= 3 || len(k.Reasons) == 0 || i > 0 && k.Probability < worthNaming {
			break
		}
		fmt.Fprintf(out, "\n%s\n", strings.ToUpper(k.Cause[:1])+k.Cause[1:])
		for _, m := range k.Meaning {
			fmt.Fprintf(out, "  %s\n", m)
		}
		for _, r := range k.Reasons {
			fmt.Fprintf(out, "  %s\n", r.Says)
		}
	}
	printChecks(out, c)
	printSentences(out, "To know", c.Notes)
	printCautions(out)
}

func printChecks(out *bytes.Buffer, c finding.Causes) {
	if len(c.Next) > 0 {
		fmt.Fprintln(out, "\nWhat to check next, the one that tells most in a minute first")
		var rows [][]string
		for i, n := range c.Next {
			if i < shownCauses {
				rows = append(rows, []string{n.Check, strconv.FormatFloat(n.Minutes, 'f', -1, 64), fmt.Sprintf("%.2f", n.GainBits), n.Tools})
			}
		}
		table(out, []column{{"check", false}, {"minutes", true}, {"bits", true}, {"tools", false}}, rows)
		fmt.Fprintln(out, "\nWhat the first would mean")
		rows = nil
		for _, o := range c.Next[0].Outcomes {
			rows = append(rows, []string{o.Shows, percent(o.Probability), o.Cause, percent(o.Then)})
		}
		table(out, []column{{"it shows", false}, {"as probable as", true}, {"then most probable", false}, {"", true}}, rows)
		for _, a := range c.Next[0].Cautions {
			fmt.Fprintf(out, "  %s\n", a)
		}
	}
	if len(c.Plan) > 0 {
		fmt.Fprintln(out, "\nA plan, if each check shows what is most probable")
		var rows [][]string
		for i, s := range c.Plan {
			rows = append(rows, []string{strconv.Itoa(i + 1), s.Check, strconv.FormatFloat(s.Minutes, 'f', -1, 64), s.Shows, s.Cause, percent(s.Then)})
		}
		table(out, []column{{"", true}, {"check", false}, {"minutes", true}, {"if it shows", false}, {"then most probable", false}, {"", true}}, rows)
	}
}

// printKinds prints the table of the kinds of evidence.
func printKinds(out *bytes.Buffer) {
	for _, k := range finding.EvidenceKinds() {
		fmt.Fprintf(out, "%s\n  %s; takes %s\n  weighed: %s\n  source: %s\n", k.Name, k.Title, k.Takes, k.Rule, k.Source)
	}
}
