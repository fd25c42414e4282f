package chart

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// Deck is what is shown to a class of one job, page by page in chapters: the
// firing order, the pistons that move in pairs, the fault, the engine turning.
// Every page asks before it answers.
type Deck struct {
	job      job.Job
	engine   timing.Scheme
	byNumber bool
	right    TurningWheel // as the drawing has it
	drilled  TurningWheel // as measured
	shift    *finding.Shift
	say      Say
	pages    []boardPage
}

// DeckOptions are the reader's choices for a class.
type DeckOptions struct {
	ByNumber bool       // rows of the cycle in number order
	From     timing.End // the end the wheel is seen from
	Say      Say
}

// Chapter is a part of a deck.
type Chapter int

// The chapters, in their order. A job may have nothing to show in some.
const (
	FiringOrder Chapter = iota
	Pairs
	Fault
	Turning
	Own // an instructor's own pages
)

// PageView is how a page is shown.
type PageView struct {
	Turned timing.Deg // the crank, on from where the page begins
	Answer bool       // the answer is shown, with what the question leaves out
	Names  bool       // strokes are named before the answer too
}

// boardPage is one page. It has a cycle or wheels.
type boardPage struct {
	of               *Deck // in a lesson: of which engine
	chapter          Chapter
	question, answer string
	at               timing.Deg // where the crank stands, and on a page of two wheels the right one
	drilledAt        timing.Deg // where the other does

	asked, answered int        // the cylinder set off before and after the answer; 0: none
	both            bool       // the answer sets off both
	by              timing.Deg // how far the answer moves the cursor on
	marks           bool       // injection is marked: as asked for, and with the answer as it happens
	turning         bool       // the sentences stay true while the crank turns

	wheels  int    // 0: the page has the cycle
	heading string // over a wheel that is alone
	empty   bool   // it has no figure at all
}

// NewDeck returns what there is to show of a job.
func NewDeck(j job.Job, o DeckOptions) (Deck, error) {
	e, err := finding.EngineOf(j)
	if err != nil {
		return Deck{}, err
	}
	d := Deck{job: j, engine: e, byNumber: o.ByNumber, say: o.Say}
	if d.drilled, err = NewTurningWheel(j, o.From, o.Say); err != nil {
		return Deck{}, err
	}
	d.right = d.drilled
	d.right.in = asDrawn(d.drilled.in, o.Say)
	d.drilled.in = forBoard(d.drilled.in, o.Say)
	if s, err := finding.ShiftOf(j); err == nil {
		d.shift = &s
	}
	d.firingOrder()
	d.inPairs()
	d.fault()
	d.turns()
	return d, nil
}

// asDrawn is the wheel as the drawing has it.
func asDrawn(in figure.WheelInput, say Say) figure.WheelInput {
	in.Error, in.Actual = 0, nil
	if in.KeywayDrawing != nil {
		in.KeywayMeasured = nil
	}
	if in.DowelDrawing != nil {
		in.DowelMeasured, in.DowelDrawing = in.DowelDrawing, nil
	}
	return forBoard(in, say)
}

// unexplained is a wheel as it was measured, without what shows how it should be.
func unexplained(in figure.WheelInput) figure.WheelInput {
	in.FirstBTDC, in.Error, in.Words.Error = in.FirstBTDC+in.Error, 0, "" // the teeth stay, their ghost goes
	in.DowelDrawing = nil
	if in.KeywayMeasured != nil {
		in.KeywayDrawing, in.KeywayMeasured = in.KeywayMeasured, nil
	}
	return in
}

// forBoard leaves out what a class does not need: headings, captions, and all of
// the legend but what the sentences speak of.
func forBoard(in figure.WheelInput, say Say) figure.WheelInput {
	in.Heading, in.Caption = "", nil
	w := in.Words
	in.Words = figure.WheelWords{TDC: w.TDC, BTDC: w.BTDC, ATDC: w.ATDC, Sensor: w.Sensor, Tooth1: w.Tooth1, Gap: w.Gap, Keyway: w.Keyway,
		DowelMeasured: say.text(wordBoardDowel), Commanded: w.Commanded, Actual: w.Actual, Error: w.Error}
	return in
}

// Len returns how many pages there are, at least one.
func (d Deck) Len() int { return len(d.pages) }

// Chapter returns the chapter of a page.
func (d Deck) Chapter(page int) Chapter { return d.pages[page].chapter }

// First returns the first page of a chapter; ok is false when the job has
// nothing to show in it.
func (d Deck) First(c Chapter) (page int, ok bool) {
	for i, p := range d.pages {
		if p.chapter == c {
			return i, true
		}
	}
	return 0, false
}

