package figure

import (
	"image"
	"image/color"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Whatever the zoom, points lie where the picture's pixels do, and those far
// outside the view cost nothing.
func TestPhotoPointsFollowThePicture(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		in := aPhoto()
		in.Scale = math.Exp(rapid.Float64Range(-4, 4).Draw(t, "log scale"))
		in.X, in.Y = rapid.Float64Range(-5000, 500).Draw(t, "x"), rapid.Float64Range(-5000, 500).Draw(t, "y")
		d := PhotoMarks(in)
		n := 0
		for _, p := range in.Points {
			x, y := in.X+p.X*in.Scale, in.Y+p.Y*in.Scale
			if (Rect{0, 0, in.W, in.H}).Holds(x, y) {
				n++
				h, ok := d.At(x, y)
				if !ok {
					t.Errorf("nothing at the point %v, %g, %g in the view", p.Kind, x, y)
				} else if math.Abs(h.W-h.H) > 1e-9 || h.W < 24-1e-9 {
					t.Errorf("the hit %v is too small for a glove", h)
				}
			}
		}
		view := Rect{0, 0, in.W, in.H}.Grown(60)
		for _, s := range d.Shapes {
			b := s.Bounds()
			if !view.Holds(b.X, b.Y) || !view.Holds(b.Right(), b.Bottom()) {
				t.Errorf("%.100v reaches far out of the view", s)
			}
		}
		if len(d.Hits) < n {
			t.Errorf("%d hits for %d points in the view", len(d.Hits), n)
		}
	})
}

// The drawn rim is the ellipse, and the rays end at the features.
func TestPhotoRimAndRays(t *testing.T) {
	t.Parallel()
	in := aPhoto()
	in.Points, in.Value = nil, ""
	d := PhotoMarks(in)
	e := *in.Rim
	sin, cos := math.Sincos(e.Turned * math.Pi / 180)
	onRim := 0
	ends := map[point]bool{}
	for _, s := range d.Shapes {
		p := s.(Path)
		if p.Stroke == Measured {
			ends[point{p.Segs[len(p.Segs)-1].X, p.Segs[len(p.Segs)-1].Y}] = true
		}
		if p.Stroke != Commanded {
			continue
		}
		for _, q := range p.Segs {
			x, y := (q.X-in.X)/in.Scale-e.X, (q.Y-in.Y)/in.Scale-e.Y
			u, v := (x*cos+y*sin)/e.Major, (y*cos-x*sin)/e.Minor
			if math.Abs(u*u+v*v-1) > 1e-9 {
				t.Fatalf("%g, %g is not on the rim", q.X, q.Y)
			}
			onRim++
		}
	}
	if onRim < 48 {
		t.Errorf("the rim has %d points", onRim)
	}
	for _, p := range []*PhotoPlace{in.From, in.To} {
		if !ends[point{in.X + p.X*in.Scale, in.Y + p.Y*in.Scale}] {
			t.Errorf("no ray ends at %v", *p)
		}
	}
}

// Without an arc of its own the angle is drawn after the rim's shape: on a rim
// that is squeezed to an ellipse it begins and ends on the rays.
func TestPhotoArcJoinsTheRays(t *testing.T) {
	t.Parallel()
	in := aPhoto()
	m := photoMarks{in: in, k: 1}
	arc := m.arcLine()
	c := m.at(*in.Centre)
	way := func(p point) float64 { return math.Atan2(p.y-c.y, p.x-c.x) }
	for _, r := range []struct {
		end point
		ray PhotoPlace
	}{{arc[0], *in.From}, {arc[len(arc)-1], *in.To}} {
		if d := math.Remainder(way(r.end)-way(m.at(r.ray)), 2*math.Pi); math.Abs(d) > 1e-9 {
			t.Errorf("an end of the arc lies %g rad beside its ray", d)
		}
	}
	own := []PhotoPlace{{1, 2}, {3, 4}}
	m.in.Arc = own
	if got := m.arcLine(); len(got) != 2 || got[1] != m.at(own[1]) {
		t.Errorf("the arc that is given is drawn as %v", got)
	}
}

