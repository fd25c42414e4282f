// Package fault is a file system for tests of writers: the n-th thing done to it
// fails.
package fault

import (
	"errors"
	"fmt"
	"io/fs"
	"sync"
	"syscall"

	"pinphase.org/pinphase/timing/store"
)

// Errors are those that a writer must expect of a system: full, over quota, broken,
// interrupted, not allowed (errno.h, POSIX.1-2017, and its pages write, fsync,
// rename).
var Errors = []error{syscall.ENOSPC, syscall.EDQUOT, syscall.EIO, syscall.EINTR, syscall.EACCES}

// Kind is how an operation fails.
type Kind int

// The kinds of failure.
const (
	Before Kind = iota // nothing was done
	After              // it was done, and failed all the same, as on a network
	Half               // as Before, but half of what was to be written was
)

// Kinds are all of them.
var Kinds = []Kind{Before, After, Half}

// Files are the system's, but for the one operation that fails. It may be used by
// several goroutines.
type Files struct {
	N    int   // which operation fails, from 1; 0 for none
	Err  error // with which error
	Kind Kind
	Last bool // all operations after it fail too

	mu    sync.Mutex
	calls int
	log   []string
}

var _ store.Files = (*Files)(nil)

// Failed tells whether the operation to fail was reached.
func (f *Files) Failed() bool {
	f.mu.Lock()
	defer f.mu.Unlock()
	return f.N > 0 && f.calls >= f.N
}

// Log is what was done, one line an operation.
func (f *Files) Log() []string {
	f.mu.Lock()
	defer f.mu.Unlock()
	return append([]string(nil), f.log...)
}

// do counts an operation and does it, or lets it fail.
func (f *Files) do(op, path string, work func() error) error {
	f.mu.Lock()
	f.calls++
	fails := f.N > 0 && (f.calls == f.N || f.Last && f.calls > f.N)
	f.log = append(f.log, fmt.Sprintf("%d %s %s", f.calls, op, path))
	f.mu.Unlock()
	if !fails {
		return work()
	}
	if f.Kind == After && !errors.Is(f.Err, syscall.EINTR) { // what was interrupted was not done
		_ = work() // it is said to have failed in any case
	}
	return &fs.PathError{Op: op, Path: path, Err: f.Err}
}

func get[T any](f *Files, op, path string, work func() (T, error)) (v T, err error) {
	err = f.do(op, path, func() (err error) {
		v, err = work()
		return err
	})
	if err != nil {
		var none T
		return none, err
	}
	return v, nil
}

// Stat implements [store.Files].
func (f *Files) Stat(path string) (fs.FileInfo, error) {
	return get(f, "stat", path, func() (fs.FileInfo, error) { return store.System.Stat(path) })
}

// Lstat implements [store.Files].
func (f *Files) Lstat(path string) (fs.FileInfo, error) {
	return get(f, "lstat", path, func() (fs.FileInfo, error) { return store.System.Lstat(path) })
}

// Readlink implements [store.Files].
func (f *Files) Readlink(path string) (string, error) {
	return get(f, "readlink", path, func() (string, error) { return store.System.Readlink(path) })
}

// Read implements [store.Files].
func (f *Files) Read(path string, most int64) ([]byte, error) {
	return get(f, "read", path, func() ([]byte, error) { return store.System.Read(path, most) })
}

// Writable implements [store.Files].
func (f *Files) Writable(path string) error {
	return f.do("open", path, func() error { return store.System.Writable(path) })
}

// Create implements [store.Files]. What was made is closed and taken away again where
// it fails after the work: no system makes a file and says that it did not.
func (f *Files) Create(path string, mode fs.FileMode) (store.File, error) {
	var made store.File
	err := f.do("create", path, func() (err error) {
		made, err = store.System.Create(path, mode)
		return err
	})
	if err != nil {
		if made != nil {
			made.Close()
			_ = store.System.Remove(path) // it was made just now
		}
		return nil, err
	}
	return &file{made, f}, nil
}

// ACL implements [store.Files].
func (f *Files) ACL(path string) ([]byte, error) {
	return get(f, "getacl", path, func() ([]byte, error) { return store.System.ACL(path) })
}

// SetACL implements [store.Files].
func (f *Files) SetACL(path string, acl []byte) error {
	return f.do("setacl", path, func() error { return store.System.SetACL(path, acl) })
}

// Rename implements [store.Files].
func (f *Files) Rename(from, to string) error {
	return f.do("rename", from, func() error { return store.System.Rename(from, to) })
}

// Remove implements [store.Files].
func (f *Files) Remove(path string) error {
	return f.do("remove", path, func() error { return store.System.Remove(path) })
}

// Mkdir implements [store.Files].
func (f *Files) Mkdir(path string, mode fs.FileMode) error {
	return f.do("mkdir", path, func() error { return store.System.Mkdir(path, mode) })
}

// SyncFolder implements [store.Files].
func (f *Files) SyncFolder(path string) error {
	return f.do("syncfolder", path, func() error { return store.System.SyncFolder(path) })
}

// file is a file of [Files].
type file struct {
	store.File
	of *Files
}

// Write implements [store.File].
func (w *file) Write(data []byte) (n int, err error) {
	err = w.of.do("write", w.Name(), func() (err error) {
		n, err = w.File.Write(data)
		return err
	})
	if err != nil && w.of.Kind == Half {
		n, _ = w.File.Write(data[:len(data)/2]) // the error is that of the operation
	} else if err != nil && errors.Is(err, syscall.EINTR) {
		n = 0
	}
	return n, err
}

// Stat implements [store.File].
func (w *file) Stat() (fs.FileInfo, error) { return get(w.of, "fstat", w.Name(), w.File.Stat) }

// Chmod implements [store.File].
func (w *file) Chmod(mode fs.FileMode) error {
	return w.of.do("chmod", w.Name(), func() error { return w.File.Chmod(mode) })
}

// Chown implements [store.File].
func (w *file) Chown(uid, gid int) error {
	return w.of.do("chown", w.Name(), func() error { return w.File.Chown(uid, gid) })
}

// Sync implements [store.File].
func (w *file) Sync() error { return w.of.do("sync", w.Name(), w.File.Sync) }

// Close implements [store.File]. The file is closed in any case, as on Linux.
func (w *file) Close() error {
	err := w.File.Close()
	return w.of.do("close", w.Name(), func() error { return err })
}
