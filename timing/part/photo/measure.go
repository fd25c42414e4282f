package photo

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// Measure works out the angle that the marks show. It takes the bolt circle
// when one is marked, else the rim with its centre, else the rim alone. Errors
// are of type [*MarkError]. It takes less than a millisecond and, for the
// uncertainty, some microseconds for each of o.Draws.
func Measure(m Marks, o Options) (Result, error) {
	if err := m.check(); err != nil {
		return Result{}, err
	}
	s := sight{marks: m, picture: o.Picture, believed: believedClick(o.Picture)}
	r := Result{UPx: o.UPx, DefaultU: !(o.UPx > 0)}
	if err := s.fit(&r); err != nil {
		return Result{}, err
	}
	s.lens = lensOf(o.Picture, s.seen)
	lie, ok := s.poses(s.nominal(), s.lens.nominal())
	if !ok {
		return Result{}, errNoPose
	}
	r.Tilt.Value = timing.FromRadians((lie[0].tilt + lie[1].tilt) / 2)
	face, err := s.face(s.nominal(), midway(lie))
	if err != nil {
		return Result{}, err
	}
	at, err := m.place(face, fitSteps)
	if err != nil {
		return Result{}, err
	}
	r.face, _ = face.inverse()
	r.fromRad, r.keywayDist = at.keyway, at.keywayDist
	r.Clockwise.Value = m.signed(at)
	r.KeywayAt = r.On(0, at.keywayDist)
	r.Centre, _ = r.face.apply(Point{})
	r.FeatureAt, _ = r.face.apply(at.feature)
	if err := s.scatter(o, &r); err != nil {
		return Result{}, err
	}
	s.warn(&r, at)
	return r, nil
}

// sight is what was fitted to the marks.
type sight struct {
	marks    Marks
	picture  Info
	basis    Basis
	rim      rim
	rimErr   error
	bolts    bolts
	seen     Ellipse // of the rim, or of the bolt circle without one
	lens     lens
	believed float64 // click scatter before any fit, px
}

// fit fits ellipse and bolt circle, and settles basis and click scatter.
func (s *sight) fit(r *Result) error {
	m := s.marks
	if len(m.Rim) >= 5 {
		s.rim, s.rimErr = fitRim(m.Rim)
		if s.rimErr != nil && len(m.Bolts) == 0 {
			return s.rimErr
		}
		if s.rimErr == nil {
			s.seen, r.Rim = s.rim.ellipse(), s.rim.ellipse()
			r.ResidualPx, r.ArcSpan = s.rim.rms, s.rim.span
		}
	}
	if len(m.Bolts) > 0 {
		var err error
		if s.bolts, err = fitBolts(m.Bolts, m.Centre); err != nil {
			return err
		}
		s.basis, r.BoltPx = BoltCircle, s.bolts.rms
		if r.DefaultU {
			r.UPx = clickU(s.bolts.ssr, s.bolts.dof, s.believed)
		}
		if s.seen.Major == 0 {
			s.seen = circleSeen(s.bolts.face(s.bolts.h))
		}
		r.Basis = s.basis
		return nil
	}
	if r.DefaultU {
		r.UPx = clickU(s.rim.ssr, s.rim.dof, s.believed)
	}
	if l := s.rim.loose(r.UPx); l > mostUnsettled {
		return fault("rim", "the points fix the ellipse only to %.0f %%; spread more of them over more of the rim", 100*l)
	}
	if len(m.Centre) == 1 {
		s.basis = RimAndCentre
	}
	r.Basis = s.basis
	return nil
}

// circleSeen returns the ellipse as which the unit circle is seen.
func circleSeen(face mat3) Ellipse {
	back, ok := face.inverse()
	if !ok {
		return Ellipse{}
	}
	var q [9]float64
	for i := range 3 {
		for j := range 3 {
			q[3*i+j] = back[i]*back[j] + back[3+i]*back[3+j] - back[6+i]*back[6+j]
		}
	}
	o, ok := conic{q[0], 2 * q[1], q[4], 2 * q[2], 2 * q[5], q[8]}.oval()
	if !ok {
		return Ellipse{}
	}
	return o.ellipse()
}

// clicks are the fitted numbers and the clicks that are used as they are: the
// nominal ones, or those of one draw.
type clicks struct {
	oval   oval
	h      [8]float64
	centre Point
}

