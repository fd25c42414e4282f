package store

import (
	"errors"
	"fmt"
	"io/fs"
)

// Aside renames a file that cannot be used, so that another one can take its place
// and nothing of it is lost. It returns the new name, which no file had before.
func Aside(files Files, path string) (string, error) {
	for n := 1; ; n++ {
		name := path + ".damaged"
		if n > 1 {
			name = fmt.Sprintf("%s.damaged-%d", path, n)
		}
		_, err := againFor(func() (fs.FileInfo, error) { return files.Lstat(name) })
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return name, again(func() error { return files.Rename(path, name) })
		case err != nil:
			return "", err
		case n > 1000:
			return "", &fs.PathError{Op: "rename", Path: path, Err: fs.ErrExist}
		}
	}
}

// Remove removes a file; one that is not there is no error.
func Remove(files Files, path string) error {
	if err := again(func() error { return files.Remove(path) }); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// Mkdir makes a folder that only the user can open, and those above it.
func Mkdir(files Files, path string) error {
	return again(func() error { return files.Mkdir(path, 0o700) })
}

// Create makes a new file; one of that name must not exist.
func Create(files Files, path string, mode fs.FileMode) (File, error) {
	return againFor(func() (File, error) { return files.Create(path, mode) })
}

// Read returns what an ordinary file holds, at most so many bytes.
func Read(files Files, path string, most int64) ([]byte, error) {
	info, err := againFor(func() (fs.FileInfo, error) { return files.Stat(path) })
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() { // opened, a pipe would wait for ever
		return nil, &fs.PathError{Op: "read", Path: path, Err: ErrNotPlain}
	}
	return againFor(func() ([]byte, error) { return files.Read(path, most) })
}
