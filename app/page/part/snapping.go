package part

import (
	"math"
	"reflect"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/part/photo/snap"
)

// snapReach is how far on the screen a click is moved onto an edge at most, in units of
// Fyne, of which a point of the drawing has more than one.
const (
	snapReach     = 10
	pointsPerUnit = 0.75
)

// snapping moves clicks onto the edges of the photograph, and proposes what a few clicks
// show: the rim after three of its points, the other holes after one. What is proposed is
// in no job before it is taken over.
type snapping struct {
	b       *photoBench
	on      *kit.Check
	content *fyne.Container
	words   *widget.Label
	take    *kit.KeyButton
	drop    *kit.KeyButton

	kind   string // of what is proposed; "" for nothing
	points []job.Point
	rim    *photo.Ellipse // proposed
	asked  int            // what comes of an older question is dropped
	from   photo.Marks    // what was marked when it was asked
}

func newSnapping(b *photoBench) *snapping {
	s := &snapping{b: b, words: kit.Prose()}
	s.on = kit.NewCheck(tr("Move clicks onto edges (hold Ctrl to place freely)"), func(bool) { s.clear() })
	s.on.Checked = true
	s.take = kit.NewKeyButton(tr("Take the proposal"), s.accept)
	s.take.Importance = widget.HighImportance
	s.drop = kit.NewKeyButton(tr("Discard it"), s.clear)
	s.content = container.NewVBox(s.on, s.words, container.NewHBox(s.take, s.drop))
	s.load()
	return s
}

// free tells whether points are placed where they were clicked.
func (s *snapping) free() bool {
	return !s.on.Checked || s.b.picture.grey == nil || kit.HeldModifiers()&(fyne.KeyModifierControl|fyne.KeyModifierSuper) != 0
}

// moved is where a click of a kind comes to lie, in tenths of a pixel as the view asks.
// The first point of a dowel or a crankpin stays where it was clicked: alone it is the
// middle, which no edge may draw to itself.
func (s *snapping) moved(kind string, x, y float64) job.Point {
	at := photo.Point{X: x, Y: y}
	if s.free() {
		return job.Point{X: x, Y: y}
	}
	reach := snapReach * pointsPerUnit / max(s.b.view.View().Scale, 1e-6)
	to, ok := at, false
	switch kind {
	case "rim":
		to, ok = s.b.picture.grey.Edge(at, reach)
	case "dowel", "throw":
		if s.marked(kind) > 0 {
			to, ok = s.b.picture.grey.Edge(at, reach)
		}
	case "keyway":
		if e := s.known(); e != nil {
			to, ok = s.b.picture.grey.Corner(*e, at, reach)
		} else {
			to, ok = s.b.picture.grey.Edge(at, reach)
		}
	}
	if !ok {
		to = at
	}
	return job.Point{X: math.Round(to.X*10) / 10, Y: math.Round(to.Y*10) / 10}
}

// marked is how many points of a kind the job has.
func (s *snapping) marked(kind string) int {
	j := s.b.p.u.Session.Job()
	if r := s.b.reading(&j); r != nil {
		return len(*desk.PointsOf(r, kind))
	}
	return 0
}

// known is the rim that the points in the job show, nil where they show none.
func (s *snapping) known() *photo.Ellipse {
	j := s.b.p.u.Session.Job()
	r := s.b.reading(&j)
	if r == nil || len(r.Rim) < 5 {
		return nil
	}
	if e, _, err := photo.FitEllipse(finding.MarksOf(*r).Rim); err == nil {
		return &e
	}
	return nil
}

// placed looks for what a point just placed may lead to.
func (s *snapping) placed(kind string) {
	s.clear()
	j := s.b.p.u.Session.Job()
	r := s.b.reading(&j)
	if r == nil || s.free() {
		return
	}
	list := finding.MarksOf(*r)
	s.from = list
	switch {
	case kind == "rim" && len(list.Rim) >= 3 && len(list.Rim) < 8:
		s.seek(kind, func(g *snap.Grey) ([]photo.Point, *photo.Ellipse) {
			if rim, ok := g.Rim(list.Rim); ok {
				return rim.Points, &rim.Ellipse
			}
			return nil, nil
		})
	case kind == "bolts" && len(list.Bolts) == 1:
		if e := s.known(); e != nil {
			s.seek(kind, func(g *snap.Grey) ([]photo.Point, *photo.Ellipse) {
				holes, _ := g.Holes(*e, list.Bolts[0])
				return holes, nil
			})
		}
	}
}

// seek works a proposal out beside the main goroutine.
func (s *snapping) seek(kind string, find func(*snap.Grey) ([]photo.Point, *photo.Ellipse)) {
	grey := s.b.picture.grey
	s.asked++
	asked := s.asked
	s.b.p.u.Background(func() func() {
		points, rim := find(grey)
		return func() {
			if asked != s.asked || len(points) == 0 {
				return
			}
			s.kind, s.rim, s.points = kind, rim, nil
			for _, p := range points {
				s.points = append(s.points, job.Point{X: p.X, Y: p.Y})
			}
			s.load()
			s.b.view.Refresh()
		}
	})
}

// accept makes the proposal the points of its kind, in one step.
func (s *snapping) accept() {
	kind, points := s.kind, s.points
	if kind == "" {
		return
	}
	s.clear()
	s.b.edit("", kind, func([]job.Point) []job.Point { return points })
	if kind == "rim" {
		j := s.b.p.u.Session.Job()
		if r := s.b.reading(&j); r != nil && len(*desk.PointsOf(r, "keyway")) == 0 {
			s.b.panel().set("keyway")
		}
	}
	s.b.p.u.Window.Canvas().Focus(s.b.view)
}

// keep lets go of what is proposed, and of what is still sought, where a reading no
// longer has the points that it was found from.
func (s *snapping) keep(r *job.Reading) {
	if r == nil || !reflect.DeepEqual(finding.MarksOf(*r), s.from) {
		s.clear()
	}
}

// clear lets go of what is proposed.
func (s *snapping) clear() {
	s.asked++
	if s.kind == "" {
		return
	}
	s.kind, s.points, s.rim = "", nil, nil
	s.load()
	s.b.view.Refresh()
}

// load says what is proposed.
func (s *snapping) load() {
	text := ""
	switch s.kind {
	case "rim":
		text = tr("Proposed: the rim that is drawn in the picture. Take it, or go on marking points.")
	case "bolts":
		text = with("Proposed: {{.N}} bolt holes in all. Take them, or mark the others.", map[string]any{"N": len(s.points)})
	}
	kit.SetText(s.words, text)
	for _, o := range []fyne.CanvasObject{s.words, s.take, s.drop} {
		kit.SetShown(o, s.kind != "")
	}
	kit.SetShown(s.on, s.b.picture.grey != nil)
	if s.content != nil {
		s.content.Refresh()
	}
}
