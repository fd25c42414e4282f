package job

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"pinphase.org/pinphase/timing/phrase"
)

// WriteFile writes data to a file so that the file is at every moment either the
// old one or the new one, whole: the data go to a new file in the same folder,
// to the disk, and then under the name. A link stays a link; what it points to
// is written. The permissions of a file that was there stay; a new one can be
// read by all, as the user's mask allows. One that is write-protected is refused.
// After an error nothing is left behind.
func WriteFile(path string, data []byte) error {
	if err := replaceFile(path, data); err != nil {
		return phrase.Errorf("saving the job: %v", err)
	}
	return nil
}

func replaceFile(path string, data []byte) (err error) {
	if path, err = target(path); err != nil {
		return err
	}
	old, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		old = nil
	case err != nil:
		return err
	case !old.Mode().IsRegular():
		return &fs.PathError{Op: "write", Path: path, Err: errors.New("is no ordinary file")}
	case old.Mode().Perm()&0o200 == 0:
		// Its folder would let it be replaced, but whoever protected it meant it.
		return &fs.PathError{Op: "write", Path: path, Err: fs.ErrPermission}
	}
	f, err := createBeside(path)
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			f.Close() // a second time does no harm
			os.Remove(f.Name())
		}
	}()
	if _, err = f.Write(data); err != nil {
		return err
	}
	if old != nil {
		if err = f.Chmod(old.Mode().Perm()); err != nil {
			return err
		}
	}
	if err = f.Sync(); err != nil {
		return err
	}
	if err = f.Close(); err != nil {
		return err
	}
	if err = os.Rename(f.Name(), path); err != nil {
		return err
	}
	syncFolder(filepath.Dir(path))
	return nil
}

// maxLinks is how many links to links are followed.
const maxLinks = 40

// target follows links to the file they mean, which need not exist yet.
func target(path string) (string, error) {
	for range maxLinks {
		to, err := os.Readlink(path)
		if err != nil {
			return path, nil // no link, or nothing there; what is wrong with it shows later
		}
		if !filepath.IsAbs(to) {
			// The folder first: ".." in a link counts from where the link really is.
			folder, err := filepath.EvalSymlinks(filepath.Dir(path))
			if err != nil {
				return "", err
			}
			to = filepath.Join(folder, to)
		}
		path = to
	}
	return "", &fs.PathError{Op: "write", Path: path, Err: errors.New("too many links")}
}

// createBeside creates a file of a new name in the folder of path, with the
// permissions a newly made file gets there.
func createBeside(path string) (*os.File, error) {
	for try := 0; ; try++ {
		name := filepath.Join(filepath.Dir(path), fmt.Sprintf(".pinphase-%d-%d.tmp", os.Getpid(), try))
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if !errors.Is(err, fs.ErrExist) || try > 100 {
			return f, err
		}
	}
}

// syncFolder brings a renamed entry to the disk where the system can do that.
// The file itself is safe already, so a folder that cannot is no error.
func syncFolder(folder string) {
	if d, err := os.Open(folder); err == nil {
		d.Sync()
		d.Close()
	}
}
