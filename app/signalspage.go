package app

import (
	"bytes"
	"errors"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/plate"
	"pinphase.org/pinphase/widgets"
)

// signalsPage shows what the crank and cam sensors will show, with whatever fault
// is supposed, and below it a recording of them with what it proves.
type signalsPage struct {
	u        *desk
	recorder *recorder
	content  *container.Scroll

	bar      colourBar // the colour beside the sentence
	sentence *widget.Label
	second   *widget.Label

	suppose                         *widget.Select
	ways                            *oneOf
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
	edges *grid
	steps *widget.Label

	session *session // whose job was shown last
	fault   string   // supposed
	way     plate.Way
	spread  plate.Spread
	board   plate.Board
	of      job.Job               // the job the board was made of
	by      finding.SignalOptions // and how
}

// asRecorded is supposed, beside the faults there are, when a recording tells both
// errors.
const asRecorded = "as-recorded"

const signalsName = "signals" // by which the page is opened

var signalsKind = pageKind{
	name: signalsName, title: "Signals", figures: []string{"signals"}, takes: recordingEndings,
	actions: []pageAction{
		{"Open a recording…", true, ctrlShift(fyne.KeyO), func(p page) { p.(*signalsPage).openRecording() }},
		{"Save the predicted signals as CSV…", false, nil, func(p page) { p.(*signalsPage).exportCSV() }},
	},
	build: func(d *desk, old page) page {
		before, _ := old.(*signalsPage)
		return newSignalsPage(d, before)
	},
}

// newSignalsPage goes on with the recording of an old page, when the window is built
// anew for another language.
func newSignalsPage(u *desk, old *signalsPage) *signalsPage {
	p := &signalsPage{u: u, bar: newColourBar(u.frame), sentence: prose(), second: prose(), view: widgets.NewTraceView(), lacks: prose(),
		notes: prose(), steps: prose(), edges: newGrid(6), fault: finding.AsIs}
	p.recorder = newRecorder(p)
	if old != nil {
		p.recorder = old.recorder
		p.recorder.page = p
	}
	p.sentence.SizeName = theme.SizeNameSubHeadingText
	p.sentence.TextStyle.Bold = true
	words := container.New(&tight{}, p.sentence, p.second)
	top := container.NewVBox(container.NewBorder(nil, nil, p.bar.Rectangle, nil, words), p.controls())

	p.view.Window = func(from, to float64, n int) figure.SignalsInput { return p.board.Input(p.way, from, to, n, say) }
	p.view.OnCursor = p.pointed
	p.view.OnStep = func(by float64) { u.turn(timing.Deg(by)) }
	p.view.OnKey = u.key
	p.fill = widget.NewButton(tr("Fill it in"), nil)
	p.want = container.NewVBox(p.lacks, container.NewHBox(p.fill))
	p.room = container.NewStack(p.view)
	tabs := container.NewAppTabs(
		container.NewTabItem(tr("To know"), container.NewVScroll(p.notes)),
		container.NewTabItem(tr("Cam edges"), container.NewScroll(p.edges.content)),
		container.NewTabItem(tr("How it was reached"), container.NewVScroll(p.steps)),
		container.NewTabItem(tr("Cautions"), container.NewVScroll(cautions())),
	)
	p.split = container.NewVSplit(p.room, tabs)
	p.split.Offset = u.prefs.Share(prefSplitSignals, 0.72)
	p.content = container.NewVScroll(container.NewBorder(top, nil, nil, nil, p.split))
	return p
}

// controls are the buttons over the figure.
func (p *signalsPage) controls() fyne.CanvasObject {
	u := p.u
	p.open = widget.NewButtonWithIcon(tr("Open a recording…"), theme.FolderOpenIcon(), p.openRecording)
	p.channels = widget.NewButton(tr("Channels…"), func() { p.askChannels(p.recorder.shown()) })
	p.close = widget.NewButton(tr("Close it"), p.recorder.close)
	p.evidence = widget.NewButtonWithIcon(tr("Use as evidence"), theme.ConfirmIcon(), p.useAsEvidence)
	p.suppose = widget.NewSelect(nil, nil)
	p.ways = newOneOf(func(i int) { p.look(plate.Way(i)) }, tr("One cycle"), tr("Two cycles"), tr("All of it"), tr("Time"))
	sight := container.NewHBox(
		u.newTipButton(theme.ZoomOutIcon(), tr("Further off"), func() { p.view.Zoom(1.6) }), u.newTipButton(theme.ZoomInIcon(), tr("Closer"), func() { p.view.Zoom(1 / 1.6) }),
		widget.NewButtonWithIcon(tr("Whole"), theme.ZoomFitIcon(), p.view.Fit),
		u.newTipButton(theme.NavigateBackIcon(), tr("Move earlier"), func() { p.view.Pan(-0.25) }), u.newTipButton(theme.NavigateNextIcon(), tr("Move later"), func() { p.view.Pan(+0.25) }))
	supposing := container.NewHBox(widget.NewLabel(tr("Suppose")), container.New(sized{230}, p.suppose))

	p.progress = widget.NewProgressBar()
	p.underway = container.NewBorder(nil, nil, widget.NewLabel(tr("Reading the recording…")), widget.NewButton(tr("Stop reading"), func() {
		p.recorder.stop()
		p.load()
	}), p.progress)
	p.underway.Hide()
	p.stale = container.NewBorder(nil, nil, nil, widget.NewButton(tr("Read it again"), p.recorder.again),
		wrapped(tr("The job has changed since the recording was read.")))
	p.stale.Hide()
	return container.NewVBox(container.New(&flow{}, p.open, p.channels, p.close, p.evidence, supposing, p.ways.content, sight), p.underway, p.stale)
}

