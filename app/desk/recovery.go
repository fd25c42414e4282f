package desk

import (
	"encoding/json"
	"errors"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/gofrs/flock"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/store"
	"pinphase.org/pinphase/widgets"
)

// Recovery keeps the open job in a file of the program's own, so that it can be
// offered back when the program was killed. Each running program has a file,
// and a lock that the system lets go of however the program ends: a file whose
// lock is free was left behind.
type Recovery struct {
	Files store.Files
	File  string
	Lock  *flock.Flock
}

// Snapshot is what is kept of a session. The job is kept as it is, faults and
// all, which a job file could not.
type Snapshot struct {
	Path    string    // of the job's file; "" without one
	Text    []byte    // the document as last read or written
	Disk    []byte    // what the file held then
	Job     job.Job   // the present state
	Changed time.Time // when it was made; zero where nobody knows
}

// Snapshot returns what is to be kept of the session.
func (s *Session) Snapshot() Snapshot {
	return Snapshot{Path: s.Path, Text: s.Doc.Bytes(), Disk: s.Disk, Job: s.Job(), Changed: s.Changed}
}

const (
	recoveryBegin = "open-"
	recoveryEnd   = ".json"
	lockSuffix    = ".lock"
)

// StartRecovery takes a place in the folder for this run of the program and
// returns what earlier runs left behind, newest first.
func StartRecovery(files store.Files, folder string) (*Recovery, []*Leftover, error) {
	if err := store.Mkdir(files, folder); err != nil {
		return nil, nil, err
	}
	left := Leftovers(files, folder)
	name, err := takePlace(files, folder)
	if err != nil {
		return nil, left, err
	}
	// The lock is held before there is a snapshot: another program started just
	// now would otherwise take it for one left behind.
	r := &Recovery{Files: files, File: strings.TrimSuffix(name, lockSuffix), Lock: flock.New(name)}
	if err := r.Lock.Lock(); err != nil {
		return nil, left, errors.Join(err, store.Remove(files, name))
	}
	return r, left, nil
}

// takePlace makes a file for a lock, of a name that no other program has.
func takePlace(files store.Files, folder string) (string, error) {
	for {
		name := filepath.Join(folder, recoveryBegin+strconv.FormatUint(rand.Uint64(), 36)+recoveryEnd+lockSuffix)
		f, err := store.Create(files, name, 0o600)
		if err == nil {
			return name, f.Close()
		}
		if !errors.Is(err, fs.ErrExist) {
			return "", err
		}
	}
}

// Keep writes a snapshot. A half-written one is never seen: the new one replaces the
// old one whole.
func (r *Recovery) Keep(s Snapshot) error {
	data, err := json.Marshal(s)
	if err == nil {
		_, err = store.Replace(r.Files, r.File, data, 0o600)
	}
	return err
}

// End removes the snapshot: the program ends of its own will.
func (r *Recovery) End() error { return discard(r.Files, r.File, r.Lock) }

// discard removes a snapshot, and then its lock. Where it stays it will be offered.
func discard(files store.Files, file string, lock *flock.Flock) error {
	err := store.Remove(files, file)
	for _, half := range store.Unfinished(file) {
		err = errors.Join(err, store.Remove(files, half))
	}
	err = errors.Join(err, lock.Unlock())
	return errors.Join(err, store.Remove(files, file+lockSuffix))
}

// Leftover is a snapshot of a run that was killed.
type Leftover struct {
	files store.Files
	file  string
	lock  *flock.Flock
	Snapshot
	Saved time.Time // when the job's file was last written; zero where there is none
}

// Leftovers finds the snapshots whose programs are gone, newest first, and takes hold
// of them so that another program started now does not offer them too. Files that hold
// no job are removed; one that cannot be read now stays for another start.
func Leftovers(files store.Files, folder string) []*Leftover {
	var list []*Leftover
	entries, _ := os.ReadDir(folder) // it was made just now: what is wrong with it shows when something is kept
	for _, e := range entries {
		if !strings.HasPrefix(e.Name(), recoveryBegin) || !strings.HasSuffix(e.Name(), recoveryEnd) {
			continue
		}
		file := filepath.Join(folder, e.Name())
		lock := flock.New(file + lockSuffix)
		if free, err := lock.TryLock(); err != nil || !free {
			continue
		}
		l := &Leftover{files: files, file: file, lock: lock}
		data, err := store.Read(files, file, MaxSnapshot)
		switch {
		case err != nil && !errors.Is(err, store.ErrTooLong):
			l.Leave()
		case err != nil || json.Unmarshal(data, &l.Snapshot) != nil || !l.unsaved():
			l.Discard()
		default:
			l.dates()
			list = append(list, l)
		}
	}
	slices.SortStableFunc(list, func(a, b *Leftover) int { return b.Changed.Compare(a.Changed) })
	return list
}

// dates finds out when the job was last changed, here and in its file.
func (l *Leftover) dates() {
	if st, err := l.files.Stat(l.file); err == nil && l.Changed.IsZero() {
		l.Changed = st.ModTime()
	}
	if l.Path == "" {
		return
	}
	if st, err := l.files.Stat(l.Path); err == nil {
		l.Saved = st.ModTime()
	}
}

// MaxSnapshot is more than a snapshot of the largest job file has.
const MaxSnapshot = 64 << 20

// unsaved tells whether the snapshot holds anything its file does not. The file
// is asked as well as the text it had: a program may be killed when it has just
// saved and not yet noted that here.
func (s Snapshot) unsaved() bool {
	doc, err := job.Read(s.Path, s.Text)
	if err != nil || doc.Job().Equal(s.Job) {
		return false
	}
	if s.Path == "" {
		return true
	}
	now, err := ReadJobFile(s.Path)
	if err != nil {
		return true
	}
	if now.Unpacked != "" {
		_ = os.RemoveAll(now.Unpacked) // it lies where what is temporary does
	}
	return !now.Doc.Job().Equal(s.Job)
}

// Session returns the session as it was, the edits as one undo step.
func (l *Leftover) Session() (*Session, error) {
	doc, err := job.Read(l.Path, l.Text)
	if err != nil {
		return nil, err
	}
	s := NewSession(l.Path, doc, l.Disk)
	if IsPacked(l.Path) {
		if s.Unpacked, err = l.unpack(); err != nil {
			return nil, err
		}
		s.Pictures = s.Unpacked
	}
	s.Edit("", l.Job)
	s.Changed = l.Changed
	s.Seal()
	return s, nil
}

// unpack makes a folder for the pictures of a packed job, with those in it that its file
// still has: where they were before is gone with the program, or soon will be.
func (l *Leftover) unpack() (string, error) {
	if now, err := ReadJobFile(l.Path); err == nil && now.Unpacked != "" {
		return now.Unpacked, nil
	}
	return os.MkdirTemp("", "pinphase-")
}

// Name returns what to call the job when offering it.
func (l *Leftover) Name() string {
	if t := widgets.Shortened(strings.TrimSpace(l.Job.Title), mostTitle); t != "" {
		return t
	}
	if l.Path != "" {
		return filepath.Base(l.Path)
	}
	return tr("Untitled job")
}

// Leave lets go of the snapshot without an answer, for another start to offer.
func (l *Leftover) Leave() { l.lock.Unlock() }

// Discard removes the snapshot.
func (l *Leftover) Discard() error { return discard(l.files, l.file, l.lock) }
