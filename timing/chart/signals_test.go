package chart

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

func signalsOf(t testing.TB, j job.Job, o SignalsOptions) figure.SignalsInput {
	t.Helper()
	in, err := Signals(j, o)
	if err != nil {
		t.Fatal(err)
	}
	return in
}

// The demo job's wheel is 28 degrees behind: true dead centres lie 28 before those
// the controller counts, cam edges 28 before where they belong, and the crank row
// looks the same. By hand cam tooth 2 belongs at 70.
func TestSignalsShowTheFinding(t *testing.T) {
	t.Parallel()
	in := signalsOf(t, sample.Demo(t), SignalsOptions{})
	if len(in.Groups) != 2 {
		t.Fatalf("%d groups", len(in.Groups))
	}
	right, is := in.Groups[0], in.Groups[1]
	for i := range right.Rows[0].Lo {
		if math.Abs(right.Rows[0].Lo[i]-is.Rows[0].Lo[i]) > 1e-6 || math.Abs(right.Rows[0].Hi[i]-is.Rows[0].Hi[i]) > 1e-6 {
			t.Fatalf("the crank rows differ in column %d", i)
		}
	}
	var belongs, falls float64
	for _, m := range right.Rows[1].Marks {
		if m.Label == "2" {
			belongs = m.At
		}
	}
	for _, m := range is.Rows[1].Marks {
		if m.Label == "2" {
			falls = m.At
		}
	}
	a := is.Rows[1].Arrows[0]
	if belongs != 70 || math.Abs(falls-42) > 0.05 || math.Abs(a.From-70) > 0.05 || math.Abs(a.To-42) > 0.05 || a.Label != "28° early" {
		t.Errorf("cam tooth 2 belongs at %g, falls at %g, arrow %+v", belongs, falls, a)
	}
	if len(right.Rows[1].Arrows) != 0 {
		t.Error("an arrow where nothing is wrong")
	}
	counted, real := 0, 0
	for _, l := range is.Lines {
		if l.Label != "TDC 5" { // fires at 120
			continue
		}
		if l.Counted {
			counted++
			if l.At != 120 {
				t.Errorf("TDC 5 is counted at %g", l.At)
			}
		} else if real++; math.Abs(l.At-92) > 0.05 {
			t.Errorf("TDC 5 is at %g", l.At)
		}
	}
	if counted != 1 || real != 1 || slices.ContainsFunc(right.Lines, func(l figure.SignalLine) bool { return l.Counted }) {
		t.Errorf("%d counted and %d true dead centres of cylinder 5", counted, real)
	}
	// The gap of 60-2 before tooth 1 at 276, twice a cycle.
	gaps := right.Rows[0].Gaps
	if len(gaps) != 2 || math.Abs(gaps[0].To-273) > 1e-6 || math.Abs(gaps[0].From-261) > 1e-6 {
		t.Errorf("gaps %+v", gaps)
	}
	// With the wires exchanged the trace, and its gap, lies half a pitch before what is counted.
	wires := signalsOf(t, sample.Demo(t), SignalsOptions{Of: finding.SignalOptions{Fault: finding.WiresReversed}})
	if g := wires.Groups[1].Rows[0].Gaps[0]; math.Abs(g.To-270) > 1e-6 {
		t.Errorf("with the wires exchanged the gap is at %+v", g)
	}
	if got := right.Rows[0].Range + ", " + right.Rows[1].Range; got != "±2.2 V, 0 to 5 V" {
		t.Errorf("rows span %q", got)
	}
}

func TestSignalsOnlyRight(t *testing.T) {
	t.Parallel()
	in := signalsOf(t, sample.Demo(t), SignalsOptions{Of: finding.SignalOptions{Fault: finding.Right}})
	if len(in.Groups) != 1 {
		t.Errorf("%d groups of a right engine", len(in.Groups))
	}
	j := sample.Demo(t)
	j.CamWheel = nil
	if _, err := Signals(j, SignalsOptions{}); err == nil {
		t.Error("a figure without a cam wheel")
	}
	in = signalsOf(t, j, SignalsOptions{Of: finding.SignalOptions{CrankAlone: true}})
	if len(in.Groups) != 2 || len(in.Groups[0].Rows) != 1 {
		t.Errorf("%d groups without a cam wheel", len(in.Groups))
	}
}

