package photo

import (
	"fmt"
	"math"
)

// Warning is something about the picture or the marks that the reader of the
// angle should know. Value is the number that goes with it.
type Warning struct {
	Kind  Kind
	Value float64
}

// Kind is what a warning is about.
type Kind int

// The kinds, with what Value is.
const (
	Oblique        Kind = iota // tilt, degrees
	Near                       // distance, rim diameters
	Perspective                // its part of the uncertainty, degrees
	ShortArc                   // arc of the rim covered, degrees
	NoResidual                 // points on the rim: five, which any ellipse fits
	RimMisfit                  // rms distance, px
	CornersOffRim              // distance of the farther corner, percent of the rim's radius
	WideKeyway                 // angle between its corners, degrees
	CentreUnlikely             // distance from where a camera would see the centre, px
	BoltMisfit                 // rms distance, px
	RimOffBolts                // distance of the rim's centre from the bolts', percent of its radius
	RimUnfit                   // 0; the rim has no ellipse, the bolts alone serve
	Outside                    // number of marks outside the picture
	Standing                   // shift of a mark 1 mm above or below the face, mm
	ThrowBehind                // the same, for the throw
	FrontCamera                // 0; the lens is that of a front camera
)

// Limits of what is taken without a warning; chosen for this program.
const (
	obliqueDeg       = 35.0
	nearAlone        = 3.0 // rim diameters, when the rim alone serves
	nearAnyway       = 1.5
	shortArcDeg      = 180.0
	offRimShare      = 0.06
	wideKeywayDeg    = 60.0
	standingDeg      = 10.0
	throwDeg         = 2.0
	perspectiveShare = 0.7 // of the uncertainty
	perspectiveDeg   = 0.25
)

// String returns the warning as a sentence.
func (w Warning) String() string {
	format := [...]string{
		Oblique:        "the camera looked %.0f° askew at the face; up to 35° can be trusted, less is better",
		Near:           "the camera was only about %.1f rim diameters away; step back and zoom in",
		Perspective:    "±%.1f° of the uncertainty comes from the unknown perspective; mark the centre drilling or a bolt circle, or photograph squarer from farther away",
		ShortArc:       "the points cover only %.0f° of the rim; spread them farther round",
		NoResidual:     "%.0f points fit any ellipse, a wrong one would not show; mark eight or more",
		RimMisfit:      "the rim points miss the ellipse by %.1f px; one of them may lie off the rim",
		CornersOffRim:  "a corner of the keyway lies %.0f %% of the radius off the rim; mark where its walls meet the rim",
		WideKeyway:     "the corners of the keyway lie %.0f° apart; are they both of the keyway?",
		CentreUnlikely: "the centre lies %.0f px from where a camera would see that of the rim; is it marked in the plane of the face?",
		BoltMisfit:     "the bolts miss an evenly spaced circle by %.1f px",
		RimOffBolts:    "the rim's centre lies %.0f %% of its radius off the bolts'; do both lie in one plane?",
		RimUnfit:       "no ellipse fits the rim points; the bolts alone were used",
		Outside:        "%.0f of the marks lie outside the picture; do they belong to it?",
		Standing:       "at this tilt a mark that is 1 mm above or below the face is %.2f mm out; mark edges where they meet the face",
		ThrowBehind:    "the throw lies behind the face: at this tilt each millimetre of depth moves it by %.2f mm; photograph squarer",
		FrontCamera:    "the picture was taken with a front camera, which may store it mirrored; photograph again with the rear camera, or make sure that writing in it can be read",
	}[w.Kind]
	if w.Kind == RimUnfit || w.Kind == FrontCamera {
		return format
	}
	return fmt.Sprintf(format, w.Value)
}

