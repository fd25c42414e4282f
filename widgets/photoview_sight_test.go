package widgets

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func drawSight(t *rapid.T) sight {
	s := sight{
		picW: float64(rapid.IntRange(1, 9000).Draw(t, "picture width")),
		picH: float64(rapid.IntRange(1, 9000).Draw(t, "picture height")),
	}
	s.resize(rapid.Float64Range(100, 2600).Draw(t, "width"), rapid.Float64Range(100, 1600).Draw(t, "height"))
	for range rapid.IntRange(0, 6).Draw(t, "steps") {
		moveSight(t, &s)
	}
	return s
}

// moveSight does one of the things a user can do to a sight.
func moveSight(t *rapid.T, s *sight) {
	x, y := rapid.Float64Range(-500, 3000).Draw(t, "x"), rapid.Float64Range(-500, 3000).Draw(t, "y")
	switch rapid.IntRange(0, 3).Draw(t, "what") {
	case 0:
		s.zoom(rapid.Float64Range(0.05, 20).Draw(t, "by"), x, y)
	case 1:
		s.look(x*5, y*5)
	case 2:
		s.resize(max(1, x), max(1, y))
	case 3:
		s.reveal(x, y, 30)
	}
}

func near(a, b, tolerance float64) bool { return math.Abs(a-b) <= tolerance }

func TestTransformThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSight(t)
		x, y := rapid.Float64Range(0, s.picW).Draw(t, "px"), rapid.Float64Range(0, s.picH).Draw(t, "py")
		bx, by := s.transform().Invert(s.transform().Apply(x, y))
		// 9000 pixels at 1/1000 of their size leave 13 digits of 16.
		if !near(bx, x, 1e-6) || !near(by, y, 1e-6) {
			t.Fatalf("%v, %v came back as %v, %v", x, y, bx, by)
		}
	})
}

func TestEnlargingKeepsThePointUnderThePointer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSight(t)
		// A place of the picture that is in view.
		left, top := s.transform().Apply(0, 0)
		right, bottom := s.transform().Apply(s.picW, s.picH)
		x := rapid.Float64Range(max(0, left), min(s.w, right)).Draw(t, "x")
		y := rapid.Float64Range(max(0, top), min(s.h, bottom)).Draw(t, "y")
		px, py := s.transform().Invert(x, y)
		s.zoom(rapid.Float64Range(1, 8).Draw(t, "by"), x, y)
		nx, ny := s.transform().Apply(px, py)
		if !near(nx, x, 1e-5) || !near(ny, y, 1e-5) {
			t.Fatalf("%v, %v went to %v, %v", x, y, nx, ny)
		}
	})
}

func TestZoomInAndOutAgain(t *testing.T) {
	s := sight{picW: 4000, picH: 3000}
	s.resize(1000, 700)
	s.zoom(6, 400, 300)
	was := s
	s.zoom(2, 700, 200)
	s.zoom(0.5, 700, 200)
	if !near(s.x, was.x, 1e-9) || !near(s.y, was.y, 1e-9) || !near(s.scale, was.scale, 1e-12) {
		t.Errorf("there and back: %+v, was %+v", s, was)
	}
	s.zoom(1e-9, 0, 0)
	if s.x != 2000 || s.y != 1500 || !s.fitted() {
		t.Errorf("as small as can be: %+v, want all of the picture in the middle", s)
	}
	s.zoom(1e9, 500, 350)
	if s.scale != mostEnlarge {
		t.Errorf("as large as can be: scale %v, want %v", s.scale, mostEnlarge)
	}
}

func TestPictureCannotBeLost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSight(t)
		fit := s.fitScale()
		left, top := s.transform().Apply(0, 0)
		right, bottom := s.transform().Apply(s.picW, s.picH)
		const slack = 1e-6
		if left > s.w/2-fit*s.picW/2+slack || right < s.w/2+fit*s.picW/2-slack ||
			top > s.h/2-fit*s.picH/2+slack || bottom < s.h/2+fit*s.picH/2-slack {
			t.Fatalf("%+v: the picture is at %v, %v to %v, %v", s, left, top, right, bottom)
		}
	})
}

func TestRevealedIsInView(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSight(t)
		if s.w < 100 || s.h < 100 {
			t.Skip("no room for a margin")
		}
		px, py := rapid.Float64Range(0, s.picW).Draw(t, "px"), rapid.Float64Range(0, s.picH).Draw(t, "py")
		s.reveal(px, py, 30)
		x, y := s.transform().Apply(px, py)
		// The picture's limits may keep it from the margin, not from the view.
		if x < fitMargin-1e-6 || y < fitMargin-1e-6 || x > s.w-fitMargin+1e-6 || y > s.h-fitMargin+1e-6 {
			t.Fatalf("%+v: %v, %v is at %v, %v", s, px, py, x, y)
		}
	})
}

func TestResizedViewKeepsItsPlace(t *testing.T) {
	s := sight{picW: 4000, picH: 3000}
	s.resize(1000, 700)
	s.resize(600, 500)
	if !s.fitted() || s.x != 2000 {
		t.Errorf("a fitted picture is %+v in a smaller view, want it fitted", s)
	}
	s.zoom(8, 300, 250)
	was := s
	s.resize(900, 640)
	if s.scale != was.scale || !near(s.x, was.x, 1e-9) || !near(s.y, was.y, 1e-9) {
		t.Errorf("an enlarged picture went from %+v to %+v in a larger view", was, s)
	}
}

func TestClampedPlacesAreTidyAndOnThePicture(t *testing.T) {
	s := sight{picW: 400, picH: 300}
	for _, c := range []struct{ x, y, wantX, wantY float64 }{
		{12.345, 6.789, 12.3, 6.8},
		{-5, 310, 0, 300},
		{400.04, -0.04, 400, 0},
		{math.Inf(1), math.Inf(-1), 400, 0},
	} {
		if x, y := s.clamp(c.x, c.y); x != c.wantX || y != c.wantY || math.Signbit(y) {
			t.Errorf("%v, %v: got %v, %v, want %v, %v", c.x, c.y, x, y, c.wantX, c.wantY)
		}
	}
}

func TestLoupeStandsInTheViewBesideItsPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.Float64Range(460, 2000).Draw(t, "w"), rapid.Float64Range(460, 2000).Draw(t, "h")
		x, y := rapid.Float64Range(0, w).Draw(t, "x"), rapid.Float64Range(0, h).Draw(t, "y")
		left, top, _ := standLoupe(x, y, loupeSize, w, h, rapid.IntRange(0, 3).Draw(t, "was"))
		if left < 0 || top < 0 || left+loupeSize > w || top+loupeSize > h {
			t.Fatalf("the loupe at %v, %v is not all in the view", left, top)
		}
		if d := math.Hypot(left+loupeSize/2-x, top+loupeSize/2-y) - loupeSize/2; d < loupeGap-1e-6 {
			t.Fatalf("the loupe at %v, %v comes within %v of its place", left, top, d)
		}
	})
}

func TestLoupeKeepsItsCornerWhileThereIsRoom(t *testing.T) {
	for corner := range loupeCorners {
		if _, _, c := standLoupe(500, 500, loupeSize, 1000, 1000, corner); c != corner {
			t.Errorf("from corner %d it moved to %d", corner, c)
		}
	}
	if _, _, c := standLoupe(10, 500, loupeSize, 1000, 1000, 0); loupeCorners[c].x != 1 {
		t.Errorf("at the left edge it stands in corner %d, want one on the right", c)
	}
}
