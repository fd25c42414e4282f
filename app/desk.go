package app

import (
	"errors"
	"path/filepath"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/plate"
	"pinphase.org/pinphase/timing/store"
	"pinphase.org/pinphase/widgets"
)

// desk is what every page works on: the open job with its steps for undo, where the
// crank stands, and what the reader chose. A page knows the desk and no other page;
// what it wants of another it asks the desk for.
type desk struct {
	*frame
	shell    shell
	prefs    prefs
	session  *session
	recovery *recovery // nil when there is no place to keep anything
	keeping  keeping
	files    store.Files // all that is written goes to them
	own      string      // the program's own folder; "" keeps nothing there
	writing  writing
	warnings warnings
	leaving  bool     // the program is about to end
	settles  []func() // each returns when something is written; for the end of the program

	at       timing.Deg // where the crank stands, in [0, cycle)
	byNumber bool       // rows in number order
	from     timing.End // the end the wheel is seen from
	run      *runner

	fields     []fieldSet        // of all pages that were built
	labels     map[string]string // of fields, by key
	transports []*transport      // of all pages

	opening    opening
	lastFolder string // the folder that something was chosen from last; "" for none
	view       viewer
	photos     photos
}

// shell is what shows the desk: it is told what has changed, and opens pages.
type shell interface {
	jobChanged() // the job, or another one is open
	jobLeft()    // another job is about to be opened
	crankMoved() // the crank stands elsewhere
	fieldTyped() // what stands in a field is not, or is no longer, what the job holds
	lookAgain()  // what the reader chose is another
	openPage(name, at string)
	showField(key string)
	isOpen(page string) bool
	buildHolder(key string) // builds the page that holds the field of a key, where it was not yet
}

// fieldSet is editable values of the job, as of one page.
type fieldSet interface {
	load()
	forget()
	typos() []job.Fault      // texts that were typed and can stand for no value
	wants(key string) string // the label of a key's field where a reading was not typed yet; else ""
}

// openPage shows a page, by its name, and on it what is called so; "" is what was
// shown on it last.
func (u *desk) openPage(name, at string) { u.shell.openPage(name, at) }

// showKey gives the keyboard to the field of a key, wherever it is.
func (u *desk) showKey(key string) { u.shell.showField(key) }

// isOpen tells whether a page is the one that is shown.
func (u *desk) isOpen(page string) bool { return u.shell.isOpen(page) }

// typed says that what stands in a field changed without the job.
func (u *desk) typed() { u.shell.fieldTyped() }

// reload shows the same job anew, as after a change of what the reader chose.
func (u *desk) reload() { u.shell.lookAgain() }

// figureOptions are those of a figure as it stands on the screen: at the crank's angle,
// seen from the end chosen.
func (u *desk) figureOptions(box figure.Box) plate.Options {
	at := u.at
	return plate.Options{Cursor: &at, ByNumber: u.byNumber, From: u.from, Box: box, Say: say, Units: voice().Units()}
}

// begin makes another session the open one.
func (u *desk) begin(s *session) {
	u.run.Stop()
	u.opening.stop()
	u.shell.jobLeft()
	u.session = s
	u.forget()
	u.at = 0
	u.changed()
}

// edit makes the next job from the present one.
func (u *desk) edit(what string, change func(*job.Job)) {
	next := u.session.Job().Clone()
	change(&next)
	u.session.Edit(what, next)
	u.changed()
}

// changed brings everything shown up to the session's present state.
func (u *desk) changed() {
	if e, err := finding.EngineOf(u.session.Sound()); err == nil {
		u.at = timing.Wrap(u.at, e.Cycle())
	}
	for _, f := range u.fields {
		f.load()
	}
	u.shell.jobChanged()
	u.keep()
}

// setAt puts the crank at an angle, any number of cycles away.
func (u *desk) setAt(at timing.Deg) {
	e, err := finding.EngineOf(u.session.Sound())
	if err != nil {
		return
	}
	u.at = timing.Wrap(at, e.Cycle())
	u.shell.crankMoved()
}

// turn turns the crank on.
func (u *desk) turn(by timing.Deg) { u.setAt(u.at + by) }

// undo and redo step through the session's states.
func (u *desk) undo() { u.step(u.session.Undo) }
func (u *desk) redo() { u.step(u.session.Redo) }

func (u *desk) step(move func() bool) {
	if move() {
		u.forget()
		u.changed()
	}
}

// forget lets go of what was typed but is in no job, before another is shown.
func (u *desk) forget() {
	for _, f := range u.fields {
		f.forget()
	}
}

// mostTitle is how many bytes of a job's name stand in the window's title and in
// questions; no desktop shows more, and some take a long time with it.
const mostTitle = 100

// name is what the open job is called.
func (u *desk) name() string {
	if u.session.path != "" {
		return widgets.Shortened(filepath.Base(u.session.path), mostTitle)
	}
	if t := u.session.Job().Title; t != "" {
		return widgets.Shortened(t, mostTitle)
	}
	return tr("Untitled job")
}

// folder is that of the job's file; "" without one.
func (u *desk) folder() string {
	if u.session.path == "" {
		return ""
	}
	return filepath.Dir(u.session.path)
}

// wrong says everything that is wrong, a line each: texts that were typed but can
// stand for no value, and the job's faults. key is that of the first.
func (u *desk) wrong() (words, key string) {
	var list []job.Fault
	for _, f := range u.fields {
		list = append(list, f.typos()...)
	}
	list = append(list, u.session.Faults()...)
	if len(list) == 0 {
		return "", ""
	}
	return u.errorWords(job.Faults(list)), list[0].Key
}

// errorWords says an error in the terms of the fields.
func (u *desk) errorWords(err error) string {
	var faults job.Faults
	if !errors.As(err, &faults) {
		return voice().Error(err)
	}
	lines := make([]string, len(faults))
	for i, fault := range faults {
		lines[i] = u.faultWords(fault)
	}
	return strings.Join(lines, "\n")
}

// faultWords says a fault in the terms of the fields: by the field's label where there
// is one, else by the key.
func (u *desk) faultWords(fault job.Fault) string {
	if _, ok := u.labels[fault.Key]; !ok {
		u.shell.buildHolder(fault.Key)
	}
	if label, ok := u.labels[fault.Key]; ok {
		return with("{{.Field}}: {{.What}}", map[string]any{"Field": label, "What": told(fault)})
	}
	fault.Message = told(fault)
	return fault.Error()
}
