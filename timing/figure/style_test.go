package figure

import (
	"image/color"
	"math"
	"testing"
)

// eyes are how colours come through: unchanged, and the three kinds of colour
// blindness in full, as matrices on linear RGB from Machado, Oliveira and
// Fernandes, "A Physiologically-based Model for Simulation of Color Vision
// Deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (2009),
// severity 1.0; the first two as published with it, the third from memory.
var eyes = map[string][9]float64{
	"normal":       {1, 0, 0, 0, 1, 0, 0, 0, 1},
	"protanopia":   {0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998},
	"deuteranopia": {0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881},
	"tritanopia":   {1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900},
}

// linear undoes the sRGB transfer (IEC 61966-2-1).
func linear(c color.RGBA) [3]float64 {
	f := func(v uint8) float64 {
		x := float64(v) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return [3]float64{f(c.R), f(c.G), f(c.B)}
}

func seen(m [9]float64, c color.RGBA) [3]float64 {
	v := linear(c)
	var out [3]float64
	for i := range out {
		out[i] = min(max(m[3*i]*v[0]+m[3*i+1]*v[1]+m[3*i+2]*v[2], 0), 1)
	}
	return out
}

// lab is CIE 1976 L*a*b* for the white D65 (CIE 15:2004, 8.2.1).
func lab(v [3]float64) [3]float64 {
	x := 0.4124*v[0] + 0.3576*v[1] + 0.1805*v[2]
	y := 0.2126*v[0] + 0.7152*v[1] + 0.0722*v[2]
	z := 0.0193*v[0] + 0.1192*v[1] + 0.9505*v[2]
	f := func(t float64) float64 {
		if t > 216.0/24389 {
			return math.Cbrt(t)
		}
		return (24389.0/27*t + 16) / 116
	}
	fx, fy, fz := f(x/0.9505), f(y), f(z/1.089)
	return [3]float64{116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)}
}

func difference(m [9]float64, a, b color.RGBA) float64 {
	p, q := lab(seen(m, a)), lab(seen(m, b))
	return math.Sqrt((p[0]-q[0])*(p[0]-q[0]) + (p[1]-q[1])*(p[1]-q[1]) + (p[2]-q[2])*(p[2]-q[2]))
}

// contrast is the ratio of WCAG 2.2, "contrast ratio".
func contrast(a, b color.RGBA) float64 {
	lum := func(c color.RGBA) float64 {
		v := linear(c)
		return 0.2126*v[0] + 0.7152*v[1] + 0.0722*v[2]
	}
	la, lb := lum(a), lum(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// A CIE 1976 difference of about 2.3 is just noticed (Mahy, Van Eycken and
// Oosterlinck 1994); strokes are asked for more than eight times that,
// whichever two, as cylinders bring any two side by side; the two injection
// marks, which are small, for more than ten times.
func TestColoursStayApart(t *testing.T) {
	t.Parallel()
	pairs := []struct {
		a, b  Role
		least float64
	}{
		{StrokePower, StrokeExhaust, 20}, {StrokePower, StrokeIntake, 20}, {StrokePower, StrokeCompression, 20},
		{StrokeExhaust, StrokeIntake, 20}, {StrokeExhaust, StrokeCompression, 20}, {StrokeIntake, StrokeCompression, 20},
		{Commanded, Actual, 30}, {IntakeValve, ExhaustValve, 20}, {Tooth, Steel, 20}, {Gap, Steel, 20},
	}
	for _, st := range screens() {
		for eye, m := range eyes {
			for _, p := range pairs {
				if got := difference(m, st.Color(p.a), st.Color(p.b)); got < p.least {
					t.Errorf("%s, %s: %v and %v differ by %.1f, want at least %g", st.Name, eye, p.a, p.b, got, p.least)
				}
			}
		}
	}
}

// In grey, as a copier or a screen without colour shows them (CIE 1976 lightness of
// the luminance), any two strokes differ by at least twice what is just noticed,
// and power from compression by 20. Paper, which is black and white, has patterns.
func TestStrokesInGrey(t *testing.T) {
	t.Parallel()
	strokes := []Role{StrokePower, StrokeExhaust, StrokeIntake, StrokeCompression}
	for _, st := range screens() {
		grey := func(r Role) float64 { return lab(linear(st.Color(r)))[0] }
		for i, a := range strokes {
			for _, b := range strokes[:i] {
				if got := math.Abs(grey(a) - grey(b)); got < 5 {
					t.Errorf("%s: %v and %v differ in grey by %.1f, want at least 5", st.Name, a, b, got)
				}
			}
		}
		if got := math.Abs(grey(StrokePower) - grey(StrokeCompression)); got < 20 {
			t.Errorf("%s: power and compression differ in grey by %.1f, want at least 20", st.Name, got)
		}
	}
}

// screens are the styles that have colours.
func screens() []Style { return []Style{Light(), Dark(), BoardLight(), BoardDark()} }

// Text needs 4.5:1 and marks 3:1 against what they stand on (WCAG 2.2, success
// criteria 1.4.3 and 1.4.11).
func TestContrast(t *testing.T) {
	t.Parallel()
	grounds := []Role{Surface, Band, StrokePower, StrokeExhaust, StrokeIntake, StrokeCompression}
	for _, st := range []Style{Light(), Dark(), Paper(), BoardLight(), BoardDark()} {
		check := func(mark Role, least float64, on ...Role) {
			t.Helper()
			for _, g := range on {
				if got := contrast(st.Color(mark), st.Color(g)); got < least {
					t.Errorf("%s: %v on %v has a contrast of %.2f, want at least %g", st.Name, mark, g, got, least)
				}
			}
		}
		check(Ink, 4.5, grounds...)
		check(Ink, 4.5, Steel, Throw)
		check(Faint, 4.5, Surface, Band)
		check(Warning, 4.5, Surface, Band)
		check(Cursor, 4.5, Surface)
		check(TDC, 3, grounds...)
		check(Actual, 3, grounds...)
		check(Commanded, 3, grounds...)
		check(Measured, 3, Nose, Surface)
		check(Ghost, 3, Surface, Throw, Nose)
		check(Sensor, 3, Surface)
	}
}

// On paper nothing but the pattern may tell strokes apart, and every stroke has
// its own.
func TestPaperPatterns(t *testing.T) {
	t.Parallel()
	st := Paper()
	type pattern struct {
		turn float64
		dots bool
	}
	seen := map[pattern]Role{}
	for r := StrokePower; r <= StrokeCompression; r++ {
		h := st.Look(r).Hatch
		if h == nil {
			t.Fatalf("%v has no pattern on paper", r)
		}
		p := pattern{h.Turn, h.Dots}
		if other, twice := seen[p]; twice {
			t.Errorf("%v and %v have the same pattern", r, other)
		}
		seen[p] = r
	}
	for r := range roles {
		c := st.Color(r)
		if c.R != c.G || c.G != c.B {
			t.Errorf("%v is %v on paper, want grey", r, c)
		}
	}
}
