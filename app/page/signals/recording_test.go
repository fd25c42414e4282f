package signals

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/trace"
	"pinphase.org/pinphase/timing/trace/samples"
	"pinphase.org/pinphase/timing/trace/simulate"
)

const bargeRecording = "../../../testdata/recordings/gravel-barge.csv.gz"

// A recording of the demo engine: what it proves is said, drawn, and goes into the
// job as evidence, in place of what was there, and undo takes it back.
func TestSignalsRecording(t *testing.T) {
	u, p := signalled(t, "")
	p.Take(bargeRecording)
	rec := u.Page.(*page).recorder.shown()
	if rec == nil || rec.err != nil {
		t.Fatalf("%+v, %q", rec, u.Said())
	}
	desktest.Contains(t, "the page", p.sentence.Text, "The crank sensor wheel is 2", "behind")
	desktest.Contains(t, "beside it", p.second.Text, "The job predicts just that: correlation error −28°, recorded −2")
	if len(p.board.Input(p.way, 0, 720, 300, say).Groups) != 2 {
		t.Error("prediction and recording are not both drawn")
	}
	if got := p.edges.Cells[1][3].Text; !strings.HasPrefix(got, "4") {
		t.Errorf("cam edge 2 was recorded at %q", got)
	}
	before := u.Session.Job()
	test.Tap(p.evidence)
	j := u.Session.Job()
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
	u.Undo()
	u.Is(t, before)
	if p.evidence.Disabled() {
		t.Error("after undo the evidence cannot be used")
	}
	// As the recording shows is one of the things to suppose.
	p.suppose.SetSelectedIndex(len(p.suppose.Options) - 1)
	if s := p.board.Predicted.Found; p.fault != asRecorded || math.Abs(s.TDCOffsetDeg-kinds["tdc_offset_deg"]) > 1e-6 {
		t.Errorf("supposed as recorded: %q, %g", p.fault, s.TDCOffsetDeg)
	}
	for _, way := range []chart.Way{chart.Through, chart.OverTime, chart.TwoCycles, chart.OneCycle} {
		seen := desktest.Painted(p.view)
		p.ways.Chose(int(way))
		if desktest.Painted(p.view) == seen {
			t.Errorf("way %d looks like the last", way)
		}
		if _, ok := p.view.CursorAt(); !ok {
			t.Errorf("way %d has no cursor", way)
		}
	}
	u.Page.(*page).exportCSV()
	path := filepath.Join(t.TempDir(), "predicted.csv")
	list := u.Entries(t)
	list[0].SetText(filepath.Base(path))
	list[1].SetText(filepath.Dir(path))
	u.Press(t, "Save")
	if got := desktest.Read(t, path); !strings.HasPrefix(got, "time_s,angle_deg,crank_V,cam_V\n0.0000000,0.000,") {
		t.Errorf("the CSV begins %.60q", got)
	}
	test.Tap(p.close)
	if u.Page.(*page).recorder.shown() != nil || p.evidence.Visible() || p.fault != finding.AsIs {
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
	u.Page.(*page).recorder.open(predictedFile(t, u, finding.SignalOptions{}, nil), finding.TraceOptions{})
	if u.Page.(*page).recorder.shown() == nil || p.stale.Visible() {
		t.Fatalf("%q", u.Said())
	}
	u.Edit("crank_wheel.first_tooth_btdc_deg", func(j *job.Job) { j.CrankWheel.FirstToothBTDCDeg = job.Num(90) })
	u.OpenPage("signals", "")
	if !p.stale.Visible() {
		t.Error("the recording is not called read with another job")
	}
	u.Page.(*page).recorder.again()
	if p.stale.Visible() {
		t.Error("read again, it still is")
	}
	u.Rebuild()
	if p = u.Page.(*page); !u.IsOpen(Kind.Name) || u.Page.(*page).recorder.shown() == nil || !p.evidence.Visible() {
		t.Error("another language loses the recording")
	}
	u.Begin(desk.NewSession("", desk.Demo(), nil))
	if u.Page.(*page).recorder.shown() != nil || p.evidence.Visible() {
		t.Error("another job shows the recording")
	}
}

// Teeth lost in a recording are named, and what cannot be read is told.
func TestSignalsFaultyRecordings(t *testing.T) {
	u, p := signalled(t, "")
	u.Page.(*page).recorder.open(predictedFile(t, u, finding.SignalOptions{}, func(text string) string {
		rows := strings.Split(text, "\n")
		for i, row := range rows {
			if c := strings.Split(row, ","); len(c) == 4 && c[0] > "1.0000" && c[0] < "1.0056" {
				rows[i] = strings.Join([]string{c[0], c[1], "0.0000", c[3]}, ",")
			}
		}
		return strings.Join(rows, "\n")
	}), finding.TraceOptions{})
	desktest.Contains(t, "what to know", p.notes.Text, "Tooth pulse missing at 1.0")
	// A flat one proves nothing and is drawn over time.
	var flat strings.Builder
	flat.WriteString("time_s,crank\n")
	for i := range 3000 {
		flat.WriteString("0." + strings.Repeat("0", 5-len(itoa(i))) + itoa(i) + ",1\n")
	}
	u.Page.(*page).recorder.open(desktest.File(t, "flat.csv", flat.String()), finding.TraceOptions{})
	desktest.Contains(t, "of a flat one", p.sentence.Text, "This recording gives no answer", "flat")
	if p.way != chart.OverTime || !p.ways.Buttons[chart.Through].Disabled() {
		t.Errorf("it is looked at in way %d", p.way)
	}
	u.Page.(*page).recorder.open(filepath.Join(t.TempDir(), "none.csv"), finding.TraceOptions{})
	desktest.Contains(t, "of none", u.Said(), "none.csv")
	u.Dismiss()
	u.Page.(*page).recorder.open(desktest.File(t, "poem.txt", strings.Repeat("no numbers here\n", 30)), finding.TraceOptions{})
	desktest.Contains(t, "of a poem", u.Said(), "poem.txt", "no rows of numbers")
	u.Dismiss()
}

func itoa(n int) string { return phrase.Num{Value: float64(n)}.String() }

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
	u.Page.(*page).recorder.open(path, finding.TraceOptions{})
	desktest.Contains(t, "it asks", u.Said(), "does not say how fast")
	entry := u.Entries(t)[0]
	entry.SetText("nothing")
	u.Press(t, "Read")
	desktest.Contains(t, "of no number", u.Said(), "is not allowed: samples a second")
	u.Dismiss()
	u.Page.(*page).recorder.open(path, finding.TraceOptions{})
	u.Entries(t)[0].SetText("10000")
	u.Press(t, "Read")
	rec := u.Page.(*page).recorder.shown()
	if rec == nil || rec.drawn == nil || math.Abs(rec.drawn.Trace.RPMMean-180) > 0.5 {
		t.Fatalf("%+v, %q", rec, u.Said())
	}
	// Its channels can be told apart by hand, and are taken so.
	u.Page.(*page).askChannels(rec)
	for _, o := range desktest.Shown(u.Window.Canvas().Overlays().Top()) {
		if s, ok := o.(*kit.DialogSelect); ok && s.SelectedIndex() == 0 && len(s.Options) == 3 {
			s.SetSelectedIndex(2) // the cam's as the crank's
			break
		}
	}
	u.Press(t, "Read")
	if got := u.Page.(*page).recorder.shown().options.Crank; got != "2" {
		t.Errorf("the crank channel is %q", got)
	}
}

