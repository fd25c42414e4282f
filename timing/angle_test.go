package timing

import (
	"go/parser"
	"go/token"
	"io/fs"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

func TestWrap(t *testing.T) {
	for _, c := range []struct{ in, cycle, wrapped, signed Deg }{
		{0, 720, 0, 0}, {720, 720, 0, 0}, {-720, 720, 0, 0}, {430, 720, 430, -290}, {360, 720, 360, 360}, {-360, 720, 360, 360},
		{-1, 720, 719, -1}, {1439.5, 720, 719.5, -0.5}, {180, 360, 180, 180}, {-180, 360, 180, 180}, {181, 360, 181, -179},
		{-1e-300, 360, 0, 0},
	} {
		if got := Wrap(c.in, c.cycle); got != c.wrapped || math.Signbit(float64(got)) {
			t.Errorf("Wrap(%g, %g) = %g, want %g", float64(c.in), float64(c.cycle), float64(got), float64(c.wrapped))
		}
		if got := WrapSigned(c.in, c.cycle); got != c.signed {
			t.Errorf("WrapSigned(%g, %g) = %g, want %g", float64(c.in), float64(c.cycle), float64(got), float64(c.signed))
		}
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if got := Wrap(Deg(bad), 720); !math.IsNaN(float64(got)) {
			t.Errorf("Wrap(%g) = %g, want NaN", bad, float64(got))
		}
	}
}

func TestLawsOfAngles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cycle := rapid.SampledFrom([]Deg{360, 720}).Draw(t, "cycle")
		a := Deg(rapid.Float64Range(-1e6, 1e6).Draw(t, "a"))
		b := Deg(rapid.Float64Range(-1e6, 1e6).Draw(t, "b"))
		w := Wrap(a, cycle)
		if w < 0 || w >= cycle || Wrap(w, cycle) != w {
			t.Fatalf("Wrap(%g) = %g", float64(a), float64(w))
		}
		s := WrapSigned(a, cycle)
		if s <= -cycle/2 || s > cycle/2 {
			t.Fatalf("WrapSigned(%g) = %g", float64(a), float64(s))
		}
		if d := Difference(a, b, cycle); math.Abs(float64(Difference(a+d, b, cycle))) > 1e-6 {
			t.Fatalf("going %g from %g does not lead to %g", float64(d), float64(a), float64(b))
		}
		// Shifted by delta, then by -delta, is nothing.
		if back := Difference(a, Wrap(Wrap(a+b, cycle)-b, cycle), cycle); math.Abs(float64(back)) > 1e-6 {
			t.Fatalf("there and back from %g is off by %g", float64(a), float64(back))
		}
		if c := a.Cam(cycle).Crank(cycle); math.Abs(float64(c-a)) > 1e-6 {
			t.Fatalf("%g crank degrees came back from the cam as %g", float64(a), float64(c))
		}
	})
}

// Wrapping is math.Mod to the last bit, however many turns away.
func TestWrapIsTheRemainder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cycle := Deg(rapid.OneOf(rapid.SampledFrom([]float64{360, 720}), rapid.Float64Range(1e-3, 1e4)).Draw(t, "cycle"))
		a := Deg(rapid.OneOf(rapid.Float64Range(-1e5, 1e5), rapid.Float64()).Draw(t, "a"))
		if rapid.Bool().Draw(t, "beside a whole number of cycles") {
			a = Deg(math.Nextafter(float64(cycle)*math.Round(float64(a/cycle)), float64(a)))
		}
		want := math.Mod(float64(a), float64(cycle))
		if want < 0 {
			want += float64(cycle)
		}
		if want == float64(cycle) {
			want = 0
		}
		if got := Wrap(a, cycle); float64(got) != want && !math.IsNaN(want) {
			t.Fatalf("Wrap(%g, %g) = %g, want %g", float64(a), float64(cycle), float64(got), want)
		}
	})
}