// warn adds what the reader of the angle should know.
func (s *sight) warn(r *Result, at placed) {
	add := func(when bool, k Kind, v float64) {
		if when {
			r.Warnings = append(r.Warnings, Warning{k, v})
		}
	}
	tilt := float64(r.Tilt.Value)
	shift := math.Tan(r.Tilt.Value.Radians())
	add(tilt > obliqueDeg, Oblique, tilt)
	if p, ok := s.poses(s.nominal(), s.lens.usual()); ok && !s.lens.guessed {
		away := p[0].distance
		add(away < nearAnyway || s.basis == RimOnly && away < nearAlone, Near, away)
	}
	persp := float64(r.PerspectiveU)
	add(persp > perspectiveDeg && persp > perspectiveShare*float64(r.Clockwise.U), Perspective, persp)
	add(len(s.marks.Throw) > 0 && tilt > throwDeg, ThrowBehind, shift)
	add(len(s.marks.Throw) == 0 && tilt > standingDeg, Standing, shift)

	expected := s.believed
	if !r.DefaultU {
		expected = r.UPx
	}
	fitted := s.rimErr == nil && len(s.marks.Rim) > 0
	add(fitted && float64(s.rim.span) < shortArcDeg, ShortArc, float64(s.rim.span))
	add(fitted && s.basis != BoltCircle && s.rim.dof == 0, NoResidual, float64(len(s.marks.Rim)))
	add(fitted && s.rim.rms > 3*expected, RimMisfit, s.rim.rms)
	add(s.rimErr != nil, RimUnfit, 0)
	add(s.basis == BoltCircle && s.bolts.rms > 3*expected, BoltMisfit, s.bolts.rms)
	s.warnKeyway(r, at, add)
	if off, ok := s.centreOff(expected); ok {
		add(true, CentreUnlikely, off)
	}
	if off, ok := s.rimOffBolts(r, expected); ok {
		add(true, RimOffBolts, off)
	}
	add(s.picture.Front, FrontCamera, 0)
	n := s.marks.outside(s.picture)
	add(n > 0, Outside, float64(n))
}

func (s *sight) warnKeyway(r *Result, at placed, add func(bool, Kind, float64)) {
	if s.basis != BoltCircle {
		off := 0.0
		for _, p := range at.corners {
			off = math.Max(off, math.Abs(p.length()-1))
		}
		add(off > math.Max(offRimShare, 4*r.UPx/s.seen.Minor), CornersOffRim, 100*off)
	}
	a, b := at.corners[0], at.corners[1]
	wide := math.Abs(math.Atan2(a.X*b.Y-a.Y*b.X, a.X*b.X+a.Y*b.Y)) * 180 / math.Pi
	add(wide > wideKeywayDeg, WideKeyway, wide)
}

// centreOff returns how far the marked centre lies from where any plausible
// camera would see the centre of the rim, when that is more than clicks explain.
func (s *sight) centreOff(expected float64) (float64, bool) {
	if s.basis != RimAndCentre {
		return 0, false
	}
	ends := s.lens.ends()
	near, ok1 := ends[0].poses(s.rim.face())
	far, ok2 := ends[1].poses(s.rim.face())
	if !ok1 || !ok2 {
		return 0, false
	}
	c := s.marks.Centre[0]
	off := math.Inf(1)
	for k := range near { // the two ends may name the poses in either order
		for _, f := range far {
			if f.centre.minus(nearer(far, near[k].centre).centre).length() == 0 {
				off = math.Min(off, toSegment(c, near[k].centre, f.centre))
			}
		}
	}
	swing := s.seen.Major * s.seen.Major / ends[0].f * s.lens.axisU
	return off, off > 3*math.Hypot(1.5*expected, swing)+0.01*s.seen.Major
}

func toSegment(p, a, b Point) float64 {
	d := b.minus(a)
	t := 0.0
	if l2 := d.X*d.X + d.Y*d.Y; l2 > 0 {
		t = math.Max(0, math.Min(1, ((p.X-a.X)*d.X+(p.Y-a.Y)*d.Y)/l2))
	}
	return p.minus(Point{a.X + t*d.X, a.Y + t*d.Y}).length()
}

// rimOffBolts returns how far the rim's centre on the face lies from the
// bolts', in percent of the rim's radius, when that is more than clicks explain.
func (s *sight) rimOffBolts(r *Result, expected float64) (float64, bool) {
	if s.basis != BoltCircle || s.rimErr != nil || len(s.marks.Rim) == 0 {
		return 0, false
	}
	back, ok := r.face.inverse()
	if !ok {
		return 0, false
	}
	on := make([]Point, len(s.marks.Rim))
	for i, p := range s.marks.Rim {
		if on[i], ok = back.apply(p); !ok {
			return 0, false
		}
	}
	k, ok := fitCircle(on, nil, fitSteps)
	if !ok {
		return 0, false
	}
	off := k.c.length() / k.r
	return 100 * off, off > 0.02+4*expected/s.seen.Minor
}

// outside counts the marks that lie outside the picture, none when its size is
// not known.
func (m Marks) outside(p Info) int {
	if p.Width <= 0 || p.Height <= 0 {
		return 0
	}
	n := 0
	w, h := float64(p.Width), float64(p.Height)
	for _, l := range [][]Point{m.Rim, m.Keyway, m.Dowel, m.Throw, m.Bolts, m.Centre} {
		for _, p := range l {
			if p.X < 0 || p.Y < 0 || p.X > w || p.Y > h {
				n++
			}
		}
	}
	return n
}