// Reading beside the main goroutine can be stopped, and what comes of it then is
// dropped.
func TestSignalsReadingIsStopped(t *testing.T) {
	u, p := signalled(t, "")
	path := predictedFile(t, u, finding.SignalOptions{}, nil)
	var works []func() func()
	u.Page.(*page).recorder.beside = func(work func() (show func())) { works = append(works, work) }
	u.Page.(*page).recorder.open(path, finding.TraceOptions{})
	if !u.Page.(*page).recorder.reading() || !p.underway.Visible() {
		t.Fatal("it is not said that a recording is being read")
	}
	u.Page.(*page).recorder.progress = 0.4
	p.progressed()
	if p.progress.Value != 0.4 {
		t.Errorf("the progress is %g", p.progress.Value)
	}
	for _, o := range desktest.Shown(p.underway) {
		if b, ok := o.(*widget.Button); ok {
			test.Tap(b)
		}
	}
	works[0]()()
	if u.Page.(*page).recorder.reading() || p.underway.Visible() || u.Page.(*page).recorder.shown() != nil || u.Said() != "" {
		t.Errorf("stopped, it goes on: %q", u.Said())
	}
	// Another one opened meanwhile wins.
	u.Page.(*page).recorder.open(path, finding.TraceOptions{})
	u.Page.(*page).recorder.open(path, finding.TraceOptions{Crank: "2"})
	first, second := works[1](), works[2]()
	second()
	first()
	if got := u.Page.(*page).recorder.shown(); got == nil || got.options.Crank != "2" {
		t.Errorf("the first reading won: %+v", got)
	}
}