func TestCamTurnsAtHalfSpeedInAFourStroke(t *testing.T) {
	if got := CamDeg(30).Crank(720); got != 60 {
		t.Errorf("30 cam degrees of a four-stroke are %g crank degrees, want 60", float64(got))
	}
	if got := CamDeg(30).Crank(360); got != 30 {
		t.Errorf("30 cam degrees of a two-stroke are %g crank degrees, want 30", float64(got))
	}
}

// Standard rotation is the same whichever way it is said: anticlockwise seen
// from the output (flywheel) end, clockwise seen from the other (SAE J824 and
// DIN 73021, as quoted in secondary copies).
func TestSignedAngle(t *testing.T) {
	for _, c := range []struct {
		from     End
		rotation Sense
		side     Sense
		want     Deg
	}{
		{Nose, Clockwise, Clockwise, 12.5},
		{Nose, Clockwise, Anticlockwise, -12.5},
		{Flywheel, Clockwise, Anticlockwise, 12.5},
		{Flywheel, Clockwise, Clockwise, -12.5},
		{Nose, Anticlockwise, Anticlockwise, 12.5},
		{Flywheel, Anticlockwise, Clockwise, 12.5},
	} {
		v := View{c.from, c.rotation}
		if got := v.Signed(12.5, c.side); got != c.want {
			t.Errorf("%v of a %v engine, %v: %g, want %g", c.from, c.rotation, c.side, float64(got), float64(c.want))
		}
	}
}

func TestLookingFromTheOtherEndTwiceIsNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := View{End(rapid.IntRange(0, 1).Draw(t, "end")), Sense(rapid.IntRange(0, 1).Draw(t, "rotation"))}
		side := Sense(rapid.IntRange(0, 1).Draw(t, "side"))
		a := Deg(rapid.Float64Range(0.001, 180).Draw(t, "angle"))
		other := View{1 - v.From, v.Rotation}
		if other.Signed(a, side) != -v.Signed(a, side) || other.Signed(a, side.Other()) != v.Signed(a, side) {
			t.Fatal("the other end turns the side round")
		}
		m, s := v.Seen(v.Signed(a, side))
		if m != a || s != side {
			t.Fatalf("%g %v came back as %g %v", float64(a), side, float64(m), s)
		}
	})
}

// JCGM 100:2008, 5.1.2: independent contributions add in
// quadrature; the 95 % interval of a normal is 1.96 standard uncertainties.
func TestMeasured(t *testing.T) {
	d := Measured{10, 0.3}.Minus(Measured{4, 0.4})
	if d.Value != 6 || math.Abs(float64(d.U)-0.5) > 1e-15 {
		t.Errorf("difference %+v, want 6 ± 0.5", d)
	}
	lo, hi := Measured{0, 1}.Interval95()
	if math.Abs(float64(hi)-1.959964) > 1e-6 || lo != -hi {
		t.Errorf("interval %g to %g", float64(lo), float64(hi))
	}
}

func TestWordsRoundTrip(t *testing.T) {
	for _, s := range []Sense{Clockwise, Anticlockwise} {
		if got, ok := ParseSense(s.String()); !ok || got != s {
			t.Errorf("%v came back as %v", s, got)
		}
	}
	for _, e := range []End{Nose, Flywheel} {
		if got, ok := ParseEnd(e.String()); !ok || got != e {
			t.Errorf("%v came back as %v", e, got)
		}
	}
	if _, ok := ParseSense("left"); ok {
		t.Error("left is no sense of turning")
	}
	if _, ok := ParseEnd("front"); ok {
		t.Error("front is no end")
	}
}

// The arithmetic never imports the window.
func TestNoWindowInTheArithmetic(t *testing.T) {
	files := 0
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		files++
		for _, i := range f.Imports {
			for _, bad := range []string{"fyne.io", "pinphase.org/pinphase/app", "pinphase.org/pinphase/widgets", "pinphase.org/pinphase/cmd"} {
				if strings.HasPrefix(strings.Trim(i.Path.Value, `"`), bad) {
					t.Errorf("%s imports %s", path, i.Path.Value)
				}
			}
		}
		return nil
	})
	if err != nil || files < 20 {
		t.Fatalf("read %d files: %v", files, err)
	}
}
