package desk

import (
	"errors"
	"path/filepath"
	"strings"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/lesson/plan"
	"pinphase.org/pinphase/timing/store"
	"pinphase.org/pinphase/widgets"
)

// Desk is what every page works on: the open job with its steps for undo, where the
// crank stands, and what the reader chose. A page knows the desk and no other page;
// what it wants of another it asks the desk for.
type Desk struct {
	*kit.Frame
	Shell    Shell
	Prefs    Prefs
	Session  *Session
	Recovery *Recovery // nil when there is no place to keep anything
	Keeping  keeping
	Files    store.Files // all that is written goes to them
	Own      string      // the program's own folder; "" keeps nothing there
	Writing  writing
	Warnings kit.Warnings
	Leaving  bool     // the program is about to end
	Settles  []func() // each returns when something is written; for the end of the program

	At         timing.Deg // where the crank stands, in [0, cycle)
	ByNumber   bool       // rows in number order
	Chosen     int        // the cylinder set off from the others; 0: none
	From       timing.End // the end the wheel is seen from
	supposed   finding.WhatIf
	supposedOf job.Job // the newest sound job when that was supposed
	Run        *Runner

	Fields     []fieldSet        // of all pages that were built
	Labels     map[string]string // of fields, by key
	Transports []*Transport      // of all pages

	Opening    opening
	lastFolder string   // the folder that something was chosen from last; "" for none
	unpacked   []string // folders of pictures that nobody needs any more
	View       viewer
	Photos     Photos
}

// Shell is what shows the desk: it is told what has changed, and opens pages.
type Shell interface {
	JobChanged() // the job, or another one is open
	JobLeft()    // another job is about to be opened
	CrankMoved() // the crank stands elsewhere
	FieldTyped() // what stands in a field is not, or is no longer, what the job holds
	LookAgain()  // what the reader chose is another
	OpenPage(name, at string)
	ShowField(key string)
	IsOpen(page string) bool
	ShowBoard(l *plan.Lesson)  // shows a lesson to a class
	OpenJob(doc *job.Document) // makes a job that is in no file the open one, after asking
	BuildHolder(key string)    // builds the page that holds the field of a key, where it was not yet
}

// fieldSet is editable values of the job, as of one page.
type fieldSet interface {
	Load()
	Forget()
	Typos() []job.Fault      // texts that were typed and can stand for no value
	Wants(key string) string // the label of a key's field where a reading was not typed yet; else ""
}

// Open shows a page, by its name, and on it what is called so; "" is what was
// shown on it last.
func (u *Desk) Open(name, at string) { u.Shell.OpenPage(name, at) }

// Show gives the keyboard to the field of a key, wherever it is.
func (u *Desk) Show(key string) { u.Shell.ShowField(key) }

// IsOpen tells whether a page is the one that is shown.
func (u *Desk) IsOpen(page string) bool { return u.Shell.IsOpen(page) }

// Typed says that what stands in a field changed without the job.
func (u *Desk) Typed() { u.Shell.FieldTyped() }

// Reload shows the same job anew, as after a change of what the reader chose.
func (u *Desk) Reload() { u.Shell.LookAgain() }

// FigureOptions are those of a figure as it stands on the screen: at the crank's angle,
// seen from the end chosen, with the cylinder chosen.
func (u *Desk) FigureOptions(box figure.Box) chart.Options {
	at := u.At
	return chart.Options{Cursor: &at, ByNumber: u.ByNumber, Selected: u.Chosen, From: u.From, Box: box, Say: say, Units: voice().Units()}
}

// Begin makes another session the open one.
func (u *Desk) Begin(s *Session) {
	u.Run.Stop()
	u.Opening.Stop()
	u.Shell.JobLeft()
	u.tidy(u.Session.Unpacked)
	u.Session, u.supposed = s, finding.WhatIf{}
	u.Forget()
	u.At, u.Chosen = 0, 0
	u.Changed()
}

// Edit makes the next job from the present one.
func (u *Desk) Edit(what string, change func(*job.Job)) {
	next := u.Session.Job().Clone()
	change(&next)
	next.Format = max(u.Session.Doc.Job().Format, next.Needs())
	u.Session.Edit(what, next)
	u.Changed()
}

// Changed brings everything shown up to the session's present state.
func (u *Desk) Changed() {
	if e, err := finding.EngineOf(u.Session.Sound()); err == nil {
		u.At = timing.Wrap(u.At, e.Cycle())
	}
	u.dropSupposed()
	for _, f := range u.Fields {
		f.Load()
	}
	u.Shell.JobChanged()
	u.Keep()
}