// What has been read so far is drawn while the rest is being read, and gives way to what
// comes of it, or goes where the reading is stopped.
func TestSignalsGlimpse(t *testing.T) {
	u, p := signalled(t, "")
	picture := new(trace.Picture)
	picture.Add(&samples.Block{Time: []float64{0, 1, 2}, Values: [][]float64{{0, 1, 0}}})
	picture.Finish()
	drawn, err := chart.NewRecorded(u.Shown(), []string{"crank"}, finding.Trace{}, picture)
	if err != nil {
		t.Fatal(err)
	}
	u.Page.(*page).recorder.path, u.Page.(*page).recorder.session = "long.csv", u.Session
	u.Page.(*page).recorder.glimpses(u.Page.(*page).recorder.number+1, drawn) // of a reading that was called off
	if p.board.Recorded != nil {
		t.Fatal("a glimpse of another reading is drawn")
	}
	u.Page.(*page).recorder.glimpses(u.Page.(*page).recorder.number, drawn)
	if p.board.Recorded != drawn || p.way != chart.OverTime || !p.underway.Visible() {
		t.Errorf("drawn: %v, way %v, under way: %v", p.board.Recorded == drawn, p.way, p.underway.Visible())
	}
	u.Page.(*page).recorder.stop()
	p.Load()
	if p.board.Recorded != nil {
		t.Error("what was read is drawn though the reading was stopped")
	}
	u.Page.(*page).recorder.open(must(filepath.Abs(bargeRecording)), finding.TraceOptions{})
	if p.board.Recorded == nil || p.board.Recorded == drawn {
		t.Error("the recording does not take the glimpse's place")
	}
}

// Every way a recording is written in can be dropped on the window, chosen in its dialog by
// its ending, and given as an argument.
func TestSignalsOpensEveryFormat(t *testing.T) {
	u, p := signalled(t, must(readText("../../../testdata/recordings/three-cylinder.toml")))
	packed := []byte(must(readText("../../../testdata/recordings/three-cylinder.csv.gz")))
	folder := t.TempDir()
	for name, data := range must(simulate.Formats(packed)) {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, data, 0o600); err != nil {
			t.Fatal(err)
		}
		if !slices.Contains(recordingEndings, filepath.Ext(name)) {
			t.Errorf("the dialog does not show %s", name)
		}
		u.Page.(*page).recorder.close()
		p.Take(path)
		rec := u.Page.(*page).recorder.shown()
		if rec == nil || rec.err != nil || !rec.drawn.Follows() || p.board.Recorded != rec.drawn {
			t.Errorf("%s: %+v, %q", name, rec, u.Said())
		}
	}
}

func readText(path string) (string, error) {
	data, err := os.ReadFile(path)
	return string(data), err
}
