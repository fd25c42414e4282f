package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"syscall"
	"time"
	"unicode/utf8"

	"pinphase.org/pinphase/timing/phrase"
)

// Errors of this package.
var (
	ErrTooLong  = phrase.Errorf("is longer than a file of its kind can be")
	ErrNotPlain = phrase.Errorf("is not an ordinary file")
	errLinks    = phrase.Errorf("too many links")
)

// Loss is what a file no longer has after it was replaced.
type Loss int

// What can be lost.
const (
	LostLinks       Loss = iota // other names of the file still hold the old contents
	LostOwner                   // it belongs to the user now
	LostPermissions             // nobody has more than before
)

// Says puts it into words.
func (l Loss) Says() phrase.Sentence {
	switch l {
	case LostLinks:
		return phrase.Of("The file had other names (hard links): they still hold what was there before.")
	case LostOwner:
		return phrase.Of("The file belonged to somebody else; it is yours now.")
	}
	return phrase.Of("The file's permissions could not all be kept; nobody has more than before.")
}

// String says it in English.
func (l Loss) String() string { return l.Says().String() }

// Replace writes data to a file so that the file is at every moment either the old
// one or the new one, whole: the data go to a new file in the same folder, to the
// disk, and then under the name. A symbolic link stays one; what it points to is
// written. Owner, permissions and access list of a file that was there stay; what
// cannot be kept is returned. A new file gets mode, as the user's mask allows. A
// file that the user may not write is refused, also where its folder would let it
// be replaced.
//
// An error is an [fs.PathError] with path. After it nothing is left behind, and the
// file holds what it held, unless the system failed after it had done its work.
func Replace(files Files, path string, data []byte, mode fs.FileMode) ([]Loss, error) {
	lost, err := replace(files, path, data, mode)
	if err != nil {
		return nil, &fs.PathError{Op: "write", Path: path, Err: bare(err)}
	}
	return lost, nil
}

// bare takes the paths off an error of the system: they are those of the new file,
// which nobody knows.
func bare(err error) error {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

func replace(files Files, path string, data []byte, mode fs.FileMode) ([]Loss, error) {
	path, err := target(files, path)
	if err != nil {
		return nil, err
	}
	old, err := existing(files, path)
	if err != nil {
		return nil, err
	}
	if old != nil {
		mode = 0o600 // until it has the old one's owner and permissions
	}
	f, err := createBeside(files, path, mode)
	if err != nil {
		return nil, err
	}
	lost, err := fill(files, f, path, old, data)
	if err == nil {
		err = again(func() error { return files.Rename(f.Name(), path) })
	}
	if err != nil {
		left := again(func() error { return files.Remove(f.Name()) })
		if left != nil && !errors.Is(left, fs.ErrNotExist) {
			err = phrase.Errorf("%v (%s was left behind)", bare(err), f.Name())
		}
		return nil, err
	}
	clear(files, path)
	// Some file systems cannot do this for folders; only a disk that fails is told.
	if err := again(func() error { return files.SyncFolder(filepath.Dir(path)) }); err != nil && !refused(err) {
		return nil, phrase.Errorf("it was written, but the disk did not confirm it: %v", bare(err))
	}
	return lost, nil
}

// existing is the file that is going to be replaced, nil where there is none.
func existing(files Files, path string) (fs.FileInfo, error) {
	old, err := againFor(func() (fs.FileInfo, error) { return files.Stat(path) })
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, nil
	case err != nil:
		return nil, err
	case !old.Mode().IsRegular():
		return nil, ErrNotPlain
	case old.Mode().Perm()&0o200 == 0:
		// An administrator could write it, but whoever protected it meant it.
		return nil, fs.ErrPermission
	}
	return old, again(func() error { return files.Writable(path) })
}

// fill writes the new file, gives it what the old one had, and closes it.
func fill(files Files, f File, path string, old fs.FileInfo, data []byte) (lost []Loss, err error) {
	closed := false
	defer func() {
		if !closed {
			f.Close()
		}
	}()
	if err := writeAll(f, data); err != nil {
		return nil, err
	}
	if old != nil {
		if lost, err = keep(files, f, path, old); err != nil {
			return nil, err
		}
	}
	if err := again(f.Sync); err != nil {
		return nil, err
	}
	closed = true
	// POSIX leaves open whether a file whose closing was interrupted is closed; doing
	// it again may close another one. All is on the disk already.
	if err := f.Close(); err != nil && !errors.Is(err, syscall.EINTR) {
		return nil, err
	}
	return lost, nil
}

// writeAll writes all of data, in as many pieces as the system takes it.
func writeAll(f File, data []byte) error {
	for len(data) > 0 {
		n, err := f.Write(data)
		data = data[n:]
		switch {
		case errors.Is(err, syscall.EINTR):
		case err != nil:
			return err
		case n == 0:
			return io.ErrShortWrite
		}
	}
	return nil
}

