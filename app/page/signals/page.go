// Package signals is the page of what the crank and cam sensors show, predicted and
// recorded.
package signals

import (
	"bytes"
	"errors"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// page shows what the crank and cam sensors will show, with whatever fault
// is supposed, and below it a recording of them with what it proves.
type page struct {
	u        *desk.Desk
	recorder *recorder
	content  *container.Scroll

	bar      kit.ColourBar // the colour beside the sentence
	sentence *widget.Label
	second   *widget.Label

	suppose                         *kit.Select
	ways                            *kit.OneOf
	open, channels, evidence, close *widget.Button
	progress                        *widget.ProgressBar
	underway                        *fyne.Container // shown while a recording is read
	stale                           *fyne.Container // shown when the job has changed since

	view  *widgets.TraceView
	lacks *widget.Label // in the figure's place, what the job lacks
	fill  *widget.Button
	want  fyne.CanvasObject
	room  *fyne.Container
	split *container.Split
	notes *widget.Label
	edges *kit.Grid
	steps *widget.Label

	session *desk.Session // whose job was shown last
	fault   string        // supposed
	way     chart.Way
	spread  chart.Spread
	board   chart.Board
	of      job.Job               // the job the board was made of
	by      finding.SignalOptions // and how
}

// asRecorded is supposed, beside the faults there are, when a recording tells both
// errors.
const asRecorded = "as-recorded"

const Name = "signals" // by which the page is opened

var Kind = desk.PageKind{
	Name: Name, Title: phrase.Text("Signals"), Figures: []string{"signals"}, Takes: recordingEndings,
	Actions: []desk.PageAction{
		{Title: phrase.Text("Open a recording…"), Opens: true, Shortcut: kit.CtrlShift(fyne.KeyO), Do: func(p desk.Page) { p.(*page).openRecording() }},
		{Title: phrase.Text("Save the predicted signals as CSV…"), Opens: false, Shortcut: nil, Do: func(p desk.Page) { p.(*page).exportCSV() }},
	},
	Build: func(d *desk.Desk, old desk.Page) desk.Page {
		before, _ := old.(*page)
		return newPage(d, before)
	},
}

// newPage goes on with the recording of an old page, when the window is built
// anew for another language.
func newPage(u *desk.Desk, old *page) *page {
	p := &page{u: u, bar: kit.NewColourBar(u.Frame), sentence: kit.Prose(), second: kit.Prose(), view: widgets.NewTraceView(), lacks: kit.Prose(),
		notes: kit.Prose(), steps: kit.Prose(), edges: kit.NewGrid(6), fault: finding.AsIs}
	p.recorder = newRecorder(p)
	if old != nil {
		p.recorder = old.recorder
		p.recorder.page = p
	}
	p.sentence.SizeName = theme.SizeNameSubHeadingText
	p.sentence.TextStyle.Bold = true
	words := container.New(&kit.Tight{}, p.sentence, p.second)
	top := container.NewVBox(container.NewBorder(nil, nil, p.bar.Rectangle, nil, words), p.controls())

	p.view.Window = func(from, to float64, n int) figure.SignalsInput { return p.board.Input(p.way, from, to, n, say) }
	p.view.OnCursor = p.pointed
	p.view.OnStep = func(by float64) { u.Turn(timing.Deg(by)) }
	p.view.OnKey = u.Key
	p.fill = widget.NewButton(tr("Fill in"), nil)
	p.want = container.NewVBox(p.lacks, container.NewHBox(p.fill))
	p.room = container.NewStack(p.view)
	tabs := container.NewAppTabs(
		container.NewTabItem(tr("Remarks"), container.NewVScroll(p.notes)),
		container.NewTabItem(tr("Camshaft edges"), container.NewScroll(p.edges.Content)),
		container.NewTabItem(tr("How it was reached"), container.NewVScroll(p.steps)),
		container.NewTabItem(tr("Cautions"), container.NewVScroll(kit.Cautions())),
	)
	p.split = container.NewVSplit(p.room, tabs)
	p.split.Offset = u.Prefs.Share(desk.PrefSplitSignals, 0.72)
	p.content = container.NewVScroll(container.NewBorder(top, nil, nil, nil, p.split))
	return p
}

// controls are the buttons over the figure.
func (p *page) controls() fyne.CanvasObject {
	u := p.u
	p.open = widget.NewButtonWithIcon(tr("Open a recording…"), theme.FolderOpenIcon(), p.openRecording)
	p.channels = widget.NewButton(tr("Channels…"), func() { p.askChannels(p.recorder.shown()) })
	p.close = widget.NewButton(tr("Close"), p.recorder.close)
	p.evidence = widget.NewButtonWithIcon(tr("Use as evidence"), theme.ConfirmIcon(), p.useAsEvidence)
	p.suppose = kit.NewSelect(nil, nil)
	p.ways = kit.NewOneOf(func(i int) { p.look(chart.Way(i)) }, tr("One cycle"), tr("Two cycles"), tr("Whole recording"), tr("Time"))
	sight := container.NewHBox(
		u.NewTipButton(theme.ZoomOutIcon(), tr("Zoom out"), func() { p.view.Zoom(1.6) }), u.NewTipButton(theme.ZoomInIcon(), tr("Zoom in"), func() { p.view.Zoom(1 / 1.6) }),
		widget.NewButtonWithIcon(tr("Fit"), theme.ZoomFitIcon(), p.view.Fit),
		u.NewTipButton(theme.NavigateBackIcon(), tr("Move earlier"), func() { p.view.Pan(-0.25) }), u.NewTipButton(theme.NavigateNextIcon(), tr("Move later"), func() { p.view.Pan(+0.25) }))
	supposing := container.NewHBox(widget.NewLabel(tr("What if")), container.New(kit.Sized{Width: 230}, p.suppose))

	p.progress = widget.NewProgressBar()
	p.underway = container.NewBorder(nil, nil, widget.NewLabel(tr("Reading the recording…")), widget.NewButton(tr("Stop reading"), func() {
		p.recorder.stop()
		p.Load()
	}), p.progress)
	p.underway.Hide()
	p.stale = container.NewBorder(nil, nil, nil, widget.NewButton(tr("Read again"), p.recorder.again),
		kit.Wrapped(tr("The job has changed since the recording was read.")))
	p.stale.Hide()
	return container.NewVBox(container.New(&kit.Flow{}, p.open, p.channels, p.close, p.evidence, supposing, p.ways.Content, sight), p.underway, p.stale)
}

func (p *page) Body() fyne.CanvasObject { return p.content }

func (p *page) Remember() { p.u.Prefs.SetFloat(desk.PrefSplitSignals, p.split.Offset) }

func (p *page) End() { p.recorder.stop() }

func (p *page) Leave() { p.recorder.Leave() }

func (p *page) CallOff() { p.recorder.CallOff() }

// Reading tells whether a recording is being read.
func (p *page) Reading() bool { return p.recorder.reading() }

// Take reads a recording and shows it.
func (p *page) Take(path string) { p.recorder.open(path, finding.TraceOptions{}) }

// Drawn is the part of the signals that is on the screen, recorded or predicted.
func (p *page) Drawn(name string, box figure.Box) (figure.Drawing, error) {
	if !p.u.IsOpen(Name) || p.room.Objects[0] != p.view {
		o := p.u.FigureOptions(box)
		o.Recorded = p.recorder.drawn()
		return chart.Drawing(name, p.u.OnPaper(), o)
	}
	shown, of, by := p.board.Predicted, p.of, p.by // with what is supposed, which this may be without
	defer func() { p.board.Predicted, p.of, p.by = shown, of, by }()
	p.predict(p.u.Shown(), p.recorder.shown())
	const columns = 1440
	from, to := p.view.Shows()
	in := p.view.Window(from, to, columns)
	in.Heading = p.u.OnPaper().Title
	if at, ok := p.view.CursorAt(); ok {
		in.Cursor = &at
	}
	if box.W == 0 {
		box = chart.UsualSize(name)
	}
	d, _ := figure.Signals(in, box)
	return d, nil
}

// Load shows the session's newest sound job, and its recording.
func (p *page) Load() {
	j := p.u.Shown()
	if p.session != p.u.Session {
		p.way = chart.OneCycle
		p.session, p.fault, p.spread = p.u.Session, finding.AsIs, chart.Spread{}
	}
	rec := p.recorder.shown()
	p.loadControls(j, rec)
	err := p.predict(j, rec)
	p.board.Recorded = p.recorder.drawn()
	p.loadWays()
	if p.board.Predicted == nil && p.board.Recorded == nil {
		p.lack(err)
		return
	}
	kit.Stand(p.room, p.view)
	p.say(rec, err)
	p.look(p.way)
}

// predict makes the prediction, unless it is the one there is.
func (p *page) predict(j job.Job, rec *recording) error {
	o := finding.SignalOptions{Fault: p.fault, CrankAlone: true}
	if p.fault == asRecorded {
		recorded, ok := finding.SignalOptions{}, false
		if rec != nil {
			recorded, ok = rec.drawn.Trace.AsRecorded()
		}
		if o = recorded; !ok {
			p.fault, o = finding.AsIs, finding.SignalOptions{}
		}
		o.CrankAlone = true
	}
	if p.board.Predicted != nil && desk.Alike(p.of, j) && sameSignals(p.by, o) {
		return nil
	}
	predicted, err := chart.NewPredicted(j, o, say)
	if err != nil {
		predicted = nil
	}
	p.board.Predicted, p.of, p.by = predicted, j, o
	return err
}

func sameSignals(a, b finding.SignalOptions) bool {
	return a.Fault == b.Fault && a.RPM == b.RPM && same(a.WheelErrorDeg, b.WheelErrorDeg) && same(a.CamErrorDeg, b.CamErrorDeg) && a.CrankAlone == b.CrankAlone
}

// loadControls brings the buttons up to what can be done.
func (p *page) loadControls(j job.Job, rec *recording) {
	var names []string
	var faults []string
	for _, f := range finding.SignalFaults() {
		names, faults = append(names, tr(f.Title)), append(faults, f.Name)
	}
	if rec != nil {
		if _, ok := rec.drawn.Trace.AsRecorded(); ok {
			names, faults = append(names, tr("as the recording shows")), append(faults, asRecorded)
		}
	}
	p.suppose.OnChanged = nil
	p.suppose.SetOptions(names)
	for i, f := range faults {
		if f == p.fault {
			p.suppose.SetSelectedIndex(i)
		}
	}
	p.suppose.OnChanged = func(string) {
		p.fault = faults[p.suppose.SelectedIndex()]
		p.Load()
		p.Moved()
	}
	kit.SetShown(p.channels, rec != nil)
	kit.SetShown(p.close, rec != nil)
	kit.SetShown(p.evidence, rec != nil)
	if rec != nil {
		found := rec.drawn.Trace.Evidence
		kit.Able(p.evidence, len(found) > 0 && !finding.HasEvidence(p.u.Session.Job(), found))
	}
	kit.SetShown(p.stale, p.recorder.stale(j) && !p.recorder.reading())
	p.progressed()
}

// progressed shows how far the reading has come.
func (p *page) progressed() {
	kit.SetShown(p.underway, p.recorder.reading())
	p.progress.SetValue(p.recorder.progress)
}

// arrived shows a recording that has just been read, or that there is none any
// more.
func (p *page) arrived() {
	p.spread = chart.Spread{}
	p.way = chart.OneCycle
	if rec := p.recorder.shown(); rec != nil && !rec.drawn.Follows() {
		p.way = chart.OverTime
	}
	p.Load()
}

// lack says what the job lacks for a prediction.
func (p *page) lack(err error) {
	kit.SetText(p.sentence, tr("What the sensors would show is not known yet."))
	kit.SetText(p.second, "")
	p.bar.Show(figure.Warning)
	kit.SetText(p.lacks, p.u.Why(err))
	key := firstKey(err)
	p.fill.Hidden = key == ""
	p.fill.OnTapped = func() { p.u.Show(key) }
	kit.SetText(p.notes, "")
	kit.SetText(p.steps, "")
	p.edges.Set(nil)
	kit.Stand(p.room, p.want)
}

// useAsEvidence puts what the recording proves into the job.
func (p *page) useAsEvidence() {
	rec := p.recorder.shown()
	if rec == nil {
		return
	}
	p.u.Session.Seal()
	p.u.Edit("evidence", func(j *job.Job) { j.Evidence = finding.WithEvidence(j.Evidence, rec.drawn.Trace.Evidence) })
	p.u.Session.Seal()
}

// name is what a recording is called.
func (rec *recording) name() string { return filepath.Base(rec.path) }

// exportCSV writes what is predicted as a recording, to a file of the user's choice.
func (p *page) exportCSV() {
	u := p.u
	u.AsIs(p.Load)
	predicted := p.board.Predicted
	p.Load()
	if predicted == nil {
		u.Tell(errors.New(tr("What the sensors would show is not known yet.")))
		return
	}
	found := predicted.Found
	folder, _ := u.Suggest(".csv")
	u.AskPath(tr("Save the predicted signals as CSV"), folder, "signals.csv", ".csv", func(path string) {
		u.WriteFile(path, func(b *bytes.Buffer) error { return found.WriteCSV(b, finding.UsualSampling) }, nil)
	})
}

// same tells whether two numbers, either of which may be lacking, are the same.
func same(a, b *float64) bool {
	return a == b || a != nil && b != nil && *a == *b
}
