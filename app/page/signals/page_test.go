package signals

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/finding"
)

// signalled returns the window with the signals page shown, of the demo job or of
// another, doing nothing beside the main goroutine.
func signalled(t testing.TB, text string) (*desktest.Bench, *page) {
	t.Helper()
	u := desktest.New(t, Kind)
	u.InTurn = true
	if text != "" {
		u.OpenFile(t, desktest.File(t, "job.toml", text))
	}
	u.OpenPage("signals", "")
	return u, u.Page.(*page)
}

// predictedFile is a recording of constant speed with some errors, as a file.
func predictedFile(t testing.TB, u *desktest.Bench, o finding.SignalOptions, change func(string) string) string {
	t.Helper()
	s, err := finding.SignalsOf(u.Session.Job(), o)
	if err != nil {
		t.Fatal(err)
	}
	var b strings.Builder
	if err := s.WriteCSV(&b, finding.Sampling{Cycles: 6, RateHz: 10000}); err != nil {
		t.Fatal(err)
	}
	text := b.String()
	if change != nil {
		text = change(text)
	}
	return desktest.File(t, "recording.csv", text)
}

func TestSignalsPredicted(t *testing.T) {
	u, p := signalled(t, "")
	if p.sentence.Text != "Each signal by itself looks correct, but every cam edge comes 28° early among the crank teeth: 4.7 tooth spacings." {
		t.Errorf("it says %q", p.sentence.Text)
	}
	desktest.Contains(t, "beside it", p.second.Text, "Cam edge 1 is at crank tooth 2.", "the crankshaft is 28° after it")
	desktest.Contains(t, "how it was reached", p.steps.Text, "Correlation error = wheel error − camshaft error = −28 − 0 = −28°.")
	if got := p.edges.Cells[1][1].Text + ", " + p.edges.Cells[1][2].Text + ", " + p.edges.Cells[1][3].Text; got != "70°, 42°, –" {
		t.Errorf("cam edge 2 belongs at, falls at, was recorded at %s", got)
	}
	before := desktest.Painted(p.view)
	suppose := func(title string) {
		for i, o := range p.suppose.Options {
			if o == title {
				p.suppose.SetSelectedIndex(i)
				return
			}
		}
		t.Fatalf("%q cannot be supposed; there are %q", title, p.suppose.Options)
	}
	suppose("correct")
	if p.sentence.Text != "What if “correct”: If the sensor wheel is as drawn, these are the correct signals: every cam edge is in its place among the crank teeth." || desktest.Painted(p.view) == before {
		t.Errorf("supposed right it says %q", p.sentence.Text)
	}
	suppose("crankshaft sensor wires swapped")
	desktest.Contains(t, "supposed wires", p.sentence.Text, "are half-way between teeth")
	// What is supposed is no part of the job, and is let go with it.
	if u.Session.Dirty() {
		t.Error("supposing has changed the job")
	}
	u.Begin(desk.NewSession("", desk.Demo(), nil))
	if p.fault != finding.AsIs || p.suppose.Selected != "as the job has it" {
		t.Errorf("of another job %q is supposed", p.fault)
	}
}

// The cursor is the crank's: on the controller's axis it stands the wheel error
// further, and what is clicked there turns the crank.
func TestSignalsCursor(t *testing.T) {
	u, p := signalled(t, "")
	u.SetAt(100)
	at, ok := p.view.CursorAt()
	if !ok || math.Abs(at-72) > 0.05 {
		t.Errorf("the crank at 100 stands at %g", at)
	}
	desktest.Contains(t, "its tag", strings.Join(desktest.Texts(p.view), "\n"), "crankshaft 100°, ECU counts 72°")
	p.pointed(300)
	if math.Abs(float64(u.At)-328) > 0.051 {
		t.Errorf("at 300 on the axis the crank is put to %g", float64(u.At))
	}
	u.Leave()
	u.SetAt(10)
	u.OpenPage("signals", "")
	if at, _ = p.view.CursorAt(); math.Abs(at-702) > 0.05 {
		t.Errorf("the crank at 10 stands at %g", at)
	}
	p.view.OnStep(-1)
	if u.At != 9 {
		t.Errorf("a step back leads to %g", float64(u.At))
	}
	// Over two cycles the cursor stays in the one that was pointed at.
	p.ways.Chose(int(chart.TwoCycles))
	p.pointed(1000)
	if at, _ = p.view.CursorAt(); math.Abs(at-1000) > 0.06 {
		t.Errorf("pointed at 1000, the cursor is at %g", at)
	}
	u.SetAt(u.At + 5)
	if at, _ = p.view.CursorAt(); math.Abs(at-1005) > 0.06 {
		t.Errorf("5 degrees on it is at %g", at)
	}
	p.ways.Chose(int(chart.OverTime))
	if from, to := p.view.Shows(); from != 0 || math.Abs(to-1440.0/1080) > 1e-9 {
		t.Errorf("over time it shows %g to %g s", from, to)
	}
}

