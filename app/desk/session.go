package desk

import (
	"path/filepath"
	"time"

	"pinphase.org/pinphase/timing/job"
)

// Session is the open job: where it came from, what it is now, and every step
// since, for undo. It knows no widgets.
type Session struct {
	Path  string        // of its file; "" when it has none yet
	Doc   *job.Document // as last read or written
	Disk  []byte        // what the file held when it was last read or written, as [Fingerprint] has it; nil without one
	steps []step        // every state, the first as opened
	at    int           // the present one
	open  bool          // the present step may still take in edits of the same thing
	sound job.Job       // the newest state without faults

	Pictures string // the folder where the names of its pictures count from; "": that of its file
	Unpacked string // a folder of its own that was made for them, to be removed; "" for none

	Changed time.Time // when the present state was made; zero as opened
	Saving  bool      // it is being written
	Next    []func()  // what is to be done after that
}

// step is one state of the job and what was done to reach it.
type step struct {
	job    job.Job
	what   string // the key or thing that was edited; "" for the state as opened
	faults job.Faults
}

// maxSteps bounds undo; at a few kilobytes a job it is far from mattering.
const maxSteps = 1000

// NewSession opens a document. path is "" for one that has no file of its own.
func NewSession(path string, doc *job.Document, disk []byte) *Session {
	j := doc.Job()
	s := &Session{Path: path, Doc: doc, Disk: disk, sound: j}
	s.steps = []step{{job: j, faults: check(j)}}
	return s
}

// Job returns the present state. It may have faults; see [Session.Sound].
func (s *Session) Job() job.Job { return s.steps[s.at].job }

// Faults returns what is wrong with the present state.
func (s *Session) Faults() job.Faults { return s.steps[s.at].faults }

// Sound returns the newest state without faults, which is what figures show.
func (s *Session) Sound() job.Job { return s.sound }

// Folder is where the names of its pictures count from; see [Desk.Folder].
func (s *Session) Folder() string {
	switch {
	case s.Pictures != "":
		return s.Pictures
	case s.Path == "":
		return ""
	}
	return filepath.Dir(s.Path)
}

// Edit makes next the present state. Edits of the same thing in a row are one
// step for undo until [Session.Seal].
func (s *Session) Edit(what string, next job.Job) {
	if next.Equal(s.Job()) {
		return
	}
	n := step{job: next, what: what, faults: check(next)}
	if s.open && s.at > 0 && s.steps[s.at].what == what && s.at == len(s.steps)-1 {
		s.steps[s.at] = n
	} else {
		s.steps = append(s.steps[:s.at+1:s.at+1], n)
		if len(s.steps) > maxSteps {
			s.steps = s.steps[1:]
		}
		s.at = len(s.steps) - 1
	}
	s.open = true
	s.Changed = time.Now()
	s.settle()
}

// check is [job.Check] with the keys by which fields go: a reading of a part that is
// compared goes by the section that it stands for.
func check(j job.Job) job.Faults {
	list := job.Check(j)
	for i := range list {
		list[i].Key = j.ComparedKey(list[i].Key)
	}
	return list
}

// Seal ends a run of edits of the same thing: the next edit is a step of its
// own.
func (s *Session) Seal() { s.open = false }

// Undo goes one step back and tells whether there was one.
func (s *Session) Undo() bool { return s.move(-1) }

// Redo goes one step forward again and tells whether there was one.
func (s *Session) Redo() bool { return s.move(+1) }

func (s *Session) move(by int) bool {
	if s.at+by < 0 || s.at+by >= len(s.steps) {
		return false
	}
	s.at += by
	s.open = false
	s.Changed = time.Now()
	s.settle()
	return true
}

// CanUndo and CanRedo tell whether there is a step to go to.
func (s *Session) CanUndo() bool { return s.at > 0 }

// CanRedo is described at [Session.CanUndo].
func (s *Session) CanRedo() bool { return s.at < len(s.steps)-1 }

func (s *Session) settle() {
	if len(s.Faults()) == 0 {
		s.sound = s.Job()
	}
}

// Dirty tells whether the job differs from what its file holds.
func (s *Session) Dirty() bool { return !s.Job().Equal(s.Doc.Job()) }

// Saved notes that path now holds a document, made of one of the session's states:
// it may have become another since. disk is the fingerprint of what was written.
func (s *Session) Saved(path string, doc *job.Document, disk []byte) {
	s.Path = path
	s.Doc = doc
	s.Disk = disk
	s.Seal()
}