// keep gives the new file what the old one has: owner, permissions, access list.
// What the system refuses is lost; whatever is lost, nobody can do more with the new
// file than with the old one.
func keep(files Files, f File, path string, old fs.FileInfo) (lost []Loss, err error) {
	lose := func(l Loss, err error) error {
		if !refused(err) {
			return err
		}
		if !slices.Contains(lost, l) {
			lost = append(lost, l)
		}
		return nil
	}
	now, err := againFor(f.Stat)
	if err != nil {
		return nil, err
	}
	was, is := ownership(old), ownership(now)
	if was.links > 1 {
		lost = append(lost, LostLinks)
	}
	narrow := false // the group's permissions would be somebody else's
	if was.gid != is.gid {
		if err := again(func() error { return f.Chown(-1, was.gid) }); err != nil {
			narrow = true
			if err := lose(LostPermissions, err); err != nil {
				return nil, err
			}
		}
	}
	if was.uid != is.uid {
		if err := again(func() error { return f.Chown(was.uid, -1) }); err != nil {
			if err := lose(LostOwner, err); err != nil {
				return nil, err
			}
		}
	}
	// The access list comes first: where there is one, its mask shows as the group's
	// permissions.
	acl, err := againFor(func() ([]byte, error) { return files.ACL(path) })
	if err == nil {
		err = again(func() error { return files.SetACL(f.Name(), acl) })
	}
	if err != nil {
		narrow = true
		if err := lose(LostPermissions, err); err != nil {
			return nil, err
		}
	}
	perm := old.Mode().Perm()
	if narrow {
		perm = perm&0o707 | perm&0o070&(perm&0o007<<3) // the group gets what all others have
	}
	if perm != now.Mode().Perm() || acl != nil {
		if err := again(func() error { return f.Chmod(perm) }); err != nil {
			if err := lose(LostPermissions, err); err != nil {
				return nil, err
			}
		}
	}
	return lost, nil
}

// refused tells whether an error means that the system does not let the user do it,
// or cannot do it at all, rather than that something is broken or full.
func refused(err error) bool {
	for _, e := range []error{fs.ErrPermission, errors.ErrUnsupported, syscall.EINVAL} {
		if errors.Is(err, e) {
			return true
		}
	}
	return false
}

// maxLinks is how many links to links are followed.
const maxLinks = 40

// target follows links to the file they mean, which need not exist yet.
func target(files Files, path string) (string, error) {
	for range maxLinks {
		info, err := againFor(func() (fs.FileInfo, error) { return files.Lstat(path) })
		switch {
		case errors.Is(err, fs.ErrNotExist):
			return path, nil
		case err != nil:
			return "", err
		case info.Mode()&fs.ModeSymlink == 0:
			return path, nil
		}
		to, err := againFor(func() (string, error) { return files.Readlink(path) })
		if err != nil {
			return "", err // taken for an ordinary file, the link would be replaced
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
	return "", errLinks
}

// createBeside creates a file of a new name in the folder of path.
func createBeside(files Files, path string, mode fs.FileMode) (File, error) {
	folder := filepath.Dir(path)
	for try := 0; ; try++ {
		name := filepath.Join(folder, fmt.Sprintf("%s%d-%d%s", unfinished(path), os.Getpid(), try, endOfNew))
		f, err := Create(files, name, mode)
		switch {
		case err == nil:
			return f, nil
		case errors.Is(err, fs.ErrPermission):
			return nil, phrase.Errorf("its folder %s takes no new file: %v", folder, bare(err))
		case !errors.Is(err, fs.ErrExist) || try > 100:
			return nil, err
		}
	}
}

const endOfNew = ".tmp"

// unfinished is how the names of new files that are to replace a file begin, without
// their folder.
func unfinished(path string) string {
	const most = 60 // bytes: names may have 255 in all
	base := filepath.Base(path)
	for len(base) > most {
		_, size := utf8.DecodeLastRuneInString(base)
		base = base[:len(base)-size]
	}
	return "." + base + "-"
}

// Unfinished returns the new files that a program that was killed left behind while
// it replaced a file. Another program may just be writing one of them.
func Unfinished(path string) (list []string) {
	folder := filepath.Dir(path)
	entries, _ := os.ReadDir(folder) // where that fails nothing is found
	for _, e := range entries {
		rest, ours := strings.CutPrefix(e.Name(), unfinished(path))
		if ours && newName.MatchString(rest) {
			list = append(list, filepath.Join(folder, e.Name()))
		}
	}
	return list
}

// newName is what the name of a new file has behind its beginning: the number of the
// program that wrote it, and that of the try.
var newName = regexp.MustCompile(`^[0-9]+-[0-9]+\.tmp$`)

// leftFor is how long a new file that is to replace another must have been left alone
// to be one that a killed program left behind: writing one takes no hour.
const leftFor = time.Hour

// clear removes what programs that were killed left behind while they replaced the
// same file. Where that fails it is done the next time.
func clear(files Files, path string) {
	for _, left := range Unfinished(path) {
		info, err := files.Lstat(left)
		if err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > leftFor {
			_ = files.Remove(left) // see above
		}
	}
}

// again does something until a signal no longer interrupts it.
func again(do func() error) error {
	for {
		if err := do(); !errors.Is(err, syscall.EINTR) {
			return err
		}
	}
}

// againFor is [again] for something that has a result.
func againFor[T any](do func() (T, error)) (T, error) {
	for {
		if v, err := do(); !errors.Is(err, syscall.EINTR) {
			return v, err
		}
	}
}
