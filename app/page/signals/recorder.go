package signals

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"reflect"
	"runtime/debug"
	"time"

	"fyne.io/fyne/v2"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/regular"
	"pinphase.org/pinphase/timing/trace"
	"pinphase.org/pinphase/timing/trace/samples"
)

// recording is a recording that was read.
type recording struct {
	path    string
	options finding.TraceOptions
	names   []string // of its channels
	drawn   *chart.Recorded
	err     error       // why it proves nothing; nil when it proves something
	known   trace.Known // what the job said of the engine then

	glimpsed func(*chart.Recorded) // is told what there is to draw while it is read; nil: nobody wants it
}

// recorder reads recordings beside the main goroutine, one at a time. It belongs to
// the main goroutine, and outlives a change of language.
type recorder struct {
	u       *desk.Desk
	page    *page         // that shows it
	session *desk.Session // the recording belongs to its job
	now     *recording    // nil: none

	number   int // of the reading; what comes of another one is dropped
	cancel   context.CancelFunc
	path     string          // being read; "" when nothing is
	progress float64         // 0..1
	glimpse  *chart.Recorded // what is being read, as far as it was; nil: nothing yet
	beside   func(work func() (show func()))
}

func newRecorder(p *page) *recorder { return &recorder{u: p.u, page: p, beside: p.u.Background} }

// shown is the recording of the open job; nil when there is none.
func (r *recorder) shown() *recording {
	if r.session != r.u.Session {
		return nil
	}
	return r.now
}

// stale tells whether the job has since become another in what a recording is read
// by.
func (r *recorder) stale(j job.Job) bool {
	known, err := finding.TraceKnown(j)
	return err == nil && r.shown() != nil && !reflect.DeepEqual(known, r.now.known)
}

// reading tells whether one is being read.
func (r *recorder) reading() bool { return r.path != "" }

// stop calls the reading off.
func (r *recorder) stop() {
	r.number++
	if r.cancel != nil {
		r.cancel()
	}
	r.cancel, r.path, r.glimpse = nil, "", nil
}

// CallOff stops the reading, if there is one, and shows that.
func (r *recorder) CallOff() {
	if r.reading() {
		r.stop()
		r.page.Load()
	}
}

// Leave lets go of the recording before another job is opened.
func (r *recorder) Leave() {
	r.stop()
	r.now, r.session = nil, nil
}

// open reads a recording of the open job's engine.
func (r *recorder) open(path string, o finding.TraceOptions) {
	u := r.u
	u.Open(Name, "")
	j := u.Known()
	known, err := finding.TraceKnown(j)
	if err != nil {
		u.Tell(errors.New(tr("A recording cannot be read with this job:") + "\n\n" + u.Why(err)))
		return
	}
	r.stop()
	ctx, cancel := context.WithCancel(context.Background())
	r.cancel, r.path, r.progress, r.session = cancel, path, 0, u.Session
	number := r.number
	r.page.Load()
	r.beside(func() func() {
		rec := &recording{path: path, options: o, known: known, glimpsed: r.glimpser(number)}
		rec.open(ctx, j, func(size int64) func(int64) { return r.teller(number, size) })
		debug.FreeOSMemory() // reading took much that nothing holds any more
		return func() { r.done(number, rec) }
	})
}

// perSecond is how often the progress is shown.
const perSecond = 15

// teller returns what is told the bytes read so far, beside the main goroutine.
func (r *recorder) teller(number int, size int64) func(int64) {
	if r.u.InTurn {
		return nil
	}
	var last time.Time
	return func(bytes int64) {
		if now := time.Now(); now.Sub(last) > time.Second/perSecond {
			last = now
			share := float64(bytes) / float64(size)
			fyne.Do(func() {
				if number == r.number {
					r.progress = share
					r.page.progressed()
				}
			})
		}
	}
}

// open opens and reads a recording's file; told makes what is told of the progress
// from its size.
func (rec *recording) open(ctx context.Context, j job.Job, told func(size int64) func(int64)) {
	f, err := regular.Open(rec.path)
	if err != nil {
		rec.err = err
		return
	}
	defer f.Close()
	size := int64(1)
	if s, err := f.Stat(); err == nil {
		size = max(s.Size(), 1)
	}
	rec.read(ctx, j, f, told(size))
}

// glimpser returns what is told of a picture that is still growing.
func (r *recorder) glimpser(number int) func(*chart.Recorded) {
	if r.u.InTurn {
		return nil
	}
	return func(drawn *chart.Recorded) { fyne.Do(func() { r.glimpses(number, drawn) }) }
}

// glimpses shows what has been read so far, over time.
func (r *recorder) glimpses(number int, drawn *chart.Recorded) {
	if number != r.number || r.path == "" {
		return
	}
	first := r.glimpse == nil
	r.glimpse = drawn
	if first {
		r.page.way = chart.OverTime
	}
	r.page.Load()
}

// glimpse is told a picture that is still growing; nil where nobody wants to know.
func (rec *recording) glimpse(j job.Job) func(*trace.Picture) {
	if rec.glimpsed == nil {
		return nil
	}
	return func(p *trace.Picture) {
		if drawn, err := chart.NewRecorded(j, rec.names, finding.Trace{}, p); err == nil {
			rec.glimpsed(drawn)
		}
	}
}

// read reads a file; it touches nothing but the recording.
func (rec *recording) read(ctx context.Context, j job.Job, f *os.File, told func(int64)) {
	picture := new(trace.Picture)
	if rd, err := finding.TraceReader(f, rec.options); err == nil {
		rec.names = rd.Names()
	}
	_, err := f.Seek(0, io.SeekStart)
	var found finding.Trace
	if err == nil {
		found, err = finding.ReadTrace(ctx, j, f, rec.options, finding.TraceWork{Progress: told, Picture: picture, Glimpse: rec.glimpse(j)})
	}
	if rec.err = err; finding.Stopped(err) || picture.Channels() == 0 {
		return
	}
	drawn, broken := chart.NewRecorded(j, rec.names, found, picture)
	if broken != nil {
		rec.err = broken
		return
	}
	rec.drawn = drawn
}

// done shows what was read, or says why it was not.
func (r *recorder) done(number int, rec *recording) {
	if number != r.number {
		return
	}
	u := r.u
	r.cancel, r.path, r.glimpse = nil, "", nil
	switch {
	case errors.Is(rec.err, samples.ErrNoTime):
		r.page.Load()
		r.page.askChannels(rec)
		return
	case rec.drawn == nil:
		r.page.Load()
		u.Tell(errors.New(filepath.Base(rec.path) + ": " + u.Why(rec.err)))
		return
	}
	r.now = rec
	r.page.arrived()
}

// again reads the same recording once more.
func (r *recorder) again() {
	if rec := r.shown(); rec != nil {
		r.open(rec.path, rec.options)
	}
}

// close lets go of the recording.
func (r *recorder) close() {
	r.stop()
	r.now = nil
	r.page.arrived()
}

// drawn is the open job's recording, ready to be drawn, or what there is of the one that
// is being read; nil when there is none.
func (r *recorder) drawn() *chart.Recorded {
	if r.session == r.u.Session && r.glimpse != nil {
		return r.glimpse
	}
	if rec := r.shown(); rec != nil {
		return rec.drawn
	}
	return nil
}
