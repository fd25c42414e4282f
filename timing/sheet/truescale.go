package sheet

import (
	"math"
	"time"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// Scale is what a degree wheel or tape is printed for.
type Scale struct {
	DiameterMM float64
	HoleMM     float64    // of the wheel; 0: none
	From       timing.End // the end it is seen from
	Job        *job.Job   // its rotation and firing dead centres; nil: clockwise, and none
	Rotation   timing.Sense

	// RulerMM is what the ruler of 150 mm measured when it was printed before: all
	// lengths are then made so much longer or shorter. 0: as it is.
	RulerMM float64

	Date time.Time
	Lang string
	Say  chart.Say // nil is English
}

// The ruler that a printer is checked with, and the limits of what is printed,
// in mm.
const (
	rulerMM                   = 150.0
	uprightMM                 = 80.0
	leastWheelMM, mostWheelMM = 40.0, 600.0
	leastTapeMM, mostTapeMM   = 20.0, 2000.0
	leastReadingMM, mostRuler = 140.0, 160.0
	edgeMM                    = 4.0  // a printer's own margin
	overlapMM                 = 12.0 // of pieces that are put together
	tileMargin                = 10 * mm
)

// check says what is wrong with the sizes.
func (in Scale) check(least, most float64) error {
	switch {
	case !(in.DiameterMM >= least && in.DiameterMM <= most):
		return phrase.Errorf("a diameter of %g mm: from %g to %g", in.DiameterMM, least, most)
	case !(in.HoleMM >= 0 && in.HoleMM <= in.DiameterMM/2):
		return phrase.Errorf("a hole of %g mm: at most half the diameter", in.HoleMM)
	case in.RulerMM != 0 && !(in.RulerMM >= leastReadingMM && in.RulerMM <= mostRuler):
		return phrase.Errorf("a ruler that measures %g mm: it is one of 150, and from %g to %g can be put right", in.RulerMM, leastReadingMM, mostRuler)
	}
	return nil
}

// factor is what lengths are multiplied with.
func (in Scale) factor() float64 {
	if in.RulerMM == 0 {
		return 1
	}
	return rulerMM / in.RulerMM
}

// scaler makes such a document.
type scaler struct {
	maker
	in    Scale
	view  timing.View
	marks []figure.ScaleMark
}

func newScaler(in Scale, title phrase.Text) (scaler, error) {
	s := scaler{in: in, view: timing.View{From: in.From, Rotation: in.Rotation}}
	s.maker = newMaker(Input{Date: in.Date, Lang: in.Lang, Say: in.Say}, wordTrueScale)
	s.doc.Title = s.with(title, map[string]any{"Diameter": quantity.Length(in.DiameterMM, 2)})
	s.add(Heading{s.doc.Title, 1})
	if in.Job == nil {
		return s, nil
	}
	s.view = finding.ViewOf(*in.Job, in.From.String())
	marks, err := finding.FiringMarks(*in.Job)
	if err != nil {
		return s, err
	}
	for _, m := range marks {
		s.marks = append(s.marks, figure.ScaleMark{At: m.At, Label: s.with(wordFires, map[string]any{"Cylinders": whole(m.Cylinders, ", ")}), Short: whole(m.Cylinders, ", ")})
	}
	if t := line(in.Job.Title); t != "" {
		s.add(Paragraph{Text: s.with(wordForJob, map[string]any{"Title": t})})
	}
	return s, nil
}

// instructions are how to print it right, with the rulers to check that.
func (s scaler) instructions(texts ...string) {
	list := List{[]string{s.text(wordPrintWhole), s.text(wordCheckRulers), s.text(wordCorrect), s.text(wordUneven)}}
	if s.in.RulerMM != 0 {
		list.Items = append(list.Items, s.with(wordCorrected, map[string]any{"Length": quantity.Length(s.in.RulerMM, 2),
			"Factor": phrase.Num{Value: s.in.factor(), Decimals: 5}}))
	}
	list.Items = append(list.Items, texts...)
	if len(s.marks) > 0 {
		list.Items = append(list.Items, s.text(wordFiresNote))
	}
	s.add(list)
	ruler := func(length float64, upright bool) figure.Drawing {
		return figure.Ruler(length, s.in.factor(), upright, s.with(wordRulerIs, map[string]any{"Length": phrase.Num{Value: length}}))
	}
	// Both in one drawing, the upright one behind the level one's end.
	level, upright := ruler(rulerMM, false), ruler(uprightMM, true)
	both := figure.Drawing{W: level.W + upright.W + 2, H: max(level.H, upright.H), Title: level.Title}
	both.Place(level, 0, 0)
	both.Place(upright, level.W+2, 0)
	s.add(Figure{Name: "rulers", Drawing: both, True: true})
}

// sense is the word for the way the engine turns, as seen.
func (s scaler) sense() map[string]any {
	return map[string]any{"Sense": s.view.Rotates().Text()}
}

// DegreeWheel is a degree wheel to be printed on a paper, on several pieces of it
// where it is larger. Its error is one line about the sizes, or [job.Faults].
func DegreeWheel(in Scale, p Paper) (Document, error) {
	if err := in.check(leastWheelMM, mostWheelMM); err != nil {
		return Document{}, err
	}
	s, err := newScaler(in, wordWheelSheet)
	if err != nil {
		return Document{}, err
	}
	fix := wordWheelNose
	if s.view.From == timing.Flywheel {
		fix = wordWheelFly
	}
	s.instructions(s.with(fix, s.sense()), s.text(wordWheelReads))
	d := figure.DegreeWheel(figure.DegreeWheelInput{View: s.view, DiameterMM: in.DiameterMM * in.factor(), HoleMM: in.HoleMM * in.factor(), Marks: s.marks,
		Heading: s.doc.Title, Turns: s.with(wordWheelTurns, s.sense()), Title: s.doc.Title})
	s.section(wordCautions)
	s.add(s.cautions(finding.Cautions))
	s.add(s.pieces(d, p)...)
	return *s.doc, nil
}

// pieces are a drawing on as many pages as it takes.
func (s scaler) pieces(d figure.Drawing, p Paper) []Block {
	w, h := p.W-2*edgeMM*mm, p.H-above-below
	if d.W <= w && d.H <= h {
		return []Block{Figure{Name: "wheel", Drawing: d, True: true}}
	}
	const overlap = overlapMM * mm
	w, h = p.W-2*tileMargin-2*overlap, h-2*smallFace.lead-gap-2*overlap
	columns, rows := math.Ceil(d.W/w), math.Ceil(d.H/h)
	left, top := (d.W-columns*w)/2, (d.H-rows*h)/2
	for c := 1.0; c < columns; c++ { // seams
		d.Shapes = append(d.Shapes, figure.Path{Segs: figure.Line(left+c*w, 0, left+c*w, d.H), Stroke: figure.Ghost, Weight: figure.Hair})
	}
	for r := 1.0; r < rows; r++ {
		d.Shapes = append(d.Shapes, figure.Path{Segs: figure.Line(0, top+r*h, d.W, top+r*h), Stroke: figure.Ghost, Weight: figure.Hair})
	}
	var list []Block
	for r := range int(rows) {
		for c := range int(columns) {
			piece := d.Window(figure.Rect{X: left + float64(c)*w - overlap, Y: top + float64(r)*h - overlap, W: w + 2*overlap, H: h + 2*overlap})
			list = append(list, Figure{"wheel", piece, s.with(wordPiece, map[string]any{"N": len(list) + 1, "Of": int(rows * columns), "Row": r + 1, "Column": c + 1}), true})
		}
	}
	return list
}

// Tape is a timing tape to be printed on a paper, cut into strips. Its error is
// one line about the sizes, or [job.Faults].
func Tape(in Scale, p Paper) (Document, error) {
	in.HoleMM = 0
	if err := in.check(leastTapeMM, mostTapeMM); err != nil {
		return Document{}, err
	}
	s, err := newScaler(in, wordTapeSheet)
	if err != nil {
		return Document{}, err
	}
	round, edge := wordTapeNose, wordEdgeNose
	if s.view.From == timing.Flywheel {
		round, edge = wordTapeFly, wordEdgeFly
	}
	length := math.Pi * in.DiameterMM
	s.instructions(
		s.with(wordTapeLength, map[string]any{"Length": quantity.Length(length, 2), "Degree": quantity.Length(length/360, 3)}),
		s.text(wordTapeMeasured), s.text(wordTapeJoin), s.with(round, s.sense()), s.text(wordWheelReads))
	strips := figure.TapeInput{View: s.view, DiameterMM: in.DiameterMM * in.factor(), Marks: s.marks, Edge: s.text(edge), Join: s.text(wordTab),
		Title: s.doc.Title}.Strips(p.W - 2*side)
	s.section(wordCautions)
	s.add(s.cautions(finding.Cautions))
	for i, d := range strips {
		s.add(Figure{"tape", d, s.with(wordStrip, map[string]any{"N": i + 1, "Of": len(strips)}), true})
	}
	return *s.doc, nil
}
