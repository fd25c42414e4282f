package light

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/quantity"
	"pinphase.org/pinphase/widgets"
)

// The steps of the map in degrees of wheel error, and twice as many °C: while
// something is dragged, and after a pause.
const (
	coarseStep = 2.5
	fineStep   = 1.25
)

// lightMapSide is the map of starting over wheel error and air. Its cells are
// the same for all air temperatures and wheel errors, so those only move the
// points on it. For anything else its cells are worked out beside the main
// goroutine, for they take most of a frame: one map at a time, and the next for
// what is shown by then.
type lightMapSide struct {
	content fyne.CanvasObject
	view    *widgets.MapView
	words   *kit.LineLabel

	in    figure.LightMapInput
	of    job.Job // but for the air
	by    string  // the correlation
	valid bool
	fine  bool
	busy  bool // a map is being worked out
}

func newLightMapSide(p *page) lightMapSide {
	s := lightMapSide{view: widgets.NewMapView(), words: kit.NewLineLabel()}
	s.view.OnPoint = func(column, row int, ok bool) { kit.SetText(&p.side.words.Label, p.side.cellWords(column, row, ok)) }
	s.words.SetText(s.cellWords(0, 0, false))
	s.content = container.NewBorder(nil, s.words, nil, nil, s.view)
	return s
}

// withoutAir is a job as far as the map's cells go by it: whatever the air and the wheel
// error.
func withoutAir(j job.Job) job.Job {
	j.Supposed = nil
	if j.Injection != nil && j.Injection.AirC.Given {
		j = j.Clone()
		j.Injection.AirC = job.Number{}
	}
	return j
}

// serves tells whether the cells there are serve the page's estimate too.
func (s *lightMapSide) serves(p *page) bool {
	within := func(list []float64, v float64) bool { return v >= list[0] && v <= list[len(list)-1] }
	return s.valid && s.by == p.estimate.Correlation && s.of.Equal(withoutAir(p.of)) &&
		within(s.in.X, p.estimate.AirC) && within(s.in.Y, p.estimate.WheelErrorDeg)
}

func (s *lightMapSide) lacksFine(p *page) bool {
	return p.tabs.SelectedIndex() == 0 && !(s.fine && s.serves(p))
}

// load shows the map of the page's estimate. The first one, and the first by
// another correlation, brings its words along.
func (s *lightMapSide) load(p *page) {
	switch {
	case !p.valid:
		s.clear()
		return
	case s.valid && s.by == p.estimate.Correlation:
		if points := s.points(p); !slices.Equal(points, s.in.Points) { // painting it takes a third of a frame
			s.show(p, points)
		}
		if !s.serves(p) {
			s.work(p)
		}
		return
	}
	in, err := chart.LightMap(p.of, chart.LightOptions{Of: p.options(), Step: coarseStep, Say: say, Units: voice().Units()})
	if err != nil {
		s.clear()
		return
	}
	in.Heading = ""
	s.in, s.by, s.valid = in, p.estimate.Correlation, true
	s.take(p, in, p.of, false)
}

func (s *lightMapSide) clear() {
	s.valid = false
	kit.SetText(&s.words.Label, "")
	s.view.SetFigure(figure.LightMapInput{})
}

// work has the cells worked out for what is shown.
func (s *lightMapSide) work(p *page) {
	if s.busy {
		return
	}
	s.busy = true
	j, o, by := p.of, p.options(), p.estimate.Correlation
	p.beside(func() func() {
		in, err := chart.LightMap(j, chart.LightOptions{Of: o, Step: coarseStep, Units: voice().Units()})
		return func() {
			s.busy = false
			if err != nil || !p.valid || !s.valid || s.by != by {
				return
			}
			if s.take(p, in, j, false); !s.serves(p) && p.tabs.SelectedIndex() == 0 {
				s.work(p)
			}
		}
	})
}

// take shows the cells of a map that was worked out for a job, under the words
// there are.
func (s *lightMapSide) take(p *page, in figure.LightMapInput, of job.Job, fine bool) {
	s.in.X, s.in.XSeen, s.in.Y, s.in.Cells = in.X, in.XSeen, in.Y, in.Cells
	s.of, s.fine = withoutAir(of), fine
	s.show(p, s.points(p))
}

// points are where the engine is, and where it is supposed to be.
func (s *lightMapSide) points(p *page) []figure.MapPoint {
	air := p.estimate.AirC
	points := []figure.MapPoint{s.in.Points[0], s.in.Points[1]}
	points[0].X, points[1].X = air, air
	points[1].Y = p.estimate.WheelErrorDeg
	if p.u.Supposes() {
		tried := points[1]
		tried.Role, tried.Label = figure.Cursor, tr("what-if")
		points = append(points, tried)
		if p.measured != nil {
			points[1].Y = *p.measured
		}
	}
	return points
}

func (s *lightMapSide) show(p *page, points []figure.MapPoint) {
	s.in.Points, s.in.Desc = points, p.sentence.Text
	if s.words.Text == "" {
		s.words.SetText(s.cellWords(0, 0, false))
	}
	s.view.SetFigure(s.in)
}

// cellWords say what a cell of the map means.
func (s *lightMapSide) cellWords(column, row int, ok bool) string {
	if !ok || row >= len(s.in.Cells) || column >= len(s.in.Cells[row]) {
		return tr("Point at the map to read it.")
	}
	cell := s.in.Cells[row][column]
	data := map[string]any{
		"Air": quantity.Temperature(s.in.X[column], 1), "Where": kit.OnSide(s.in.Y[row]), "Lit": cell.Lit, "Of": cell.Of,
	}
	if cell.KickBack {
		return with("{{.Air}}, sensor wheel {{.Where}}: ignites by {{.Lit}} of {{.Of}} delay formulas, may kick back", data)
	}
	return with("{{.Air}}, sensor wheel {{.Where}}: ignites by {{.Lit}} of {{.Of}} delay formulas", data)
}
