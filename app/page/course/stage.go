package course

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson/course"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// stage is where a step's figures are, and what is moved on them.
type stage struct {
	page    *page
	content *fyne.Container
	room    *fyne.Container
	both    *container.Split
	where   *kit.LineLabel // what is moved, and where it is
	by      [4]*kit.KeyButton

	cycle   *widgets.CycleView
	engine  *widgets.EngineView
	wheel   *widgets.WheelView
	gears   *widgets.GearsView
	signals *widgets.TraceView
	dial    *widgets.DialView

	step   course.Step
	at     float64 // of what is moved; of the crankshaft where a cylinder is chosen
	chosen int     // cylinder; 0: none

	// What is worked out once for a step, or for the dowel's present place.
	of      float64 // the place of the dowel it was worked out for
	turned  chart.TurningEngine
	turning chart.TurningWheel
	train   chart.TurningGears
	traces  *chart.Predicted
}

func newStage(p *page) *stage {
	s := &stage{page: p, room: container.NewStack(), where: kit.NewLineLabel(),
		cycle: widgets.NewCycleView(), engine: widgets.NewEngineView(), wheel: widgets.NewWheelView(), gears: widgets.NewGearsView(),
		signals: widgets.NewTraceView(), dial: widgets.NewDialView()}
	turn := func(by timing.Deg) { s.put(s.at + float64(by)) }
	s.cycle.OnCursor = func(at timing.Deg) { s.point(float64(at)) }
	s.engine.OnTurn, s.wheel.OnTurn, s.gears.OnTurn, s.dial.OnTurn = turn, turn, turn, turn
	s.signals.OnStep = func(by float64) { s.put(s.at + by) }
	s.signals.OnCursor = func(at float64) {
		if s.traces != nil {
			s.point(float64(s.traces.TrueAt(at)))
		}
	}
	s.signals.Window = func(from, to float64, n int) figure.SignalsInput {
		if s.traces == nil {
			return figure.SignalsInput{}
		}
		return s.traces.Input(chart.AngleWindow(from, to, n, s.traces.Found.CycleDeg))
	}
	key := func(e *fyne.KeyEvent) { p.u.Key(e) }
	s.cycle.OnKey, s.engine.OnKey, s.wheel.OnKey, s.gears.OnKey, s.signals.OnKey, s.dial.OnKey = key, key, key, key, key, key
	row := container.NewHBox()
	for i := range s.by {
		s.by[i] = kit.NewKeyButton("", func() { s.put(s.at + s.strides()[i]) })
		row.Add(s.by[i])
	}
	strip := container.NewHScroll(row)
	s.content = container.NewBorder(nil, container.New(&kit.ThenWords{}, strip, s.where), nil, nil, s.room)
	return s
}

// strides are by how much the buttons below the figures move: gears are turned through
// many turns.
func (s *stage) strides() [4]float64 {
	if s.far() {
		return [4]float64{-360, -10, 10, 360}
	}
	return [4]float64{-10, -1, 1, 10}
}

// far tells whether the crankshaft is turned on through many turns.
func (s *stage) far() bool { return len(s.step.Figures) > 0 && s.step.Figures[0] == "gears" }

// show begins a step.
func (s *stage) show(step course.Step) {
	s.step, s.at, s.chosen = step, step.Start, 0
	s.cycle.OnRow, s.engine.OnCylinder = nil, nil // the arrows up and down are free to move what is moved
	if step.Moves() == course.Cylinder {
		s.cycle.OnRow, s.engine.OnCylinder = s.choose, s.choose
	}
	s.prepare()
	for i, v := range s.strides() {
		sign := "+"
		if v < 0 {
			sign = ""
		}
		s.by[i].SetText(sign + number(v, 0) + "°")
	}
	var views []fyne.CanvasObject
	for _, name := range step.Figures {
		views = append(views, s.view(name))
	}
	var all fyne.CanvasObject = views[0]
	s.remember()
	s.both = nil
	if len(views) == 2 {
		s.both = container.NewVSplit(views[0], views[1])
		s.both.Offset = s.page.u.Prefs.Share(prefTwo, 0.5)
		all = s.both
	}
	s.room.Objects = []fyne.CanvasObject{all}
	s.room.Refresh()
}

func (s *stage) remember() {
	if s.both != nil {
		s.page.u.Prefs.SetFloat(prefTwo, s.both.Offset)
	}
}

// view is the view of a figure.
func (s *stage) view(name string) fyne.CanvasObject {
	return map[string]fyne.CanvasObject{"cycle": s.cycle, "engine": s.engine, "wheel": s.wheel, "gears": s.gears, "signals": s.signals, "dial": s.dial}[name]
}

// focus gives the keyboard to the first figure, unless something lies over the page.
func (s *stage) focus() {
	if len(s.step.Figures) == 0 || s.page.u.Covered() || !s.page.u.IsOpen(name) {
		return
	}
	if f, ok := s.view(s.step.Figures[0]).(fyne.Focusable); ok {
		s.page.u.Window.Canvas().Focus(f)
	}
}

// prepare works out what does not change while the step is worked at. A step's job is
// held sound by a test; a figure it has nothing for stays empty.
func (s *stage) prepare() {
	j := s.step.Shown(s.at)
	s.of = s.at
	s.turned, _ = chart.NewTurningEngine(j, timing.Nose, say)
	s.turning, _ = chart.NewTurningWheel(j, timing.Nose, say)
	s.train, s.traces = chart.TurningGears{}, nil
	for _, name := range s.step.Figures {
		switch name {
		case "gears":
			s.train, _ = chart.NewTurningGears(j, timing.Nose, say)
		case "signals":
			if p, err := chart.NewPredicted(j, finding.SignalOptions{}, say); err == nil {
				s.traces = p
				s.signals.SetAxis(0, p.Found.CycleDeg, 60)
			}
		}
	}
	s.loadCycle(j)
}

