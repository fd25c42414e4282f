package store

import (
	"io"
	"io/fs"
	"os"
)

// Files is what is done to files. All paths are the system's. An operation may
// fail with EINTR, which is no failure: it is done again.
type Files interface {
	Stat(path string) (fs.FileInfo, error)
	Lstat(path string) (fs.FileInfo, error)
	Readlink(path string) (string, error)
	// Read returns what a file holds, and [ErrTooLong] where that is more than most bytes.
	Read(path string, most int64) ([]byte, error)
	// Writable opens an existing file for writing and closes it again untouched.
	Writable(path string) error
	// Create makes a new file; one of that name must not exist.
	Create(path string, mode fs.FileMode) (File, error)
	// ACL returns a file's access list as the system keeps it, nil where it has none.
	ACL(path string) ([]byte, error)
	// SetACL gives a file an access list; nil takes away the one it has.
	SetACL(path string, acl []byte) error
	Rename(from, to string) error
	Remove(path string) error
	// Mkdir makes a folder and those above it; one that exists is no error.
	Mkdir(path string, mode fs.FileMode) error
	// SyncFolder brings the names in a folder to the disk.
	SyncFolder(path string) error
}

// File is a file that is being written.
type File interface {
	io.Writer
	Name() string
	Stat() (fs.FileInfo, error)
	Chmod(mode fs.FileMode) error
	Chown(uid, gid int) error
	Sync() error
	Close() error
}

// System are the system's own files.
var System Files = system{}

type system struct{}

func (system) Stat(path string) (fs.FileInfo, error)  { return os.Stat(path) }
func (system) Lstat(path string) (fs.FileInfo, error) { return os.Lstat(path) }
func (system) Readlink(path string) (string, error)   { return os.Readlink(path) }
func (system) Rename(from, to string) error           { return os.Rename(from, to) }
func (system) Remove(path string) error               { return os.Remove(path) }
func (system) Mkdir(path string, mode fs.FileMode) error {
	return os.MkdirAll(path, mode)
}

func (system) Read(path string, most int64) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, most+1))
	if err == nil && int64(len(data)) > most {
		err = &fs.PathError{Op: "read", Path: path, Err: ErrTooLong}
	}
	return data, err
}

func (system) Writable(path string) error {
	f, err := os.OpenFile(path, os.O_WRONLY, 0)
	if err != nil {
		return err
	}
	return f.Close()
}

func (system) Create(path string, mode fs.FileMode) (File, error) {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return nil, err // not f: a nil *os.File is no nil File
	}
	return f, nil
}

func (system) SyncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	err = d.Sync()
	d.Close() // it was only read
	return err
}
