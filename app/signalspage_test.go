package app

import (
	"errors"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pinphase/timing"
	"pinphase/timing/finding"
	"pinphase/timing/plate"
)

// signalled returns the window with the signals page shown, of the demo job or of
// another, doing nothing beside the main goroutine.
func signalled(t testing.TB, text string) (*ui, *signalsPage) {
	t.Helper()
	u := window(t)
	u.inTurn = true
	if text != "" {
		u.openFile(file(t, "job.toml", text))
	}
	u.pages.open(u.signals)
	return u, u.signals
}

const bargeRecording = "../testdata/recordings/gravel-barge.csv.gz"

// predictedFile is a recording of constant speed with some errors, as a file.
func predictedFile(t testing.TB, u *ui, o finding.SignalOptions, change func(string) string) string {
	t.Helper()
	s, err := finding.SignalsOf(u.session.Job(), o)
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
	return file(t, "recording.csv", text)
}

func TestSignalsPredicted(t *testing.T) {
	u, p := signalled(t, "")
	if p.sentence.Text != "Each trace by itself looks right, but every cam edge comes 28° early among the crank teeth: 4.7 tooth spacings." {
		t.Errorf("it says %q", p.sentence.Text)
	}
	contains(t, "beside it", p.second.Text, "Cam edge 1 falls on crank tooth 2.", "the crank stands 28° past it")
	contains(t, "how it was reached", p.steps.Text, "Correlation error = wheel error − cam error = −28 − 0 = −28°.")
	if got := p.edges.cells[1][1].Text + ", " + p.edges.cells[1][2].Text + ", " + p.edges.cells[1][3].Text; got != "70°, 42°, –" {
		t.Errorf("cam edge 2 belongs at, falls at, was recorded at %s", got)
	}
	before := painted(p.view)
	suppose := func(title string) {
		for i, o := range p.suppose.Options {
			if o == title {
				p.suppose.SetSelectedIndex(i)
				return
			}
		}
		t.Fatalf("%q cannot be supposed; there are %q", title, p.suppose.Options)
	}
	suppose("as it should be")
	if p.sentence.Text != "Supposing “as it should be”: The signals look right, and they are: every cam edge falls where it belongs among the crank teeth." || painted(p.view) == before {
		t.Errorf("supposed right it says %q", p.sentence.Text)
	}
	suppose("crank sensor's wires exchanged")
	contains(t, "supposed wires", p.sentence.Text, "lie half-way between teeth")
	// What is supposed is no part of the job, and is let go with it.
	if u.session.Dirty() {
		t.Error("supposing has changed the job")
	}
	u.begin(newSession("", demo(), nil))
	if p.fault != finding.AsIs || p.suppose.Selected != "as measured" {
		t.Errorf("of another job %q is supposed", p.fault)
	}
}

// The cursor is the crank's: on the controller's axis it stands the wheel error
// further, and what is clicked there turns the crank.
func TestSignalsCursor(t *testing.T) {
	u, p := signalled(t, "")
	u.setAt(100)
	at, ok := p.view.CursorAt()
	if !ok || math.Abs(at-72) > 0.05 {
		t.Errorf("the crank at 100 stands at %g", at)
	}
	contains(t, "its tag", strings.Join(texts(p.view), "\n"), "crank 100°, counted 72°")
	p.pointed(300)
	if math.Abs(float64(u.at)-328) > 0.051 {
		t.Errorf("at 300 on the axis the crank is put to %g", float64(u.at))
	}
	u.pages.show(0)
	u.setAt(10)
	u.pages.open(p)
	if at, _ = p.view.CursorAt(); math.Abs(at-702) > 0.05 {
		t.Errorf("the crank at 10 stands at %g", at)
	}
	p.view.OnStep(-1)
	if u.at != 9 {
		t.Errorf("a step back leads to %g", float64(u.at))
	}
	// Over two cycles the cursor stays in the one that was pointed at.
	p.ways.chose(int(plate.TwoCycles))
	p.pointed(1000)
	if at, _ = p.view.CursorAt(); math.Abs(at-1000) > 0.06 {
		t.Errorf("pointed at 1000, the cursor is at %g", at)
	}
	u.setAt(u.at + 5)
	if at, _ = p.view.CursorAt(); math.Abs(at-1005) > 0.06 {
		t.Errorf("5 degrees on it is at %g", at)
	}
	p.ways.chose(int(plate.OverTime))
	if from, to := p.view.Shows(); from != 0 || math.Abs(to-1440.0/1080) > 1e-9 {
		t.Errorf("over time it shows %g to %g s", from, to)
	}
}

