package sheet

import (
	"image"
	"math"
	"time"

	"pinphase.org/pinphase"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// Input is what a sheet is made from.
type Input struct {
	Job    job.Job        // as the file has it
	Angles job.Job        // the same with an angle for every photograph: [finding.WithPhotos]
	Photos finding.Photos // what was taken from the photographs

	// Picture returns a job's photograph by the name in the job file, upright and
	// perhaps smaller than the file has it, which the info says; nil when pictures are
	// not to be shown. Its error stands on the sheet in the picture's place.
	// [Pictures.Read] is the one for files.
	Picture func(file string) (image.Image, photo.Info, error)

	Shop Shop      // who writes it
	Fill bool      // with lines to fill in by hand, for what the job does not say of the case
	Date time.Time // on the sheet and in the file; only its day is written
	Lang string    // of what Say says; "" is "en"
	Say  chart.Say // nil is English, in millimetres, bar and degrees Celsius
	// Units are those of the figures' axes; they go with Say.
	Units quantity.Units
}

// maker writes a document.
type maker struct {
	Input
	doc      *Document
	lightOff *finding.Light  // nil where the job lacks something for it
	ranked   *finding.Causes // nil where the causes cannot be ranked,
	unranked error           // and why
	signless bool            // figures say to which side an angle leads, and give it no sign
	places   int             // decimals of the angles on the part
}

func newMaker(in Input, kind phrase.Text) maker {
	if in.Say == nil {
		in.Say = language.New("en", quantity.Units{}).Say
	}
	in.Job = in.Job.Compared() // what parts have is read where the two that are compared stand
	m := maker{Input: in, doc: &Document{Lang: in.Lang, Date: in.Date}, places: mostPlaces}
	if m.doc.Lang == "" {
		m.doc.Lang = "en"
	}
	m.doc.Kind = m.text(kind)
	m.doc.Title = line(in.Job.Title)
	if m.doc.Title == "" {
		m.doc.Title = m.text(wordUntitledJob)
	}
	m.doc.Made = m.with(wordMade, map[string]any{"Version": pinphase.About().Version, "Date": in.Date})
	m.doc.page = func(n, of int) string { return m.with(wordPage, map[string]any{"N": n, "Of": of}) }
	return m
}

func (m maker) add(b ...Block) { m.doc.Blocks = append(m.doc.Blocks, b...) }

func (m maker) section(text phrase.Text) { m.add(Heading{m.text(text), 2}) }

func (m maker) within(text phrase.Text) { m.add(Heading{m.text(text), 3}) }

// sentences adds a heading of the third level and the sentences below it, neither
// when there are none.
func (m maker) sentences(heading phrase.Text, list []phrase.Sentence) {
	if len(list) > 0 {
		m.within(heading)
		m.add(m.list(list))
	}
}

func (m maker) list(list []phrase.Sentence) List {
	l := List{}
	for _, s := range list {
		l.Items = append(l.Items, m.Say.Sentence(s))
	}
	return l
}

func (m maker) text(text phrase.Text) string { return m.with(text, nil) }

func (m maker) with(text phrase.Text, data map[string]any) string {
	return m.Say.Sentence(phrase.Sentence{Text: text, Data: data})
}

// num writes a number into one of the texts with the place Value.
func (m maker) num(text phrase.Text, v float64, decimals int) string {
	return m.with(text, map[string]any{"Value": phrase.Num{Value: v, Decimals: decimals}})
}

// amount writes a value in the reader's unit.
func (m maker) amount(a quantity.Amount) string { return m.with(wordPlain, map[string]any{"Value": a}) }

// maybeAmount is amount for what may not be known.
func (m maker) maybeAmount(of func(v float64, decimals int) quantity.Amount, v *float64, decimals int) string {
	if v == nil {
		return m.text(wordUnknown)
	}
	return m.amount(of(*v, decimals))
}

// maybe is num for what may not be known.
func (m maker) maybe(text phrase.Text, v *float64, decimals int) string {
	if v == nil {
		return m.text(wordUnknown)
	}
	return m.num(text, *v, decimals)
}

// column is a column with its heading.
func (m maker) column(text phrase.Text, number bool) Column {
	return Column{Head: m.text(text), Number: number}
}

// percent writes a probability. None is ever quite 0 or 1.
func (m maker) percent(p float64) string {
	switch {
	case p < 0.0005:
		return m.text(wordUnder)
	case p >= 0.9995:
		return m.text(wordOver)
	}
	return m.num(wordPercent, 100*p, 1)
}

// apart is how far an angle lies from another, the short way round.
func apart(from, to float64) float64 {
	d := float64(timing.Difference(timing.Deg(from), timing.Deg(to), timing.Turn))
	return math.Round(d*1e9) / 1e9
}
