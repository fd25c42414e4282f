package chart

import (
	"math"
	"sort"
	"strconv"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/trace"
	"pinphase.org/pinphase/timing/wheel"
)

// The words of a recording's rows.
const (
	wordRecording      phrase.Text = "recording"
	wordRecordedLost   phrase.Text = "missing pulse"
	wordRecordedExtra  phrase.Text = "extra edge"
	wordRecordedNone   phrase.Text = "no tooth, correctly"
	wordRecordedSpan   phrase.Text = "{{.Lo}} to {{.Hi}}"
	wordRecordedNumber phrase.Text = "channel {{.N}}"
	wordRecordedLostAt phrase.Text = "Tooth pulse missing at {{.At}} s."
	wordRecordedMoreAt phrase.Text = "Extra edge at {{.At}} s."
	wordRecordedCam    phrase.Text = "Tooth {{.N}} of the cam sensor wheel was not seen."
	wordRecordedNoCam  phrase.Text = "This cam edge is none of the job's teeth."
)

// Recorded is a recording ready to be drawn, alone or under what was predicted. It
// is not changed once it is made.
type Recorded struct {
	Trace   finding.Trace
	picture *trace.Picture
	folded  *trace.Folded // nil: the teeth could not be followed
	names   []string      // of the channels; "" where the file gives none

	engine timing.Scheme
	cycle  float64
	crank  *wheel.Crank
	cam    *wheel.Cam
	track  track
}

// track is the longest stretch through which the teeth were followed, tooth by
// tooth.
type track struct{ angle, time []float64 }

// at reads one of the two off the other; NaN outside.
func at(x float64, of, to []float64) float64 {
	n := len(of)
	if n < 2 || !(x >= of[0] && x <= of[n-1]) {
		return math.NaN()
	}
	i := min(max(sort.SearchFloat64s(of, x), 1), n-1)
	return to[i-1] + (to[i]-to[i-1])*(x-of[i-1])/(of[i]-of[i-1])
}

// foldedParts is into how many parts a degree of a cycle is divided where the
// recording is laid over itself.
const foldedParts = 10

// NewRecorded makes a recording ready. It works for a moment; t is the zero Trace
// where the recording proves nothing, which is then drawn over time alone.
func NewRecorded(j job.Job, names []string, t finding.Trace, p *trace.Picture) (*Recorded, error) {
	e, err := finding.EngineOf(j)
	if err != nil {
		return nil, err
	}
	r := &Recorded{Trace: t, picture: p, names: names, engine: e, cycle: float64(e.Cycle()), crank: finding.CrankWheelOf(j), cam: finding.CamWheelOf(j, e.Cycle())}
	a := t.Analysis
	if a == nil || a.Found == nil || len(a.Runs) == 0 {
		return r, nil
	}
	longest := 0
	for i, run := range a.Runs {
		if len(run.Time) > len(a.Runs[longest].Time) {
			longest = i
		}
	}
	for _, s := range a.Runs[longest].Time {
		v, run, ok := a.Angle(s)
		if n := len(r.track.angle); ok && run == longest && (n == 0 || float64(v) > r.track.angle[n-1]) {
			r.track.angle, r.track.time = append(r.track.angle, float64(v)), append(r.track.time, s)
		}
	}
	r.folded = p.Fold(r.cycle, int(r.cycle)*foldedParts, func(s float64) (float64, bool) {
		v, _, ok := a.Angle(s)
		return float64(v), ok
	})
	return r, nil
}

// Follows tells whether the teeth were followed: whether it can be drawn over the
// crank angle.
func (r *Recorded) Follows() bool { return r.folded != nil && len(r.track.angle) > 1 }

// Seconds is when the recording begins and ends.
func (r *Recorded) Seconds() (from, to float64) { return r.picture.Seconds() }

// Angles is from where to where the controller's angle can be followed, on through
// all cycles.
func (r *Recorded) Angles() (from, to float64) {
	if !r.Follows() {
		return 0, 0
	}
	return r.track.angle[0], r.track.angle[len(r.track.angle)-1]
}

// AngleAt is the controller's angle at a time; NaN where it is not known.
func (r *Recorded) AngleAt(seconds float64) float64 { return at(seconds, r.track.time, r.track.angle) }

// TimeAt is when the controller's angle is passed; NaN where it is not known.
func (r *Recorded) TimeAt(angle float64) float64 { return at(angle, r.track.angle, r.track.time) }