// Page returns a page as it is shown.
func (d Deck) Page(i int, v PageView) figure.BoardInput {
	p := d.pages[i]
	if p.of != nil {
		d = *p.of
	}
	in := figure.BoardInput{Others: []string{p.question, p.answer}}
	if v.Turned != 0 && !p.turning {
		p.question, p.answer = d.anywhere(p, v.Turned)
		in.Others = append(in.Others, p.question, p.answer)
	}
	in.Sentence = p.question
	if v.Answer {
		in.Sentence = p.answer
	}
	switch {
	case p.empty:
	case p.wheels > 0:
		d.wheels(&in, p, v)
	default:
		d.cycle(&in, p, v)
	}
	return in
}

// cycle puts the cycle on a page: the strokes without their names, until they
// are asked for.
func (d Deck) cycle(to *figure.BoardInput, p boardPage, v PageView) {
	at := timing.Wrap(p.at+v.Turned, d.engine.Cycle())
	selected := p.asked
	answered := v.Answer && v.Turned == 0
	switch {
	case answered:
		selected = p.answered
		at = timing.Wrap(p.at+p.by, d.engine.Cycle())
	case v.Answer:
		selected = lastToFire(d.engine, nextToFire(d.engine, at, +1))
	case v.Turned != 0:
		selected = 0
	}
	in, err := Cycle(d.job, CycleOptions{ByNumber: d.byNumber, Cursor: &at, Selected: selected, Say: d.say})
	if err != nil {
		return // a deck has an engine
	}
	in.Heading, in.AxisTitle = "", ""
	if answered && p.by != 0 {
		in.Span = &[2]timing.Deg{p.at, p.at + p.by}
	}
	if !v.Answer && !v.Names {
		in.Strokes = [4]figure.Word{}
	}
	for i := range in.Rows {
		r := &in.Rows[i]
		r.Readout = ""
		r.Selected = r.Selected || answered && p.both && r.Cylinder == p.asked
		if p.chapter != Own && (p.chapter != Pairs || !v.Answer) { // where pistons pass through the overlap, the valves count
			r.Intake, r.Exhaust = nil, nil
		}
		if !p.marks {
			r.Commanded, r.Actual = nil, nil
		} else if !v.Answer {
			r.Actual = nil
		}
	}
	to.Desc = in.Desc
	to.Panels = cyclePanels(in)
}

// How many rows of a cycle have room, in a board's type, above a legend and beside one;
// more of them are set in two columns.
const rowsAboveLegend, rowsInColumn = 8, 12

// cyclePanels are the panels of a cycle: with many rows its legend is at the right.
func cyclePanels(in figure.CycleInput) []figure.BoardPanel {
	draw := func(in figure.CycleInput) func(figure.Box) figure.Drawing {
		return func(b figure.Box) figure.Drawing {
			drawing, _ := figure.Cycle(in, b)
			return drawing
		}
	}
	if len(in.Rows) <= rowsAboveLegend {
		return []figure.BoardPanel{{Draw: draw(in)}}
	}
	whole := in
	legend := figure.BoardPanel{Share: 0.3, Draw: func(b figure.Box) figure.Drawing { return figure.CycleLegend(whole, b) }}
	in.NoLegend = true
	if len(in.Rows) <= rowsInColumn {
		return []figure.BoardPanel{{Share: 1 - legend.Share, Draw: draw(in)}, legend}
	}
	left, right := in, in
	half := (len(in.Rows) + 1) / 2
	left.Rows, right.Rows = in.Rows[:half], in.Rows[half:]
	share := (1 - legend.Share) / 2
	return []figure.BoardPanel{{Share: share, Draw: draw(left)}, {Share: share, Draw: draw(right)}, legend}
}

// wheels puts one wheel or two on a page. With the answer the wheel as drilled
// shows how far it is off.
func (d Deck) wheels(to *figure.BoardInput, p boardPage, v PageView) {
	panel := func(w TurningWheel, heading string, at timing.Deg) figure.WheelInput {
		in := w.At(at + v.Turned)
		in.Caption = nil
		switch {
		case !p.marks || !v.Answer:
			in.Commanded, in.Actual = nil, nil
		case p.chapter != Own:
			in.Words.Tooth1, in.Words.Gap = "", "" // the page is about something else
		}
		to.Panels = append(to.Panels, figure.BoardPanel{Heading: heading})
		return in
	}
	draw := func(in figure.WheelInput) func(figure.Box) figure.Drawing {
		return func(b figure.Box) figure.Drawing {
			drawing, _ := figure.Wheel(in, b)
			return drawing
		}
	}
	right := panel(d.right, d.say.text(wordBoardRight), p.at)
	to.Desc = right.Desc
	to.Panels[0].Draw = draw(right)
	if p.wheels == 1 {
		to.Panels[0].Heading = p.heading
		return
	}
	drilled := panel(d.drilled, d.say.text(wordBoardDrilled), p.drilledAt)
	if !v.Answer {
		drilled = unexplained(drilled)
	}
	to.Panels[1].Draw = draw(drilled)
}