// Every kind has a form of its own, and the selected point is set off from the
// others by form too.
func TestPhotoKindsDifferInForm(t *testing.T) {
	t.Parallel()
	outline := func(k PhotoKind, selected bool) string {
		d := PhotoMarks(PhotoMarksInput{W: 100, H: 100, Scale: 1, Points: []PhotoPoint{{PhotoPlace: PhotoPlace{50, 50}, Kind: k, Selected: selected}}})
		s := ""
		for _, shape := range d.Shapes {
			p := shape.(Path)
			p.Stroke, p.Fill = Ink, None // form alone
			s += p.String() + "\n"
		}
		return s
	}
	seen := map[string]PhotoKind{}
	for k := RimPoint; k <= CentrePoint; k++ {
		o := outline(k, false)
		if other, twice := seen[o]; twice {
			t.Errorf("%v and %v look alike", k, other)
		}
		seen[o] = k
		if o == outline(k, true) {
			t.Errorf("%v looks the same when it is selected", k)
		}
	}
}

// On a white picture and on a black one every line is seen: it, or the wider one
// beneath it, has a contrast of 3:1 with the picture (WCAG 2.2, 1.4.11).
func TestPhotoMarksOnAnyPicture(t *testing.T) {
	t.Parallel()
	for _, st := range []Style{Light(), Dark()} {
		for _, f := range photoForms {
			for _, ground := range []color.RGBA{{0, 0, 0, 255}, {128, 128, 128, 255}, {255, 255, 255, 255}} {
				line, halo := contrast(st.Color(f.role), ground), contrast(st.Color(Surface), ground)
				if max(line, halo) < 3 {
					t.Errorf("%s: %v on %v has a contrast of %.1f, with its halo %.1f", st.Name, f.role, ground, line, halo)
				}
			}
			if c := contrast(st.Color(f.role), st.Color(Surface)); c < 3 {
				t.Errorf("%s: %v differs from its halo by %.1f", st.Name, f.role, c)
			}
		}
	}
	img := (&Raster{Clear: true}).Render(PhotoMarks(aPhoto()), Light(), 640, 480, 1)
	if got := img.RGBAAt(5, 5); got.A != 0 {
		t.Error("the picture is covered where nothing is marked")
	}
	if image.Rect(0, 0, 640, 480) != img.Rect {
		t.Errorf("the overlay is %v", img.Rect)
	}
}

// Where points are drawn by others the value stands clear of them too.
func TestPhotoValueStandsClear(t *testing.T) {
	t.Parallel()
	in := aPhoto()
	in.Points = nil
	box := func() Rect {
		shapes := PhotoMarks(in).Shapes
		return shapes[len(shapes)-2].Bounds() // the last but the text
	}
	first := box()
	in.Beside = []PhotoPlace{{(first.X + first.W/2 - in.X) / in.Scale, (first.Y + first.H/2 - in.Y) / in.Scale}}
	second := box()
	if second.Meets(Rect{first.X + first.W/2, first.Y + first.H/2, 0.1, 0.1}) {
		t.Errorf("the value stays at %v, on a point", second)
	}
	in.Beside[0].X += 1e5
	if got := box(); got != first {
		t.Errorf("for a point far away the value goes from %v to %v", first, got)
	}
}

// A rim that is only proposed is drawn dashed, and one that is fitted is not.
func TestProposedRimIsDashed(t *testing.T) {
	t.Parallel()
	dashed := func(proposed bool) (n int) {
		in := aPhoto()
		in.Points, in.Value, in.Centre, in.From, in.To, in.Proposed = nil, "", nil, nil, nil, proposed
		for _, s := range PhotoMarks(in).Shapes {
			if p, ok := s.(Path); ok && len(Paper().Look(p.Stroke).Dash) > 0 {
				n++
			}
		}
		return n
	}
	if n := dashed(true); n != 1 {
		t.Errorf("proposed, %d lines are dashed", n)
	}
	if n := dashed(false); n != 0 {
		t.Errorf("fitted, %d lines are dashed", n)
	}
}