// ThroughAngles is a window on the angle, on through all cycles, in n columns.
func (r *Recorded) ThroughAngles(from, to float64, n int) Window {
	w := AngleWindow(from, to, n, r.cycle)
	w.Times = make([]float64, n+1)
	for i, a := range w.Angles {
		w.Times[i] = r.TimeAt(a)
	}
	return w
}

// ThroughTime is a window on the time, in n columns.
func (r *Recorded) ThroughTime(from, to float64, n int) Window {
	w := AngleWindow(from, to, n, 0)
	w.Axis = figure.SignalAxis{Unit: " s"}
	w.Times, w.Angles = w.Angles, make([]float64, n+1)
	for i, s := range w.Times {
		w.Angles[i] = r.AngleAt(s)
	}
	w.Place = func(angle float64) (float64, bool) {
		s := r.TimeAt(angle)
		return s, s >= from && s <= to
	}
	return w
}

// topDeadCentre is the controller's angle in the cycle at true top dead centre, nil where
// it is not known: the offset that is reported tells it within a turn.
func (r *Recorded) topDeadCentre() *float64 {
	if a := r.Trace.Analysis; a != nil && a.TDC != nil && a.Modulo > timing.Turn {
		v := float64(a.TDC.Value)
		return &v
	}
	return r.Trace.TDCOffsetDeg
}

// Group draws the recording in a window. Over every cycle at once where the window
// has no times.
func (r *Recorded) Group(w Window, say Say) figure.SignalGroup {
	g := figure.SignalGroup{Label: say.text(wordRecording)}
	if r.Follows() {
		g.Lines = w.deadCentres(r.engine, r.topDeadCentre(), say)
	}
	some := false
	for _, c := range r.Trace.Channels {
		some = some || c.Role != ""
	}
	for i := range r.picture.Channels() {
		var role trace.Role
		if i < len(r.Trace.Channels) {
			role = trace.Role(r.Trace.Channels[i].Role)
		}
		if role == "" && some {
			continue
		}
		row := r.row(i, role.Text(), w, say)
		switch role {
		case trace.CrankSensor:
			r.crankMarks(&row, w, say)
		case trace.CamSensor:
			r.camMarks(&row, w, say)
		}
		g.Rows = append(g.Rows, row)
	}
	return g
}

// Words adds to a figure's words those of a recording.
func (r *Recorded) Words(w *figure.SignalWords, say Say) {
	w.Lost, w.Extra, w.Missing = say.text(wordRecordedLost), say.text(wordRecordedExtra), say.text(wordRecordedNone)
}

// row is a channel's trace.
func (r *Recorded) row(channel int, role phrase.Text, w Window, say Say) figure.SignalRow {
	name := ""
	if channel < len(r.names) {
		name = r.names[channel]
	}
	switch {
	case role != "":
		name = say.text(role)
	case name == "":
		name = say.with(wordRecordedNumber, map[string]any{"N": channel + 1})
	}
	row := figure.SignalRow{Label: name}
	whole := r.picture.Whole(channel)
	lo, hi := float64(whole.Lo), float64(whole.Hi)
	if whole.Empty() || hi-lo < 1e-9 {
		lo, hi = lo-1, lo+1
	} else {
		row.Range = say.with(wordRecordedSpan, map[string]any{"Lo": phrase.Num{Value: lo, Decimals: 1}, "Hi": phrase.Num{Value: hi, Decimals: 1}})
	}
	row.Min, row.Max = lo-0.08*(hi-lo), hi+0.08*(hi-lo)
	if w.Times != nil {
		row.Lo, row.Hi = r.picture.Between(channel, w.Times)
	} else if r.folded != nil {
		row.Lo, row.Hi = r.folded.Between(channel, w.Angles)
	}
	return row
}