// What a window shows is what the traces are: each column holds the voltage at
// any angle in it, whatever the window.
func TestSignalColumns(t *testing.T) {
	t.Parallel()
	p, err := NewPredicted(sample.Demo(t), finding.SignalOptions{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.Float64Range(-3000, 3000).Draw(t, "from")
		span := rapid.SampledFrom([]float64{3, 40, 720, 9000, 200000}).Draw(t, "span")
		n := rapid.IntRange(40, 900).Draw(t, "columns")
		w := AngleWindow(from, from+span, n, 720)
		in := p.Input(w)
		i := rapid.IntRange(0, n-1).Draw(t, "column")
		// What is kept is kept to a tenth of a degree: ask there, clear of the ends.
		at := math.Floor((w.Angles[i]+w.Angles[i+1])/2*10)/10 + 0.05
		if at < w.Angles[i] || at > w.Angles[i+1] {
			return
		}
		s := p.Found
		theta := s.Of.True(timing.Deg(at), s.Fitting)
		for r, want := range []float64{s.Of.CrankVolts(theta, s.RPM, s.Fitting), s.Of.CamVolts(theta, s.RPM, s.Fitting)} {
			row := in.Groups[1].Rows[r]
			slack := 0.02 * (row.Max - row.Min) // between the points a column is made of
			if want < row.Lo[i]-slack || want > row.Hi[i]+slack {
				if edge := s.Of.CamVolts(theta+0.1, s.RPM, s.Fitting) != s.Of.CamVolts(theta-0.1, s.RPM, s.Fitting); r == 1 && edge {
					continue
				}
				t.Fatalf("column %d of %g..%g (%d) in row %d is %g to %g, at %g there are %g V", i, from, from+span, n, r, row.Lo[i], row.Hi[i], at, want)
			}
		}
		for _, g := range in.Groups {
			for _, r := range g.Rows {
				if len(r.Lo) != n || len(r.Hi) != n || len(r.Marks) > n {
					t.Fatalf("%d columns, %d marks", len(r.Lo), len(r.Marks))
				}
			}
		}
	})
}

// The cursor of the crank goes to the ECU's angle and back.
func TestSignalCursor(t *testing.T) {
	t.Parallel()
	p, err := NewPredicted(sample.Demo(t), finding.SignalOptions{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for at := timing.Deg(0); at < 720; at += 7 {
		if back := p.TrueAt(p.Cursor(at)); math.Abs(float64(timing.Difference(at, back, 720))) > 1e-9 {
			t.Fatalf("%g comes back as %g", float64(at), float64(back))
		}
	}
	at := timing.Deg(100)
	in := signalsOf(t, sample.Demo(t), SignalsOptions{Cursor: &at})
	if math.Abs(*in.Cursor-(100+p.Found.WheelErrorDeg)) > 1e-6 {
		t.Errorf("the cursor of 100 is at %g", *in.Cursor)
	}
}

// Where the axis is not the angle, everything is placed by it, and what lies
// nowhere on it is left out.
func TestSignalsOnAnotherAxis(t *testing.T) {
	t.Parallel()
	p, err := NewPredicted(sample.Demo(t), finding.SignalOptions{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	w := AngleWindow(0, 720, 720, 0)
	w.From, w.To, w.Axis = 0, 1, figure.SignalAxis{Unit: " s"}
	for i := 360; i <= 720; i++ {
		w.Angles[i] = math.NaN() // nothing is known there
	}
	w.Place = func(a float64) (float64, bool) { return a / 720, a < 300 }
	in := p.Input(w)
	row := in.Groups[0].Rows[0]
	if !math.IsNaN(row.Lo[400]) || math.IsNaN(row.Lo[100]) {
		t.Error("columns without an angle have a trace")
	}
	for _, m := range row.Marks {
		if m.At >= 300.0/720 {
			t.Errorf("tooth %s at %g", m.Label, m.At)
		}
	}
	if len(row.Marks) < 40 || in.Axis.Title != string(wordSignalTime) {
		t.Errorf("%d teeth, %q", len(row.Marks), in.Axis.Title)
	}
}

// Every word goes through the reader's translation, is among the texts, and each
// of the figure's is said.
func TestSignalWords(t *testing.T) {
	t.Parallel()
	say, _ := listener(t)
	ahead := 12.0
	untitled := sample.Demo(t)
	untitled.Title = ""
	for _, o := range []finding.SignalOptions{{}, {WheelErrorDeg: &ahead}, {Fault: finding.WiresReversed}, {Fault: finding.BackToFront}} {
		for _, j := range []job.Job{sample.Demo(t), untitled} {
			in := signalsOf(t, j, SignalsOptions{Of: o, Say: say})
			for _, g := range in.Groups {
				for _, line := range []string{g.Label, g.Rows[0].Label, g.Rows[1].Label, g.Rows[0].Range, in.Finding, in.Title, in.Desc, in.Axis.Title, g.Lines[0].Label, in.Words.Gap} {
					if !strings.HasPrefix(line, "~") {
						t.Errorf("%q speaks English only", line)
					}
				}
			}
		}
	}
	p, err := NewPredicted(sample.Demo(t), finding.SignalOptions{}, say)
	if err != nil {
		t.Fatal(err)
	}
	w := AngleWindow(0, 720, 10, 0)
	w.Axis.Degrees = false
	p.Input(w)
}

func BenchmarkSignals(b *testing.B) {
	p, err := NewPredicted(sample.Demo(b), finding.SignalOptions{}, nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		p.Input(AngleWindow(0, 720, 1800, 0))
	}
}