func (s *sight) nominal() clicks {
	c := clicks{oval: s.rim.oval, h: s.bolts.h}
	if s.basis == RimAndCentre {
		c.centre = s.marks.Centre[0]
	}
	return c
}

// errNoPose is what no clicks of a user should bring about: a fitted ellipse is
// always the picture of some circle. It stays an error because draws of the
// Monte Carlo may leave what is possible.
var errNoPose = fault("rim", "a circle cannot look like this ellipse")

// poses returns how the face can lie before the camera: two ways for the rim
// alone; else both are the one that shows the centre where it was found.
func (s *sight) poses(c clicks, cam camera) (p [2]pose, ok bool) {
	face, centre := c.oval.face(), c.centre
	if s.basis == BoltCircle {
		face = s.bolts.face(c.h)
		centre, _ = face.apply(Point{})
	}
	p, ok = cam.poses(face)
	if s.basis != RimOnly {
		p[0] = nearer(p, centre)
		p[1] = p[0]
	}
	return p, ok
}

// midway is where the face's centre is seen, halfway between the poses.
func midway(p [2]pose) Point {
	a, b := p[0].centre, p[1].centre
	return Point{(a.X + b.X) / 2, (a.Y + b.Y) / 2}
}

// face returns the map from the picture to the face, on which the rim (or the
// bolt circle) is the unit circle and its centre the origin. The centre is a
// click or a pose's; bolts do without.
func (s *sight) face(c clicks, centre Point) (mat3, error) {
	if s.basis == BoltCircle {
		back, ok := s.bolts.face(c.h).inverse()
		if !ok {
			return back, fault("bolts", "the points are not on an evenly spaced circle")
		}
		return back, nil
	}
	if s.basis == RimAndCentre {
		centre = c.centre
	}
	back, ok := c.oval.face().inverse()
	if !ok {
		return back, errNoPose
	}
	u, _ := back.apply(centre)
	square, ok := recentre(u)
	if !ok {
		return back, fault("centre", "lies outside the rim")
	}
	return square.times(back), nil
}

// placed is where the features are on the face: directions in radians clockwise
// from its x, distances in rim radii.
type placed struct {
	keyway, to float64
	keywayDist float64
	corners    [2]Point
	feature    Point
}

// place maps the keyway and the feature onto the face; steps as for [fitCircle].
func (m Marks) place(back mat3, steps int) (placed, error) {
	var at placed
	var sum Point
	for i, k := range m.Keyway {
		p, ok := back.apply(k)
		l := p.length()
		if !ok || l == 0 {
			return at, fault("keyway", "a corner does not lie on the face")
		}
		at.corners[i] = p
		at.keywayDist += l / 2
		sum.X += p.X / l
		sum.Y += p.Y / l
	}
	if sum.length() < 1e-6 {
		return at, fault("keyway", "the corners lie opposite one another; give the two where its walls meet the rim")
	}
	at.keyway = math.Atan2(sum.Y, sum.X)
	key, points := m.feature()
	ok := true
	if len(points) == 1 {
		at.feature, ok = back.apply(points[0])
	} else {
		at.feature, ok = middle(points, back, steps)
	}
	if !ok {
		return at, fault(key, "the points are not on a circle of the face; give its middle or points all around its edge")
	}
	if at.feature.length() < 1e-9 {
		return at, fault(key, "lies in the centre and has no direction from there")
	}
	at.to = math.Atan2(at.feature.Y, at.feature.X)
	return at, nil
}

// middle returns the centre of the circle on the face whose edge the points lie
// on.
func middle(points []Point, back mat3, steps int) (Point, bool) {
	var few [16]Point
	on := few[:0]
	for _, p := range points {
		q, ok := back.apply(p)
		if !ok {
			return Point{}, false
		}
		on = append(on, q)
	}
	k, ok := fitCircle(on, func(i int, e Point) float64 { return back.stretch(points[i], on[i], e) }, steps)
	return k.c, ok && k.r < mostOutstretch
}

// signed returns the angle from keyway to dowel or from throw to keyway.
func (m Marks) signed(at placed) timing.Deg {
	a := timing.FromRadians(at.to - at.keyway)
	if len(m.Throw) > 0 {
		a = -a
	}
	return timing.WrapSigned(a, timing.Turn)
}
