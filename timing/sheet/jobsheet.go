package sheet

import (
	"context"
	"errors"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// JobSheet writes down what is known of an engine: the finding, the readings it
// rests on, the figures, and what to check next. Every sound job has one; what the
// job does not say is left out.
func JobSheet(in Input) Document {
	m := newMaker(in, wordJobSheet)
	if l, err := finding.LightOf(m.Angles, finding.LightOptions{}); err == nil {
		if drawn, err := l.Drawn(context.Background(), lightDraws, lightSeed); err == nil {
			l = drawn
		}
		m.lightOff = &l
	}
	if c, err := finding.CausesOf(m.Angles, finding.CauseOptions{}); err == nil {
		m.ranked = &c
	} else {
		m.unranked = err
	}
	m.letterhead()
	m.add(Heading{m.doc.Title, 1})
	m.findings()
	if notes := clean(in.Job.Notes); notes != "" {
		m.section(wordNotes)
		m.add(Paragraph{Text: notes})
	}
	m.identify(wordCaseTitle, wordCustomer, wordMachine, wordEngineSerial, wordHours, wordMeasuredBy)
	m.section(wordEngine)
	m.add(m.engine())
	m.known()
	m.measured()
	m.whatNow(false)
	m.tdcs()
	m.injection()
	m.light()
	m.gears()
	m.causes()
	m.section(wordCautions)
	m.add(m.cautions(finding.Cautions))
	return *m.doc
}

// findings say in a few sentences what it all comes to.
func (m maker) findings() {
	var says []string
	if s, err := finding.ShiftOf(m.Angles); err == nil {
		says = append(says, m.Say.Sentence(s.Says))
	} else {
		says = append(says, m.lacking(err))
	}
	if p, err := finding.PartOf(m.Angles); err == nil && p.Verdict != nil {
		says = append(says, m.Say.Sentence(p.Says))
	}
	m.section(wordFinding)
	m.add(Paragraph{says[0], Lead})
	if len(says) > 1 {
		m.add(Paragraph{Text: says[1]})
	}
	if m.lightOff != nil {
		m.add(Paragraph{Text: m.Say.Sentence(m.lightOff.Says)})
	}
	switch c := m.ranked; {
	case c == nil:
		m.add(Paragraph{Text: m.text(wordUnranked)})
	case len(c.Evidence) > 0:
		m.add(Paragraph{Text: m.together(c.Answer())})
	}
}

// lacking says what in the job keeps injection from being worked out.
func (m maker) lacking(err error) string {
	var faults job.Faults
	if !errors.As(err, &faults) {
		return m.Say.Sentence(phrase.From(err))
	}
	var keys []string
	for _, f := range faults {
		if !slices.Contains(keys, f.Key) {
			keys = append(keys, f.Key)
		}
	}
	return m.with(wordNoShift, map[string]any{"Keys": strings.Join(keys, ", ")})
}

// injection is where every cylinder's lands, with the figures of cycle and wheel.
func (m maker) injection() {
	m.section(wordInjection)
	s, err := finding.ShiftOf(m.Angles)
	if err == nil {
		m.add(m.injections(s))
	}
	m.figure("cycle", m.cycleHeight())
	m.figure("wheel", 262)
	if err == nil {
		m.sentences(wordReached, s.Steps)
	}
	m.figure("signals", 250)
}

func (m maker) injections(s finding.Shift) Table {
	t := Table{Columns: []Column{m.column(wordCylinder, true), m.column(wordAsked, true), m.column(wordHappens, true), m.column(wordCrankAt, true),
		m.column(wordStroke, false), m.column(wordDown, true)}}
	for _, i := range s.Injections {
		t.Rows = append(t.Rows, []string{
			strconv.Itoa(i.Cylinder), m.Say.BTDC(i.CommandedBTDCDeg), m.Say.BTDC(i.ActualBTDCDeg), m.with(wordDegrees, map[string]any{"Value": finding.Beside(i.ActualCrankDeg, 1)}),
			m.text(i.StrokeText()), m.maybeAmount(quantity.Length, i.PistonMM, 1)})
	}
	return t
}

// figure adds one of the job's figures at the full width, if the job has it.
func (m maker) figure(name string, height float64) {
	if !slices.Contains(chart.Names, name) {
		return
	}
	d, err := chart.Drawing(name, m.Angles, chart.Options{Box: figure.Box{W: Width, H: height}, Bare: true, From: m.seenFrom(), Say: m.Say, Units: m.Units, Part: chart.PartOptions{Bare: m.signless}})
	if err != nil || len(d.Shapes) == 0 {
		return
	}
	caption := captions[name]
	if name == "part" && m.Job.MeasuredDatum() != nil {
		caption = captionOldPart
	}
	m.add(Figure{Name: name, Drawing: d, Caption: m.text(caption)})
}

// cycleHeight gives each cylinder's row room for its words.
func (m maker) cycleHeight() float64 {
	return min(90+22*float64(len(m.Job.Engine.FiringOrder)), 560)
}

// Draws of the light-off's probabilities, and their seed: the same sheet each
// time, to half a per cent.
const (
	lightDraws = 10_000
	lightSeed  = 1
)

func (m maker) light() {
	if m.lightOff == nil {
		return
	}
	l := *m.lightOff
	m.section(wordLight)
	m.add(Paragraph{Text: m.Say.Sentence(l.Says)})
	t := Table{Columns: []Column{m.column(wordCase, false), m.column(wordStarts, true), m.column(wordGas, true), m.column(wordPressure, true),
		m.column(wordLights, true), m.column(wordWaits, true), m.column(wordProbability, true)}}
	for i, c := range l.Cases {
		lights, p := m.text(wordDark), m.text(wordUnknown)
		if c.LightsAt != nil {
			lights = m.Say.BTDC(*c.LightsAt)
		}
		if c.Probability != nil {
			p = m.percent(*c.Probability)
		}
		t.Rows = append(t.Rows, []string{
			m.text([...]phrase.Text{wordAsked, wordLands}[i]), m.Say.BTDC(c.StartBTDCDeg), m.amount(quantity.Temperature(c.GasK-273.15, 0)), m.amount(quantity.Pressure(c.GasBar, 1)),
			lights, m.maybe(wordMS, c.DelayMS, 1), p})
	}
	m.add(t)
	m.figure("light", 270)
	m.sentences(wordKnow, l.Notes)
	m.sentences(wordRests, l.Assumptions)
}

func (m maker) gears() {
	g, err := finding.GearsOf(m.Angles)
	if err != nil {
		return
	}
	m.section(wordGears)
	m.add(Paragraph{Text: m.Say.Sentence(g.Says)})
	t := Table{Columns: []Column{m.column(wordWheel, false), m.column(wordTeeth, true), m.column(wordTurns, false), m.column(wordMeet, true)}}
	for i, w := range g.Wheels {
		name, way := m.text(wordGearMain), wordAgainst
		switch {
		case i == len(g.Wheels)-1:
			name = m.text(wordGearCam)
		case i > 0:
			name = m.with(wordGearIdle, map[string]any{"N": i})
		}
		if w.WithCrank {
			way = wordWith
		}
		t.Rows = append(t.Rows, []string{name, strconv.Itoa(w.Teeth), m.text(way), count(w.Turns)})
	}
	m.add(t)
	m.figure("gears", 200)
	m.sentences(wordKnow, g.Notes)
	m.sentences(wordReached, g.Steps)
}

// count writes a whole number that may have hundreds of digits.
func count(n *big.Int) string {
	s := n.String()
	if len(s) <= 12 {
		return s
	}
	return s[:1] + "." + s[1:3] + " × 10^" + strconv.Itoa(len(s)-1)
}

// What of the causes and checks goes onto paper: the most probable, and the ones
// that tell most.
const (
	shownCauses = 6
	shownChecks = 6
)

func (m maker) causes() {
	m.section(wordCauses)
	if m.ranked == nil {
		m.add(Paragraph{Text: m.text(wordUnranked)}, List{m.faults(m.unranked)})
		return
	}
	c := *m.ranked
	m.add(Paragraph{Text: m.together(c.Answer())})
	t := Table{Columns: []Column{m.column(wordCause, false), m.column(wordAlone, true), m.column(wordInAll, true), m.column(wordBefore, true)}}
	for i, k := range c.Causes {
		if i < shownCauses {
			all := m.percent(k.InAll)
			if len(k.Meaning) > 1 {
				all = ""
			}
			t.Rows = append(t.Rows, []string{m.cause(k), m.percent(k.Probability), all, m.percent(k.Prior)})
		}
	}
	m.add(t)
	if len(c.Causes) > 0 && len(c.Causes[0].Reasons) > 0 {
		var seen []phrase.Sentence
		for _, r := range c.Causes[0].ByStrength() {
			seen = append(seen, r.Says)
		}
		m.sentences(wordSeen, seen)
	}
	m.checks(c)
	m.sentences(wordKnow, c.Notes)
}

// faults are what is wrong with a job, each with its key.
func (m maker) faults(err error) []string {
	var faults job.Faults
	if !errors.As(err, &faults) {
		return []string{m.Say.Sentence(phrase.From(err))}
	}
	var list []string
	for _, f := range faults {
		list = append(list, m.with(wordFault, map[string]any{"Key": f.Key, "Says": f.Says}))
	}
	return list
}

// cause is a cause in a sentence or two.
func (m maker) cause(k finding.CauseFound) string {
	if len(k.Meaning) == 0 {
		return m.Say.Sentence(finding.CauseTitle(k.Cause))
	}
	return m.together(k.Meaning)
}

// together are sentences one after the other.
func (m maker) together(list []phrase.Sentence) string {
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = m.Say.Sentence(s)
	}
	return strings.Join(words, " ")
}

// checks are the ones to make next, with room to write down what they show.
func (m maker) checks(c finding.Causes) {
	if len(c.Next) == 0 {
		return
	}
	m.within(wordNext)
	t := Table{Written: true, Columns: []Column{m.column(wordCheck, false), m.column(wordMinutes, true), m.column(wordTools, false),
		{Head: m.text(wordShowed), Blank: true}}}
	var cautions []phrase.Text
	for i, n := range c.Next {
		if i >= shownChecks {
			break
		}
		t.Rows = append(t.Rows, []string{m.text(n.Title), m.num(wordPlain, n.Minutes, 0), m.text(n.Tools)})
		for _, a := range n.Cautions {
			if !slices.Contains(cautions, a) && !slices.Contains(finding.Cautions, a) {
				cautions = append(cautions, a)
			}
		}
	}
	m.add(t)
	if len(cautions) > 0 {
		m.add(m.cautions(cautions))
	}
}

func (m maker) cautions(list []phrase.Text) List {
	l := List{}
	for _, c := range list {
		l.Items = append(l.Items, m.text(c))
	}
	return l
}