// crankMarks marks the crank teeth: each as it was found where the window follows
// the recording, else where they belong; with teeth lost and edges too many.
func (r *Recorded) crankMarks(row *figure.SignalRow, w Window, say Say) {
	a := r.Trace.Analysis
	if r.crank == nil || a == nil {
		return
	}
	pitch := float64(r.crank.Pitch())
	start := -float64(r.crank.FirstToothBTDC)
	var teeth, missing []float64
	var numbers []int
	for p := 1; p <= r.crank.Positions; p++ {
		angle := start + float64(p-1)*pitch
		if r.crank.IsMissing(p) {
			missing = append(missing, angle)
			continue
		}
		teeth, numbers = append(teeth, angle), append(numbers, p)
	}
	turn := float64(timing.Turn)
	if w.Times == nil {
		w.each(teeth, turn, 3, func(i int, _, x float64) {
			row.Marks = append(row.Marks, figure.SignalMark{At: x, Label: strconv.Itoa(numbers[i])})
		})
	} else if from, to := w.reach(); (to-from)/pitch < float64(w.columns())/3 {
		for _, t := range a.Teeth(w.seconds()) {
			if t.State != trace.ToothSeen {
				continue
			}
			if x, ok := r.place(w, t.Seconds); ok {
				row.Marks = append(row.Marks, figure.SignalMark{At: x, Label: strconv.Itoa(t.Position)})
			}
		}
	}
	w.each(missing, turn, 3, func(i int, angle, x float64) {
		row.Marks = append(row.Marks, figure.SignalMark{At: x, State: figure.MarkMissing})
		if i == 0 || missing[i]-missing[i-1] > 1.5*pitch {
			end := i
			for end+1 < len(missing) && missing[end+1]-missing[end] < 1.5*pitch {
				end++
			}
			if g, ok := w.span(angle-0.5*pitch, angle+float64(end-i)*pitch+0.5*pitch); ok {
				row.Gaps = append(row.Gaps, g)
			}
		}
	})
	for _, s := range a.Slips {
		mark := figure.SignalMark{State: figure.MarkLost, Says: say.with(wordRecordedLostAt, map[string]any{"At": phrase.Num{Value: s.Time, Decimals: 4}})}
		if s.Extra {
			mark.State, mark.Says = figure.MarkExtra, say.with(wordRecordedMoreAt, map[string]any{"At": phrase.Num{Value: s.Time, Decimals: 4}})
		}
		put := func(x float64) {
			mark.At = x
			row.Marks = append(row.Marks, mark)
		}
		if w.Times != nil {
			if x, ok := r.place(w, s.Time); ok {
				put(x)
			}
			continue
		}
		if angle := r.AngleAt(s.Time); !math.IsNaN(angle) {
			w.each([]float64{math.Mod(math.Mod(angle, r.cycle)+r.cycle, r.cycle)}, r.cycle, 1, func(_ int, _, x float64) { put(x) })
		}
	}
	sort.SliceStable(row.Marks, func(i, k int) bool { return row.Marks[i].At < row.Marks[k].At })
}

// place is where a time lies on a window's axis.
func (r *Recorded) place(w Window, seconds float64) (x float64, ok bool) {
	if x = seconds; w.Place == nil {
		x = r.AngleAt(seconds)
	}
	return x, x >= w.From && x <= w.To
}

// camMarks marks the cam's edges where they were seen, with the way from where they
// belong, and teeth that were not seen.
func (r *Recorded) camMarks(row *figure.SignalRow, w Window, say Say) {
	a := r.Trace.Analysis
	if a == nil {
		return
	}
	var at, late []float64
	var of []trace.CamTooth
	seen := map[int]bool{}
	for _, t := range a.CamTeeth {
		of, at = append(of, t), append(at, t.At)
		late = append(late, 0)
		if a.Correlation != nil && t.Tooth > 0 {
			late[len(late)-1] = float64(t.Late)
		}
		seen[t.Tooth] = true
	}
	order := rising(at)
	w.each(at, r.cycle, 6, func(i int, angle, x float64) {
		t := of[order[i]]
		if t.Tooth == 0 {
			row.Marks = append(row.Marks, figure.SignalMark{At: x, State: figure.MarkExtra, Says: say.text(wordRecordedNoCam)})
			return
		}
		row.Marks = append(row.Marks, figure.SignalMark{At: x, Label: strconv.Itoa(t.Tooth)})
		row.Arrows = w.arrow(row.Arrows, angle, late[order[i]], say)
	})
	if r.cam == nil || a.Correlation == nil {
		return
	}
	for j := 1; j <= len(r.cam.Teeth); j++ {
		if seen[j] {
			continue
		}
		angle := timing.Wrap(r.cam.PassesAt(j, 0)+a.Correlation.Value, timing.Deg(r.cycle))
		w.each([]float64{float64(angle)}, r.cycle, 6, func(_ int, _, x float64) {
			row.Marks = append(row.Marks, figure.SignalMark{At: x, State: figure.MarkLost, Says: say.with(wordRecordedCam, map[string]any{"N": j})})
		})
	}
	sort.SliceStable(row.Marks, func(i, k int) bool { return row.Marks[i].At < row.Marks[k].At })
}
