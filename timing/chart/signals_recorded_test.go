package chart

import (
	"bytes"
	"context"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/trace"
)

// predictedRecording is a recording that the demo job itself predicts.
func predictedRecording(t testing.TB, o finding.SignalOptions, change func(csv string) string) (*Recorded, error) {
	t.Helper()
	s, err := finding.SignalsOf(sample.Demo(t), o)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := s.WriteCSV(&b, finding.Sampling{Cycles: 6, RateHz: 10000}); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	if change != nil {
		text = change(text)
	}
	return readRecording(t, sample.Demo(t), strings.NewReader(text))
}

func readRecording(t testing.TB, j job.Job, file interface{ Read([]byte) (int, error) }) (*Recorded, error) {
	t.Helper()
	p := new(trace.Picture)
	found, err := finding.ReadTrace(context.Background(), j, file, finding.TraceOptions{}, finding.TraceWork{Picture: p})
	r, broken := NewRecorded(j, []string{"angle", "crank", "cam"}, found, p)
	if broken != nil {
		t.Fatal(broken)
	}
	return r, err
}

// What was predicted and read back lies where it was predicted: column by column,
// tooth by tooth, however it is looked at.
func TestRecordedLiesOnThePredicted(t *testing.T) {
	t.Parallel()
	r, err := predictedRecording(t, finding.SignalOptions{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewPredicted(sample.Demo(t), finding.SignalOptions{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	from, to := r.Angles()
	begin, end := r.Seconds()
	if !r.Follows() || to-from < 5*720 || math.Abs(begin) > 1e-9 || math.Abs(end-4) > 0.01 {
		t.Fatalf("followed from %g to %g over %g..%g s", from, to, begin, end)
	}
	if s := r.TimeAt(2000); math.Abs(r.AngleAt(s)-2000) > 1e-6 {
		t.Errorf("2000 comes back as %g", r.AngleAt(s))
	}
	for name, w := range map[string]Window{
		"folded":  AngleWindow(0, 720, 720, 0),
		"through": r.ThroughAngles(1000, 1400, 900),
		"time":    r.ThroughTime(1.2, 1.6, 900),
	} {
		right := p.Input(w).Groups[1]
		g := r.Group(w, nil)
		if len(g.Rows) != 2 || g.Rows[0].Label != "crankshaft" || g.Rows[1].Label != "camshaft" {
			t.Fatalf("%s: %d rows", name, len(g.Rows))
		}
		for k, row := range g.Rows {
			apart, most := 0.0, 0.0
			for i := range row.Lo {
				if math.IsNaN(row.Lo[i]) || math.IsNaN(right.Rows[k].Lo[i]) {
					t.Fatalf("%s: nothing in column %d", name, i)
				}
				apart += math.Abs((row.Lo[i] + row.Hi[i] - right.Rows[k].Lo[i] - right.Rows[k].Hi[i]) / 2)
				most = max(most, row.Hi[i])
			}
			if mean := apart / float64(len(row.Lo)); mean > 0.06*most {
				t.Errorf("%s: row %d lies %g V from the predicted on average", name, k, mean)
			}
		}
		// The same teeth at the same places.
		for k, row := range g.Rows {
			place := map[string]float64{}
			for _, m := range right.Rows[k].Marks {
				place[m.Label] = m.At
			}
			tolerance := 0.3 // degrees
			if w.Place != nil {
				tolerance /= 6 * 180
			}
			n := 0
			for _, m := range row.Marks {
				if m.State != figure.MarkExpected {
					continue
				}
				close := false
				for _, q := range right.Rows[k].Marks {
					close = close || q.Label == m.Label && math.Abs(q.At-m.At) < tolerance
				}
				if n++; !close {
					t.Errorf("%s: row %d has tooth %s at %g, predicted at %g", name, k, m.Label, m.At, place[m.Label])
					break
				}
			}
			if n < 2 {
				t.Errorf("%s: row %d has %d teeth", name, k, n)
			}
		}
		if arrows := g.Rows[1].Arrows; len(arrows) == 0 || arrows[0].Label != "28° early" {
			t.Errorf("%s: arrows %+v", name, arrows)
		}
		if len(g.Rows[0].Gaps) == 0 {
			t.Errorf("%s: no gap", name)
		}
		// At constant speed true TDC is not known: only where it is counted.
		if slices.ContainsFunc(g.Lines, func(l figure.SignalLine) bool { return !l.Counted }) {
			t.Errorf("%s: a true dead centre that nobody knows", name)
		}
	}
}

// A tooth that is lost in the recording is marked where it is lost, whatever the
// window, and only there.
func TestRecordedLostTooth(t *testing.T) {
	t.Parallel()
	const lostAt = 1.0
	r, err := predictedRecording(t, finding.SignalOptions{}, func(text string) string {
		rows := strings.Split(text, "\n")
		for i, row := range rows {
			cells := strings.Split(row, ",")
			if len(cells) == 4 && cells[0] > "1.0000" && cells[0] < "1.0056" {
				cells[2] = "0.0000"
				rows[i] = strings.Join(cells, ",")
			}
		}
		return strings.Join(rows, "\n")
	})
	if err != nil {
		t.Fatal(err)
	}
	lost := func(w Window) (list []figure.SignalMark) {
		for _, m := range r.Group(w, nil).Rows[0].Marks {
			if m.State == figure.MarkLost {
				list = append(list, m)
			}
		}
		return list
	}
	if list := lost(r.ThroughTime(0.9, 1.1, 600)); len(list) != 1 || math.Abs(list[0].At-lostAt) > 0.008 || !strings.HasPrefix(list[0].Says, "Tooth pulse missing at 1.00") {
		t.Errorf("over time: %+v", list)
	}
	if list := lost(r.ThroughTime(1.2, 1.4, 600)); len(list) != 0 {
		t.Errorf("elsewhere: %+v", list)
	}
	if list := lost(AngleWindow(0, 720, 720, 0)); len(list) != 1 {
		t.Errorf("folded: %+v", list)
	}
	if list := lost(AngleWindow(0, 1440, 1440, 720)); len(list) != 2 {
		t.Errorf("folded over two cycles: %+v", list)
	}
}

// A real cranking recording of the demo engine shows true TDC as well.
func TestRecordedSample(t *testing.T) {
	t.Parallel()
	f, err := os.Open("../../testdata/recordings/gravel-barge.csv.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r, err := readRecording(t, sample.Demo(t), f)
	if err != nil {
		t.Fatal(err)
	}
	if r.Trace.TDCOffsetDeg == nil {
		t.Fatalf("no TDC: %v", r.Trace.Faults)
	}
	g := r.Group(AngleWindow(0, 720, 900, 0), nil)
	found := false
	for _, l := range g.Lines {
		if !l.Counted && l.Label == "TDC 5" {
			found = math.Abs(l.At-120-*r.Trace.TDCOffsetDeg) < 1e-6
		}
	}
	if !found {
		t.Errorf("TDC 5 is not at 120 %+g: %+v", *r.Trace.TDCOffsetDeg, g.Lines)
	}
}

// What proves nothing is drawn over time all the same.
func TestRecordedThatProvesNothing(t *testing.T) {
	t.Parallel()
	text := "time_s,left,right\n"
	for i := range 2000 {
		text += fmt.Sprintf("%.4f,1.5,2.5\n", float64(i)/1e4)
	}
	r, err := readRecording(t, sample.Demo(t), strings.NewReader(text))
	if err == nil || r.Follows() {
		t.Fatalf("a flat recording: %v", err)
	}
	g := r.Group(r.ThroughTime(0, 0.1, 50), nil)
	if len(g.Rows) != 2 || g.Rows[0].Label != "angle" || len(g.Lines) != 0 || math.IsNaN(g.Rows[1].Lo[5]) {
		t.Errorf("%+v", g)
	}
	if a := r.AngleAt(0.05); !math.IsNaN(a) {
		t.Errorf("an angle of %g", a)
	}
}

// Every word of a recording goes through the reader's translation and is said.
func TestRecordedWords(t *testing.T) {
	t.Parallel()
	used := map[phrase.Text]bool{}
	say := Say(func(s phrase.Sentence) string {
		used[s.Text] = true
		return "~" + s.String()
	})
	r, err := predictedRecording(t, finding.SignalOptions{}, func(text string) string {
		rows := strings.Split(text, "\n")
		for i, row := range rows {
			cells := strings.Split(row, ",")
			if len(cells) != 4 {
				continue
			}
			if cells[0] > "1.0000" && cells[0] < "1.0056" { // a tooth is lost
				cells[2] = "0.0000"
			}
			if cells[0] > "2.0020" && cells[0] < "2.0028" { // and one too many
				cells[2] = "-2.0000"
			}
			rows[i] = strings.Join(cells, ",")
		}
		return strings.Join(rows, "\n")
	})
	if err != nil {
		t.Fatal(err)
	}
	r.Group(r.ThroughTime(0.9, 1.1, 600), say)
	r.Group(AngleWindow(0, 720, 720, 0), say)
	var words figure.SignalWords
	r.Words(&words, say)
	r.names, r.Trace.Channels = nil, nil
	r.Group(r.ThroughTime(0.9, 1.1, 600), say)
	for _, text := range []phrase.Text{wordRecording, wordRecordedLost, wordRecordedExtra, wordRecordedNone, wordRecordedSpan, wordRecordedNumber, wordRecordedLostAt} {
		if !used[text] {
			t.Errorf("%q is never said", text)
		}
	}
	if !strings.HasPrefix(words.Lost, "~") {
		t.Errorf("%q speaks English only", words.Lost)
	}
}

// The crank's angle goes to every way's axis and back.
func TestBoardPlaces(t *testing.T) {
	t.Parallel()
	r, err := predictedRecording(t, finding.SignalOptions{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewPredicted(sample.Demo(t), finding.SignalOptions{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	for name, b := range map[string]Board{"predicted": {Predicted: p}, "both": {p, r}} {
		for _, way := range []Way{OneCycle, TwoCycles, Through, OverTime} {
			if !b.Can(way) {
				if way != Through || b.Recorded != nil {
					t.Errorf("%s: not %d", name, way)
				}
				continue
			}
			s := b.Spread(way)
			if !(s.Hi > s.Lo && s.First <= s.Hi-s.Lo && s.Least < s.First) {
				t.Fatalf("%s, %d: %+v", name, way, s)
			}
			last := s.Lo
			for truth := timing.Deg(0); truth < 2000; truth += 13 {
				at := timing.Wrap(truth, 720)
				x, ok := b.Place(way, at, last)
				if !ok || x < s.Lo || x > s.Hi {
					t.Fatalf("%s, %d: %g lies at %g, %v", name, way, float64(truth), x, ok)
				}
				back, _, ok := b.Angle(way, x)
				if off := timing.Difference(at, back, 720); !ok || math.Abs(float64(off)) > 0.01 {
					t.Fatalf("%s, %d: %g lies at %g, where %g is", name, way, float64(truth), x, float64(back))
				}
				last = x
			}
			in := b.Input(way, s.Lo, s.Lo+s.First, 300, nil)
			groups := 2
			if len(in.Groups) != groups || len(in.Groups[1].Rows) != 2 || in.Axis.Title == "" {
				t.Errorf("%s, %d: %d groups", name, way, len(in.Groups))
			}
		}
	}
	if (Board{}).Can(OverTime) || len((Board{}).Input(OneCycle, 0, 1, 10, nil).Groups) != 0 {
		t.Error("an empty board shows something")
	}
	alone := Board{Recorded: r}
	if in := alone.Input(OneCycle, 0, 720, 300, nil); len(in.Groups) != 1 || in.Axis.Title != string(wordSignalAngle) {
		t.Errorf("a recording alone: %+v", in.Axis)
	}
	if _, ok := alone.Place(OneCycle, 0, 0); ok {
		t.Error("without a prediction the truth is known")
	}
}