func TestSignalsLack(t *testing.T) {
	u, p := signalled(t, "[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n")
	desktest.Contains(t, "without wheels", p.sentence.Text, "is not known yet")
	desktest.Contains(t, "what is missing", p.lacks.Text, "Crank sensor wheel")
	if p.fill.Hidden || p.room.Objects[0] != p.want {
		t.Error("nothing leads to the field that is missing")
	}
	u.Page.(*page).recorder.open(bargeRecording, finding.TraceOptions{})
	desktest.Contains(t, "reading without a wheel", u.Said(), "cannot be read with this job")
	u.Dismiss()
	test.Tap(p.fill)
	if asked, away := u.Away(); !away || !strings.HasPrefix(asked, "key of the job") {
		t.Error("filling it in does not lead to the form")
	}
}

// At every size of window and text the page keeps its parts on the screen.
func TestSignalsPageFits(t *testing.T) {
	u, p := signalled(t, "")
	u.Page.(*page).recorder.open(bargeRecording, finding.TraceOptions{})
	for _, size := range []fyne.Size{fyne.NewSize(1024, 640), fyne.NewSize(1920, 1080)} {
		for _, text := range []float32{1, 2} {
			u.SetTextSize(text)
			u.Window.Resize(size)
			if got := p.view.Size(); got.Width < 0.9*size.Width || got.Height < 160 {
				t.Errorf("at %v and %g %% text the traces have %v", size, 100*text, got)
			}
			for _, b := range []fyne.CanvasObject{p.open, p.evidence, p.suppose} {
				at := fyne.CurrentApp().Driver().AbsolutePositionForObject(b)
				if at.X < 0 || at.X+b.Size().Width > size.Width+1 {
					t.Errorf("at %v and %g %% text a control lies at %v, %v wide", size, 100*text, at, b.Size().Width)
				}
			}
		}
	}
	u.SetTextSize(1)
	if at := timing.Deg(0); u.At != at {
		t.Errorf("the crank has moved to %g", float64(u.At))
	}
	if _, err := os.Stat(bargeRecording); errors.Is(err, os.ErrNotExist) {
		t.Fatal("the sample recording is missing")
	}
}

// Every sample job can be looked at in every way there is, and what can be supposed
// of it is drawn.
func TestSignalsOfEveryJob(t *testing.T) {
	u, p := signalled(t, "")
	jobs, err := filepath.Glob("../../../testdata/jobs/*.toml")
	if err != nil || len(jobs) == 0 {
		t.Fatalf("%v, %v", jobs, err)
	}
	for _, path := range jobs {
		u.OpenFile(t, path)
		u.OpenPage("signals", "")
		if p.sentence.Text == "" {
			t.Errorf("%s: the page says nothing", path)
		}
		for i := range p.suppose.Options {
			p.suppose.SetSelectedIndex(i)
			for way := chart.OneCycle; way <= chart.OverTime; way++ {
				if !p.board.Can(way) {
					continue
				}
				p.ways.Chose(int(way))
				from, to := p.view.Shows()
				if in := p.board.Input(way, from, to, 200, say); len(in.Groups) == 0 || len(in.Groups[0].Rows) == 0 {
					t.Errorf("%s, %s: way %d shows nothing", path, p.fault, way)
				}
				p.view.Zoom(0.3)
				p.view.Pan(0.4)
				u.SetAt(u.At + 100)
				if at, ok := p.view.CursorAt(); !ok || math.IsNaN(at) {
					t.Errorf("%s, %s: way %d has no cursor", path, p.fault, way)
				}
			}
		}
	}
}
