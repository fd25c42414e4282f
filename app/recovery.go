package app

import (
	"encoding/json"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/gofrs/flock"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/widgets"
)

// recovery keeps the open job in a file of the program's own, so that it can be
// offered back when the program was killed. Each running program has a file,
// and a lock that the system lets go of however the program ends: a file whose
// lock is free was left behind.
type recovery struct {
	file string
	lock *flock.Flock
}

// snapshot is what is kept of a session. The job is kept as it is, faults and
// all, which a job file could not.
type snapshot struct {
	Path string  // of the job's file; "" without one
	Text []byte  // the document as last read or written
	Disk []byte  // what the file held then
	Job  job.Job // the present state
}

const (
	recoveryPattern = "open-*.json"
	lockSuffix      = ".lock"
)

// startRecovery takes a place in the folder for this run of the program and
// returns what earlier runs left behind, newest first.
func startRecovery(folder string) (*recovery, []*leftover, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, nil, err
	}
	left := leftovers(folder)
	f, err := os.CreateTemp(folder, recoveryPattern+lockSuffix)
	if err != nil {
		return nil, left, err
	}
	if err := f.Close(); err != nil {
		return nil, left, err
	}
	// The lock is held before there is a snapshot: another program started just
	// now would otherwise take it for one left behind.
	r := &recovery{file: strings.TrimSuffix(f.Name(), lockSuffix), lock: flock.New(f.Name())}
	if err := r.lock.Lock(); err != nil {
		return nil, left, err
	}
	return r, left, nil
}

// Keep writes the session's present state. A half-written snapshot is never
// seen: the new one replaces the old one whole.
func (r *recovery) Keep(s *session) error {
	data, err := json.Marshal(snapshot{Path: s.path, Text: s.doc.Bytes(), Disk: s.disk, Job: s.Job()})
	if err != nil {
		return err
	}
	next := r.file + ".new"
	if err := os.WriteFile(next, data, 0o600); err != nil {
		return err
	}
	return os.Rename(next, r.file)
}

// End removes the snapshot: the program ends of its own will.
func (r *recovery) End() {
	os.Remove(r.file)
	r.lock.Unlock()
	os.Remove(r.file + lockSuffix)
}

// leftover is a snapshot of a run that was killed.
type leftover struct {
	file string
	lock *flock.Flock
	snapshot
}

// leftovers finds the snapshots whose programs are gone, and takes hold of them
// so that another program started now does not offer them too. Files that hold
// no job are removed.
func leftovers(folder string) []*leftover {
	files, _ := filepath.Glob(filepath.Join(folder, recoveryPattern)) // fails only on a malformed pattern
	var list []*leftover
	for _, file := range files {
		lock := flock.New(file + lockSuffix)
		if free, err := lock.TryLock(); err != nil || !free {
			continue
		}
		l := &leftover{file: file, lock: lock}
		data, err := readSnapshot(file)
		if err != nil || json.Unmarshal(data, &l.snapshot) != nil || !l.unsaved() {
			l.Discard()
			continue
		}
		list = append(list, l)
	}
	return list
}

// maxSnapshot is more than a snapshot of the largest job file has.
const maxSnapshot = 64 << 20

// readSnapshot reads a snapshot, but nothing that cannot be one.
func readSnapshot(file string) ([]byte, error) {
	st, err := os.Stat(file)
	if err != nil {
		return nil, err
	}
	if !st.Mode().IsRegular() || st.Size() > maxSnapshot {
		return nil, fs.ErrInvalid
	}
	return os.ReadFile(file)
}

// unsaved tells whether the snapshot holds anything its file does not. The file
// is asked as well as the text it had: a program may be killed when it has just
// saved and not yet noted that here.
func (s snapshot) unsaved() bool {
	doc, err := job.Read(s.Path, s.Text)
	if err != nil || doc.Job().Equal(s.Job) {
		return false
	}
	if s.Path == "" {
		return true
	}
	now, err := job.ReadFile(s.Path)
	return err != nil || !now.Job().Equal(s.Job)
}

// Session returns the session as it was, the edits as one undo step.
func (l *leftover) Session() (*session, error) {
	doc, err := job.Read(l.Path, l.Text)
	if err != nil {
		return nil, err
	}
	s := newSession(l.Path, doc, l.Disk)
	s.Edit("", l.Job)
	s.Seal()
	return s, nil
}

// Name returns what to call the job when offering it.
func (l *leftover) Name() string {
	if t := widgets.Shortened(strings.TrimSpace(l.Job.Title), mostTitle); t != "" {
		return t
	}
	if l.Path != "" {
		return filepath.Base(l.Path)
	}
	return tr("Untitled job")
}

// Leave lets go of the snapshot without an answer, for another start to offer.
func (l *leftover) Leave() { l.lock.Unlock() }

// Discard removes the snapshot.
func (l *leftover) Discard() {
	os.Remove(l.file)
	os.Remove(l.file + ".new")
	l.lock.Unlock()
	os.Remove(l.file + lockSuffix)
}