// A recording of the demo engine: what it proves is said, drawn, and goes into the
// job as evidence, in place of what was there, and undo takes it back.
func TestSignalsRecording(t *testing.T) {
	u, p := signalled(t, "")
	u.dropped(fyne.NewPos(1, 1), []fyne.URI{storage.NewFileURI(must(filepath.Abs(bargeRecording)))})
	rec := u.recorder.shown()
	if rec == nil || rec.err != nil {
		t.Fatalf("%+v, %q", rec, said(u))
	}
	contains(t, "the page", p.sentence.Text, "The crank wheel is 2", "behind")
	contains(t, "beside it", p.second.Text, "That is what the job as it stands makes one expect: a correlation error of −28°, recorded −2")
	if len(p.board.Input(p.way, 0, 720, 300, say).Groups) != 2 {
		t.Error("prediction and recording are not both drawn")
	}
	if got := p.edges.cells[1][3].Text; !strings.HasPrefix(got, "4") {
		t.Errorf("cam edge 2 was recorded at %q", got)
	}
	before := u.session.Job()
	test.Tap(p.evidence)
	j := u.session.Job()
	kinds := map[string]float64{}
	for _, e := range j.Evidence {
		kinds[e.Kind] = e.Value.(float64)
		if !e.U.Given {
			t.Errorf("%s has no uncertainty", e.Kind)
		}
	}
	if len(kinds) != 2 || math.Abs(kinds["correlation_error_deg"]+28) > 0.5 || math.Abs(kinds["tdc_offset_deg"]+28) > 4 {
		t.Errorf("evidence %+v", j.Evidence)
	}
	if !p.evidence.Disabled() {
		t.Error("the same evidence can be used again")
	}
	u.undo()
	is(t, u, before)
	if p.evidence.Disabled() {
		t.Error("after undo the evidence cannot be used")
	}
	// As the recording shows is one of the things to suppose.
	p.suppose.SetSelectedIndex(len(p.suppose.Options) - 1)
	if s := p.board.Predicted.Found; p.fault != asRecorded || math.Abs(s.TDCOffsetDeg-kinds["tdc_offset_deg"]) > 1e-6 {
		t.Errorf("supposed as recorded: %q, %g", p.fault, s.TDCOffsetDeg)
	}
	for _, way := range []plate.Way{plate.Through, plate.OverTime, plate.TwoCycles, plate.OneCycle} {
		seen := painted(p.view)
		p.ways.chose(int(way))
		if painted(p.view) == seen {
			t.Errorf("way %d looks like the last", way)
		}
		if _, ok := p.view.CursorAt(); !ok {
			t.Errorf("way %d has no cursor", way)
		}
	}
	u.signals.exportCSV()
	path := filepath.Join(t.TempDir(), "predicted.csv")
	list := entries(t, u)
	list[0].SetText(filepath.Base(path))
	list[1].SetText(filepath.Dir(path))
	press(t, u, "Save")
	if got := read(t, path); !strings.HasPrefix(got, "time_s,angle_deg,crank_V,cam_V\n0.0000000,0.000,") {
		t.Errorf("the CSV begins %.60q", got)
	}
	test.Tap(p.close)
	if u.recorder.shown() != nil || p.evidence.Visible() || p.fault != finding.AsIs {
		t.Error("closed, it is still there")
	}
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

// The recording goes with its job, and outlives a change of language; one that was
// read with another wheel can be read again.
func TestSignalsRecordingAndJob(t *testing.T) {
	u, p := signalled(t, "")
	u.recorder.open(predictedFile(t, u, finding.SignalOptions{}, nil), finding.TraceOptions{})
	if u.recorder.shown() == nil || p.stale.Visible() {
		t.Fatalf("%q", said(u))
	}
	fill(t, u, "crank_wheel.first_tooth_btdc_deg", "90")
	u.pages.open(p)
	if !p.stale.Visible() {
		t.Error("the recording is not called read with another job")
	}
	u.recorder.again()
	if p.stale.Visible() {
		t.Error("read again, it still is")
	}
	u.rebuild()
	if p = u.signals; u.pages.now() != page(p) || u.recorder.shown() == nil || !p.evidence.Visible() {
		t.Error("another language loses the recording")
	}
	u.begin(newSession("", demo(), nil))
	if u.recorder.shown() != nil || p.evidence.Visible() {
		t.Error("another job shows the recording")
	}
}

// Teeth lost in a recording are named, and what cannot be read is told.
func TestSignalsFaultyRecordings(t *testing.T) {
	u, p := signalled(t, "")
	u.recorder.open(predictedFile(t, u, finding.SignalOptions{}, func(text string) string {
		rows := strings.Split(text, "\n")
		for i, row := range rows {
			if c := strings.Split(row, ","); len(c) == 4 && c[0] > "1.0000" && c[0] < "1.0056" {
				rows[i] = strings.Join([]string{c[0], c[1], "0.0000", c[3]}, ",")
			}
		}
		return strings.Join(rows, "\n")
	}), finding.TraceOptions{})
	contains(t, "what to know", p.notes.Text, "A crank tooth is lost at 1.0")
	// A flat one proves nothing and is drawn over time.
	var flat strings.Builder
	flat.WriteString("time_s,crank\n")
	for i := range 3000 {
		flat.WriteString("0." + strings.Repeat("0", 5-len(itoa(i))) + itoa(i) + ",1\n")
	}
	u.recorder.open(file(t, "flat.csv", flat.String()), finding.TraceOptions{})
	contains(t, "of a flat one", p.sentence.Text, "This recording proves nothing", "flat")
	if p.way != plate.OverTime || !p.ways.buttons[plate.Through].Disabled() {
		t.Errorf("it is looked at in way %d", p.way)
	}
	u.recorder.open(filepath.Join(t.TempDir(), "none.csv"), finding.TraceOptions{})
	contains(t, "of none", said(u), "none.csv")
	u.dismiss()
	u.recorder.open(file(t, "poem.txt", strings.Repeat("no numbers here\n", 30)), finding.TraceOptions{})
	contains(t, "of a poem", said(u), "poem.txt", "no rows of numbers")
	u.dismiss()
}

func itoa(n int) string { return finding.Num{Value: float64(n)}.String() }

// A file that does not say how fast it was recorded is asked about.
func TestSignalsAsksForTheRate(t *testing.T) {
	u, _ := signalled(t, "")
	path := predictedFile(t, u, finding.SignalOptions{}, func(text string) string {
		var b strings.Builder
		for _, row := range strings.Split(text, "\n")[1:] {
			if c := strings.Split(row, ","); len(c) == 4 {
				b.WriteString(c[2] + "," + c[3] + "\n")
			}
		}
		return b.String()
	})
	u.recorder.open(path, finding.TraceOptions{})
	contains(t, "it asks", said(u), "does not say how fast")
	entry := entries(t, u)[0]
	entry.SetText("nothing")
	press(t, u, "Read it")
	contains(t, "of no number", said(u), "is no number of samples a second")
	u.dismiss()
	u.recorder.open(path, finding.TraceOptions{})
	entries(t, u)[0].SetText("10000")
	press(t, u, "Read it")
	rec := u.recorder.shown()
	if rec == nil || rec.drawn == nil || math.Abs(rec.drawn.Trace.RPMMean-180) > 0.5 {
		t.Fatalf("%+v, %q", rec, said(u))
	}
	// Its channels can be told apart by hand, and are taken so.
	u.signals.askChannels(rec)
	for _, o := range shown(u.window.Canvas().Overlays().Top()) {
		if s, ok := o.(*widget.Select); ok && s.SelectedIndex() == 0 && len(s.Options) == 3 {
			s.SetSelectedIndex(2) // the cam's as the crank's
			break
		}
	}
	press(t, u, "Read it")
	if got := u.recorder.shown().options.Crank; got != "2" {
		t.Errorf("the crank channel is %q", got)
	}
}

func TestSignalsLack(t *testing.T) {
	u, p := signalled(t, "[engine]\nstrokes = 4\nfiring_order = [1, 3, 4, 2]\n")
	contains(t, "without wheels", p.sentence.Text, "cannot be said yet")
	contains(t, "what is missing", p.lacks.Text, "crank")
	if p.fill.Hidden || p.room.Objects[0] != p.want {
		t.Error("nothing leads to the field that is missing")
	}
	u.recorder.open(bargeRecording, finding.TraceOptions{})
	contains(t, "reading without a wheel", said(u), "cannot be read with this job")
	u.dismiss()
	test.Tap(p.fill)
	if u.pages.now() != page(u.page) {
		t.Error("filling it in does not lead to the form")
	}
}

// Reading beside the main goroutine can be stopped, and what comes of it then is
// dropped.
func TestSignalsReadingIsStopped(t *testing.T) {
	u, p := signalled(t, "")
	path := predictedFile(t, u, finding.SignalOptions{}, nil)
	var works []func() func()
	u.recorder.beside = func(work func() (show func())) { works = append(works, work) }
	u.recorder.open(path, finding.TraceOptions{})
	if !u.recorder.reading() || !p.underway.Visible() {
		t.Fatal("it is not said that a recording is being read")
	}
	u.recorder.progress = 0.4
	p.progressed()
	if p.progress.Value != 0.4 {
		t.Errorf("the progress is %g", p.progress.Value)
	}
	for _, o := range shown(p.underway) {
		if b, ok := o.(*widget.Button); ok {
			test.Tap(b)
		}
	}
	works[0]()()
	if u.recorder.reading() || p.underway.Visible() || u.recorder.shown() != nil || said(u) != "" {
		t.Errorf("stopped, it goes on: %q", said(u))
	}
	// Another one opened meanwhile wins.
	u.recorder.open(path, finding.TraceOptions{})
	u.recorder.open(path, finding.TraceOptions{Crank: "2"})
	first, second := works[1](), works[2]()
	second()
	first()
	if got := u.recorder.shown(); got == nil || got.options.Crank != "2" {
		t.Errorf("the first reading won: %+v", got)
	}
}

// At every size of window and text the page keeps its parts on the screen.
func TestSignalsPageFits(t *testing.T) {
	u, p := signalled(t, "")
	u.recorder.open(bargeRecording, finding.TraceOptions{})
	for _, size := range []fyne.Size{fyne.NewSize(1024, 640), fyne.NewSize(1920, 1080)} {
		for _, text := range []float64{1, 2} {
			u.setTextSize(text)
			u.window.Resize(size)
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
	u.setTextSize(1)
	if at := timing.Deg(0); u.at != at {
		t.Errorf("the crank has moved to %g", float64(u.at))
	}
	if _, err := os.Stat(bargeRecording); errors.Is(err, os.ErrNotExist) {
		t.Fatal("the sample recording is missing")
	}
}

// Every sample job can be looked at in every way there is, and what can be supposed
// of it is drawn.
func TestSignalsOfEveryJob(t *testing.T) {
	u, p := signalled(t, "")
	jobs, err := filepath.Glob("../testdata/jobs/*.toml")
	if err != nil || len(jobs) == 0 {
		t.Fatalf("%v, %v", jobs, err)
	}
	for _, path := range jobs {
		u.openFile(path)
		u.pages.open(p)
		if p.sentence.Text == "" {
			t.Errorf("%s: the page says nothing", path)
		}
		for i := range p.suppose.Options {
			p.suppose.SetSelectedIndex(i)
			for way := plate.OneCycle; way <= plate.OverTime; way++ {
				if !p.board.Can(way) {
					continue
				}
				p.ways.chose(int(way))
				from, to := p.view.Shows()
				if in := p.board.Input(way, from, to, 200, say); len(in.Groups) == 0 || len(in.Groups[0].Rows) == 0 {
					t.Errorf("%s, %s: way %d shows nothing", path, p.fault, way)
				}
				p.view.Zoom(0.3)
				p.view.Pan(0.4)
				u.setAt(u.at + 100)
				if at, ok := p.view.CursorAt(); !ok || math.IsNaN(at) {
					t.Errorf("%s, %s: way %d has no cursor", path, p.fault, way)
				}
			}
		}
	}
}