// loadCycle puts the step's engine into the cycle figure.
func (s *stage) loadCycle(j job.Job) {
	in, err := chart.Cycle(j, chart.CycleOptions{Selected: s.chosen, Say: say})
	if err != nil {
		return
	}
	in.Heading = ""
	in.ReadoutRoom = tr("compression") + ", " + chart.Say(say).BTDC(-188.8)
	s.cycle.SetFigure(in)
}

// value is what is judged: the cylinder chosen, or where what is moved is.
func (s *stage) value() float64 {
	if s.step.Moves() == course.Cylinder {
		return float64(s.chosen)
	}
	return s.at
}

// point puts the cursor where the figure was pointed at. Where the dowel is turned the
// crankshaft is not.
func (s *stage) point(at float64) {
	if m := s.step.Moves(); (m == course.Crank || m == course.Cylinder) && !s.far() {
		s.put(at)
	}
}

// choose chooses a cylinder, where the step asks for one.
func (s *stage) choose(cylinder int) {
	if s.page.over {
		return
	}
	s.chosen = cylinder
	s.loadCycle(s.step.Job)
	s.load()
}

// put moves what is moved in the step to a place.
func (s *stage) put(at float64) {
	cycle := timing.CycleOf(s.step.Job.Engine.Strokes)
	switch s.step.Moves() {
	case course.Dowel:
		s.at = float64(timing.WrapSigned(timing.Deg(at), timing.Turn))
	case course.Mark:
		s.at = float64(timing.Wrap(timing.Deg(at), timing.Turn))
	default:
		s.at = at
		if !s.far() {
			s.at = float64(timing.Wrap(timing.Deg(at), cycle))
		}
	}
	s.load()
}

// solve shows the answer.
func (s *stage) solve() {
	if s.step.Moves() == course.Cylinder {
		s.chosen = int(s.step.Aim.Answer)
		s.loadCycle(s.step.Job)
		s.load()
		return
	}
	s.put(s.step.Aim.Answer)
}

// load draws the step's figures as they stand.
func (s *stage) load() {
	crank := timing.Deg(s.at)
	switch s.step.Moves() {
	case course.Dowel:
		if s.of != s.at {
			s.prepare()
		}
		crank = 0
	case course.Mark:
		crank = 0
	}
	j := s.step.Shown(s.at)
	for _, name := range s.step.Figures {
		switch name {
		case "cycle":
			s.moveCycle(j, crank)
		case "engine":
			in := s.turned.At(crank, s.chosen)
			in.Heading = ""
			s.engine.SetFigure(in)
		case "wheel":
			in := s.turning.At(crank)
			in.Heading = ""
			s.wheel.SetFigure(in)
		case "gears":
			in := s.train.At(crank)
			in.Heading, in.Caption = "", in.Caption[:1] // the rest gives the answer
			s.gears.SetFigure(in)
		case "signals":
			if s.traces != nil {
				s.signals.MoveCursor(s.traces.Cursor(crank), "") // its axis counts the ECU's degrees, not the crankshaft's
			}
		case "dial":
			d, mark := *s.step.Dial, timing.Deg(s.at)
			d.Mark = &mark
			s.dial.SetFigure(chart.Dial(d, s.page.over, say))
		}
	}
	s.say()
}

// moveCycle moves the cycle figure's cursor.
func (s *stage) moveCycle(j job.Job, crank timing.Deg) {
	p, err := finding.PhaseAt(j, crank)
	if err != nil {
		return
	}
	words := chart.Readouts(p, say)
	e, err := finding.EngineOf(j)
	if err != nil {
		return
	}
	var byRow []string
	for _, c := range chart.RowOrder(e, false) {
		byRow = append(byRow, words[c-1])
	}
	at := timing.Wrap(crank, e.Cycle())
	s.cycle.MoveCursor(at, number(float64(at), 1)+"°", byRow)
}

// say says below the figures what is moved and where it is.
func (s *stage) say() {
	at := phrase.Num{Value: s.at, Decimals: 1}
	text := phrase.Text("Crankshaft at {{.At}}°")
	switch {
	case s.step.Moves() == course.Mark:
		text = "Mark at {{.At}}°"
	case s.step.Moves() == course.Dowel && s.at < 0:
		text, at.Value = "Dowel {{.At}}° behind its place", -s.at
	case s.step.Moves() == course.Dowel:
		text = "Dowel {{.At}}° ahead of its place"
	}
	words := with(text, map[string]any{"At": at})
	if s.chosen > 0 {
		words += " – " + with("cylinder {{.N}} chosen", map[string]any{"N": s.chosen})
	}
	s.where.SetText(words)
}

// key acts on a key that nothing else wanted.
func (s *stage) key(e *fyne.KeyEvent) bool {
	by := 90.0
	if s.far() {
		by = 360
	}
	switch e.Name {
	case fyne.KeyHome:
		s.put(s.step.Start)
	case fyne.KeyEnd, fyne.KeySpace: // would move the open job's crankshaft unseen
	case fyne.KeyPageUp:
		s.put(s.at - by)
	case fyne.KeyPageDown:
		s.put(s.at + by)
	default:
		step, ok := widgets.Step(e.Name, kit.HeldModifiers())
		if ok {
			s.put(s.at + float64(step))
		}
		return ok
	}
	return true
}
