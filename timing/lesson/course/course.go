// Package course is a course in short steps: a few sentences each, and something to do on
// a figure that is checked.
//
// A step is data. Its folder has step.toml, which names the engine, the figures and the
// aim, and a file of words for each language: title, text, task, hint and reason. A new
// folder is a new step; the order is that of the names.
//
// # Choices
//
// An aim names a rule ("firing_tdc", "paired") and not the numbers that satisfy it: those
// come from the packages that know them, so that course and program cannot disagree. The
// author writes beside it the answer that he expects, which is also where "Show me" puts
// the figure; a test holds the two to each other.
package course

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"strings"

	"github.com/pelletier/go-toml/v2"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson"
)

// Step is one step of the course.
type Step struct {
	Name    string // of its folder; progress is kept under it
	Job     job.Job
	Figures []string // one or two, as in chart.Names, or "dial"
	Start   float64  // of what is moved, when the step begins
	Aim     Aim
	Dial    *lesson.Dial  // of a "dial"
	Leads   []lesson.Kind // what can be practised after it
	Words   Words
}

// Words are what a step says.
type Words struct {
	Title  string `toml:"title"`
	Text   string `toml:"text"`   // paragraphs, an empty line between
	Task   string `toml:"task"`   // what is to be done
	Hint   string `toml:"hint"`   // before the answer
	Reason string `toml:"reason"` // after it
}

// Moves is what a step has the learner move.
type Moves string

// What can be moved: the crankshaft, the dowel round the keyway, a mark on the degree
// wheel; or a cylinder is chosen.
const (
	Crank    Moves = "crank"
	Dowel    Moves = "dowel"
	Mark     Moves = "mark"
	Cylinder Moves = "cylinder"
)

// file is a step.toml.
type file struct {
	Job     string      `toml:"job"`
	Figures []string    `toml:"figures"`
	Start   float64     `toml:"start"`
	Leads   []string    `toml:"leads"`
	Dial    *[2]float64 `toml:"dial"` // what the degree wheel reads at the stop, one way and the other
	Aim     Aim         `toml:"aim"`
}

// Read reads the course in a language from a folder of steps. An error names the file.
func Read(folder fs.FS, language string) ([]Step, error) {
	list, err := fs.ReadDir(folder, ".")
	if err != nil {
		return nil, err
	}
	var steps []Step
	for _, entry := range list {
		if !entry.IsDir() || entry.Name() == jobs {
			continue
		}
		s, err := read(folder, entry.Name(), language)
		if err != nil {
			return nil, err
		}
		steps = append(steps, s)
	}
	return steps, nil
}

// jobs is the folder of the engines.
const jobs = "jobs"

func read(folder fs.FS, name, language string) (Step, error) {
	var f file
	s := Step{Name: name}
	at := path.Join(name, "step.toml")
	if err := decode(folder, at, &f); err != nil {
		return s, err
	}
	if err := decode(folder, path.Join(name, language+".toml"), &s.Words); err != nil {
		return s, err
	}
	engine := path.Join(jobs, f.Job+".toml")
	data, err := fs.ReadFile(folder, engine)
	if err != nil {
		return s, fmt.Errorf("%s: %w", at, err)
	}
	doc, err := job.Read(engine, data)
	if err != nil {
		return s, err
	}
	s.Job, s.Figures, s.Start, s.Aim = doc.Job(), f.Figures, f.Start, f.Aim
	for _, name := range f.Leads {
		k, ok := lesson.ParseKind(name)
		if !ok {
			return s, fmt.Errorf("%s: leads: there is no kind of question %q", at, name)
		}
		s.Leads = append(s.Leads, k)
	}
	if d := f.Dial; d != nil {
		first, second := timing.Deg(d[0]), timing.Deg(d[1])
		s.Dial = &lesson.Dial{First: first, Second: second, TDC: timing.Wrap(first+timing.Difference(first, second, timing.Turn)/2, timing.Turn)}
	}
	if err := s.check(); err != nil {
		return s, fmt.Errorf("%s: %w", at, err)
	}
	return s, nil
}

func decode(folder fs.FS, name string, into any) error {
	data, err := fs.ReadFile(folder, name)
	if err != nil {
		return err
	}
	d := toml.NewDecoder(strings.NewReader(string(data)))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// figures are those that a step can show.
var figures = []string{"cycle", "engine", "wheel", "gears", "signals", "dial"}

// check says what is wrong with a step.
func (s Step) check() error {
	if n := len(s.Figures); n < 1 || n > 2 {
		return fmt.Errorf("figures: %d of them; there must be one or two", n)
	}
	for _, name := range s.Figures {
		if !slices.Contains(figures, name) {
			return fmt.Errorf("figures: there is no figure %q here; there are %s", name, strings.Join(figures, ", "))
		}
	}
	for _, w := range []string{s.Words.Title, s.Words.Text, s.Words.Task, s.Words.Hint, s.Words.Reason} {
		if strings.TrimSpace(w) == "" {
			return fmt.Errorf("title, text, task, hint and reason: all five are needed in each language")
		}
	}
	e, err := finding.EngineOf(s.Job)
	if err != nil {
		return err
	}
	if c := s.Aim.Cylinder; c < 0 || c > e.Cylinders() {
		return fmt.Errorf("aim: there is no cylinder %d", c)
	}
	if _, ok := rules[s.Aim.Rule]; !ok {
		return fmt.Errorf("aim: there is no rule %q", s.Aim.Rule)
	}
	return s.checkNeeds()
}

// checkNeeds says what a figure or the rule needs and the step does not give.
func (s Step) checkNeeds() error {
	rule := s.Aim.Rule
	if s.Dial == nil && (slices.Contains(s.Figures, "dial") || s.Moves() == Mark) {
		return fmt.Errorf("dial: is missing; give what the degree wheel reads at the stop, one way and the other")
	}
	if slices.Contains(s.Figures, "gears") || rule == "marks" {
		if _, err := finding.TrainOf(s.Job); err != nil {
			return err
		}
	}
	switch rule {
	case "stroke":
		if _, ok := timing.ParseStroke(s.Aim.Stroke); !ok {
			return fmt.Errorf("aim: there is no stroke %q; give power, exhaust, intake or compression", s.Aim.Stroke)
		}
	case "next", "paired":
		if s.Aim.Cylinder < 1 {
			return fmt.Errorf("aim: cylinder is missing; rule %q starts from one", rule)
		}
	case "injection":
		shift, err := finding.ShiftOf(s.Job)
		if err != nil {
			return err
		}
		if n := len(shift.Injections); max(s.Aim.Cylinder, 1) > n {
			return fmt.Errorf("aim: cylinder %d has no injection; %d have one", max(s.Aim.Cylinder, 1), n)
		}
	}
	return nil
}

// Moves is what the learner moves in the step.
func (s Step) Moves() Moves { return rules[s.Aim.Rule].moves }

// Shown is the step's job as the figures show it where the learner has moved something
// to: with the dowel turned, if that is what is moved.
func (s Step) Shown(at float64) job.Job {
	if s.Moves() == Dowel {
		return finding.Suppose(s.Job, finding.WhatIf{WheelErrorDeg: &at})
	}
	return s.Job
}
