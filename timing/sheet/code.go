package sheet

import (
	"math"
	"strings"

	qr "github.com/piglig/go-qr"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// The words beside the code.
const (
	wordCode      phrase.Text = "Scanned, this code gives the angles, the part and the engine as the text of a job file. A program that reads one shows the same angles and uncertainties."
	wordCodeTitle phrase.Text = "QR code with the text of a job file"
)

// The code's measures, in points: 36 mm across, of which a module of a code of 85 takes
// 0.4 mm, more than a telephone needs at reading distance.
const (
	codeSize = 102.0
	codeGap  = 14.0
	quiet    = 4  // modules left blank round a code (ISO/IEC 18004:2015, 6.3.8)
	mostCode = 40 // characters of a text in a code
)

// Essentials is the job with no more than what a claim is about, as a job file small
// enough for a code: the engine, the start commanded, and for dowel and keyway the two
// angles as they are seen on the sheet, to a thousandth of a degree. angles is the job
// with an angle for every photograph, from the end that the sheet is seen from.
func Essentials(angles job.Job, from timing.End) (job.Job, error) {
	p, err := finding.PartOf(angles)
	if err != nil {
		return job.Job{}, err
	}
	e := job.Job{Title: cutText(angles.Title), Engine: job.Engine{
		Strokes: angles.Engine.Strokes, FiringOrder: angles.Engine.FiringOrder,
		FiringIntervalsDeg: angles.Engine.FiringIntervalsDeg, Rotation: angles.Engine.Rotation,
	}}
	if i := angles.Injection; i != nil && i.StartBTDCDeg.Given {
		e.Injection = &job.Injection{StartBTDCDeg: i.StartBTDCDeg}
	}
	view := finding.ViewOf(angles, from.String())
	angle := func(deg, u *float64) *job.Reading {
		if deg == nil {
			return nil
		}
		size, side := view.Seen(timing.Deg(*deg))
		r := &job.Reading{AngleDeg: job.Num(thousandths(float64(size))), Side: side.String()}
		if u != nil {
			r.UDeg = job.Num(thousandths(*u))
		}
		return r
	}
	feature := func(a *finding.FeatureAngle) *job.Feature {
		if a == nil {
			return nil
		}
		return &job.Feature{SeenFrom: from.String(), Drawing: angle(a.DrawingDeg, a.DrawingUDeg), Measured: angle(a.MeasuredDeg, a.UDeg)}
	}
	e.Dowel, e.Keyway = feature(p.Dowel), feature(p.Keyway)
	if c := angles.Case; c != nil {
		e.Case = &job.Case{EngineSerial: cutText(c.EngineSerial), Order: cutText(c.Order), Supplier: cutText(c.Supplier),
			PartNumber: cutText(c.PartNumber), PartSerial: cutText(c.PartSerial), MeasuredOn: c.MeasuredOn}
		if *e.Case == (job.Case{}) {
			e.Case = nil
		}
	}
	e.Format = max(1, e.Needs())
	return e, nil
}

func thousandths(v float64) float64 { return math.Round(1000*v) / 1000 }

// cutText is a text on one line, of so many characters as a code has room for.
func cutText(s string) string {
	r := []rune(line(s))
	return strings.TrimSpace(string(r[:min(len(r), mostCode)]))
}

// utf8 is what a code says before text in UTF-8: without it a reader takes the bytes for
// another set of characters, or guesses (AIM ECI assignment 26; ISO/IEC 18004:2015, 7.4.2).
const utf8 = 26

// encoded is a code of a text in UTF-8.
func encoded(text []byte) (*qr.QrCode, error) {
	set, err := qr.MakeEci(utf8)
	if err != nil {
		return nil, err
	}
	bytes, err := qr.MakeBytes(text)
	if err != nil {
		return nil, err
	}
	return qr.EncodeStandardSegments([]*qr.QrSegment{set, bytes}, qr.Medium)
}

// code adds a code with the essentials, and beside it a text and what it is. Where there
// is too much for one there is none, and it says so.
func (m maker) code(text string) bool {
	e, err := Essentials(m.Angles, m.seenFrom())
	if err != nil {
		return false
	}
	c, err := encoded(job.New(e).Bytes())
	if err != nil {
		return false
	}
	n := c.Size()
	side := codeSize / float64(n+2*quiet)
	var path figure.Path
	path.Fill, path.Plain = figure.Ink, true
	for y := range n {
		for x := 0; x < n; x++ {
			from := x
			for x < n && c.Module(x, y) {
				x++
			}
			if x > from { // a little higher than it is, so that no printer leaves a line between two
				path.Segs = append(path.Segs, figure.Rectangle(figure.Rect{X: float64(from+quiet) * side, Y: float64(y+quiet) * side, W: float64(x-from) * side, H: 1.02 * side})...)
			}
		}
	}
	d := figure.Drawing{W: Width, H: codeSize, Title: m.text(wordCodeTitle), Desc: text + " " + m.text(wordCode), Shapes: []figure.Shape{path}}
	const room = Width - codeSize - codeGap
	y := quiet * side
	for i, f := range []face{bodyFace, smallFace} {
		for _, l := range wrapped([]string{text, m.text(wordCode)}[i], f.size, false, room) {
			d.Shapes = append(d.Shapes, figure.Text{X: codeSize + codeGap, Y: y + 0.78*f.lead, S: l, Size: f.size, Role: figure.Ink})
			y += f.lead
		}
		y += gap
	}
	m.add(Figure{Name: "code", Drawing: d})
	return true
}