// SetAt puts the crank at an angle, any number of cycles away.
func (u *Desk) SetAt(at timing.Deg) {
	e, err := finding.EngineOf(u.Session.Sound())
	if err != nil {
		return
	}
	u.At = timing.Wrap(at, e.Cycle())
	u.Shell.CrankMoved()
}

// Turn turns the crank on.
func (u *Desk) Turn(by timing.Deg) { u.SetAt(u.At + by) }

// SetSpeed makes the crank run so fast from now on.
func (u *Desk) SetSpeed(s float64) {
	u.Run.Speed = s
	u.Prefs.SetFloat(PrefSpeed, s)
}

// Undo and redo step through the session's states.
func (u *Desk) Undo() { u.step(u.Session.Undo) }
func (u *Desk) Redo() { u.step(u.Session.Redo) }

func (u *Desk) step(move func() bool) {
	if move() {
		u.Forget()
		u.Changed()
	}
}

// Forget lets go of what was typed but is in no job, before another is shown.
func (u *Desk) Forget() {
	for _, f := range u.Fields {
		f.Forget()
	}
}

// mostTitle is how many bytes of a job's name stand in the window's title and in
// questions; no desktop shows more, and some take a long time with it.
const mostTitle = 100

// Name is what the open job is called.
func (u *Desk) Name() string {
	if u.Session.Path != "" {
		return widgets.Shortened(filepath.Base(u.Session.Path), mostTitle)
	}
	if t := u.Session.Job().Title; t != "" {
		return widgets.Shortened(t, mostTitle)
	}
	return tr("Untitled job")
}

// Folder is where the names of the job's pictures count from: that of its file, or where
// those of a packed one were unpacked; "" for a job that is in no file yet.
func (u *Desk) Folder() string { return u.Session.Folder() }

// Wrong says everything that is wrong, a line each: texts that were typed but can
// stand for no value, and the job's faults. key is that of the first.
func (u *Desk) Wrong() (words, key string) {
	var list []job.Fault
	for _, f := range u.Fields {
		list = append(list, f.Typos()...)
	}
	list = append(list, u.Session.Faults()...)
	if len(list) == 0 {
		return "", ""
	}
	return u.ErrorWords(job.Faults(list)), list[0].Key
}

// ErrorWords says an error in the terms of the fields.
func (u *Desk) ErrorWords(err error) string {
	var faults job.Faults
	if !errors.As(err, &faults) {
		return kit.WithoutKeys(voice().Error(err))
	}
	lines := make([]string, len(faults))
	for i, fault := range faults {
		lines[i] = u.FaultWords(fault)
	}
	return strings.Join(lines, "\n")
}

// FaultWords says a fault in the terms of the fields: by the field's label where there
// is one, else by the key.
func (u *Desk) FaultWords(fault job.Fault) string {
	label, ok := u.label(fault.Key)
	if !ok {
		label, ok = kit.KeyWord(fault.Key)
	}
	if ok {
		return with("{{.Field}}: {{.What}}", map[string]any{"Field": label, "What": told(fault)})
	}
	fault.Message = told(fault)
	return fault.Error()
}

// label is what the field of a key is called: of a part, with its name.
func (u *Desk) label(key string) (string, bool) {
	if _, ok := u.Labels[key]; !ok {
		u.Shell.BuildHolder(key)
	}
	if label, ok := u.Labels[key]; ok {
		return label, true
	}
	section, which, kind := CutKey(key)
	if section != "dowel" && section != "keyway" || which == "" || which == "seen_from" {
		section = ""
	}
	i, ok := PlaceOfPart(which)
	if !ok {
		if i, ok = PlaceOfPart(strings.SplitN(key, ".", 2)[0]); !ok { // of the two that are compared
			if which == "drawing" {
				return tr("Drawing or old part"), section != ""
			}
			return tr("Measured"), section != ""
		}
	}
	label, ok := u.Labels[section+".measured."+kind]
	if section == "" {
		label, ok = u.Labels["part."+key[strings.LastIndexByte(key, '.')+1:]]
	} else if !ok {
		label, ok = tr("Measured"), true
	}
	if parts := u.Session.Job().Parts; ok && i < len(parts) && strings.TrimSpace(parts[i].Name) != "" {
		label = with("{{.Part}}, {{.Field}}", map[string]any{"Part": widgets.Shortened(parts[i].Name, mostTitle), "Field": label})
	}
	return label, ok
}