func (p *signalsPage) body() fyne.CanvasObject { return p.content }

func (p *signalsPage) remember() { p.u.prefs.SetFloat(prefSplitSignals, p.split.Offset) }

func (p *signalsPage) end() { p.recorder.stop() }

func (p *signalsPage) leave() { p.recorder.leave() }

func (p *signalsPage) callOff() { p.recorder.callOff() }

// take reads a recording and shows it.
func (p *signalsPage) take(path string) { p.recorder.open(path, finding.TraceOptions{}) }

// drawn is the part of the signals that is on the screen, recorded or predicted.
func (p *signalsPage) drawn(name string, box figure.Box) (figure.Drawing, error) {
	if !p.u.isOpen(signalsName) || p.room.Objects[0] != p.view {
		o := p.u.figureOptions(box)
		o.Recorded = p.recorder.drawn()
		return plate.Drawing(name, p.u.shown(), o)
	}
	const columns = 1440
	from, to := p.view.Shows()
	in := p.view.Window(from, to, columns)
	in.Heading = p.u.session.Sound().Title
	if at, ok := p.view.CursorAt(); ok {
		in.Cursor = &at
	}
	if box.W == 0 {
		box = plate.UsualSize(name)
	}
	d, _ := figure.Signals(in, box)
	return d, nil
}

// load shows the session's newest sound job, and its recording.
func (p *signalsPage) load() {
	j := p.u.shown()
	if p.session != p.u.session {
		p.way = plate.OneCycle
		p.session, p.fault, p.spread = p.u.session, finding.AsIs, plate.Spread{}
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
	stand(p.room, p.view)
	p.say(rec, err)
	p.look(p.way)
}

// predict makes the prediction, unless it is the one there is.
func (p *signalsPage) predict(j job.Job, rec *recording) error {
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
	if p.board.Predicted != nil && p.of.Equal(j) && sameSignals(p.by, o) {
		return nil
	}
	predicted, err := plate.NewPredicted(j, o, say)
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
func (p *signalsPage) loadControls(j job.Job, rec *recording) {
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
		p.load()
		p.moved()
	}
	setShown(p.channels, rec != nil)
	setShown(p.close, rec != nil)
	setShown(p.evidence, rec != nil)
	if rec != nil {
		found := rec.drawn.Trace.Evidence
		able(p.evidence, len(found) > 0 && !finding.HasEvidence(p.u.session.Job(), found))
	}
	setShown(p.stale, p.recorder.stale(j) && !p.recorder.reading())
	p.progressed()
}

// progressed shows how far the reading has come.
func (p *signalsPage) progressed() {
	setShown(p.underway, p.recorder.reading())
	p.progress.SetValue(p.recorder.progress)
}

// arrived shows a recording that has just been read, or that there is none any
// more.
func (p *signalsPage) arrived() {
	p.spread = plate.Spread{}
	p.way = plate.OneCycle
	if rec := p.recorder.shown(); rec != nil && !rec.drawn.Follows() {
		p.way = plate.OverTime
	}
	p.load()
}

// lack says what the job lacks for a prediction.
func (p *signalsPage) lack(err error) {
	setText(p.sentence, tr("What the sensors will show cannot be said yet."))
	setText(p.second, "")
	p.bar.show(figure.Warning)
	setText(p.lacks, p.u.why(err))
	key := firstKey(err)
	p.fill.Hidden = key == ""
	p.fill.OnTapped = func() { p.u.showKey(key) }
	setText(p.notes, "")
	setText(p.steps, "")
	p.edges.set(nil)
	stand(p.room, p.want)
}

// useAsEvidence puts what the recording proves into the job.
func (p *signalsPage) useAsEvidence() {
	rec := p.recorder.shown()
	if rec == nil {
		return
	}
	p.u.session.Seal()
	p.u.edit("evidence", func(j *job.Job) { j.Evidence = finding.WithEvidence(j.Evidence, rec.drawn.Trace.Evidence) })
	p.u.session.Seal()
}

// name is what a recording is called.
func (rec *recording) name() string { return filepath.Base(rec.path) }

// exportCSV writes what is predicted as a recording, to a file of the user's choice.
func (p *signalsPage) exportCSV() {
	u := p.u
	p.load()
	if p.board.Predicted == nil {
		u.tell(errors.New(tr("What the sensors will show cannot be said yet.")))
		return
	}
	found := p.board.Predicted.Found
	folder, _ := u.suggest(".csv")
	u.askPath(tr("Save the predicted signals as CSV"), folder, "signals.csv", ".csv", func(path string) {
		u.writeFile(path, func(b *bytes.Buffer) error { return found.WriteCSV(b, finding.UsualSampling) }, nil)
	})
}
