// Package packed keeps a job and its pictures together in one file, so that they are
// sent and stored as one: a ZIP archive with the job as job.toml and its pictures in the
// folder pictures.
//
// A packed job comes from anybody. Of what is in it only the job and the pictures that
// it names are ever written, only below the folder that they are meant for, and no
// more than is told here.
package packed

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/phrase"
)

// Name is that of the job in the archive, Folder that of its pictures.
const (
	Name   = "job.toml"
	Folder = "pictures"
)

// Limits of what is packed and unpacked.
const (
	MaxEntries = 1000
	MaxBytes   = 512 << 20 // of a whole archive, and of what is in it
)

// ErrNoJob says that a file is a ZIP archive of something else.
var ErrNoJob = phrase.Errorf("is not a packed job: there is no %s in it", Name)

// Is tells by its first bytes whether a file is a ZIP archive.
func Is(first []byte) bool {
	return bytes.HasPrefix(first, []byte("PK\x03\x04")) || bytes.HasPrefix(first, []byte("PK\x05\x06")) // the latter is empty
}

// Write packs a job whose pictures lie in a folder. A picture is packed under its own
// last name; where two have the same, with a number before it. The same job and
// pictures give the same bytes.
//
// allow tells whether a picture may be taken along, by the name that the job has for it;
// an error of it, or of a picture that cannot be read, is returned as it is.
func Write(w io.Writer, doc *job.Document, folder string, allow func(name string) error) error {
	j := doc.Job()
	pictures := j.Pictures()
	names, from := map[string]string{}, map[string]string{} // packed names by key, files by packed name
	for _, key := range slices.Sorted(maps.Keys(pictures)) {
		if err := allow(pictures[key]); err != nil {
			return err
		}
		at := photo.InFolder(folder, pictures[key])
		name := Folder + "/" + filepath.Base(at)
		for n := 2; from[name] != "" && from[name] != at; n++ {
			name = fmt.Sprintf("%s/%d-%s", Folder, n, filepath.Base(at))
		}
		names[key], from[name] = name, at
	}
	z := zip.NewWriter(w)
	if err := put(z, Name, doc.With(j.WithPictures(names)).Bytes()); err != nil {
		return err
	}
	for _, name := range slices.Sorted(maps.Keys(from)) {
		data, _, err := photo.Open(from[name])
		if err == nil {
			err = put(z, name, data)
		}
		if err != nil {
			return err
		}
	}
	return z.Close()
}

func put(z *zip.Writer, name string, data []byte) error {
	// With the oldest time there is: another would make each packing another file.
	w, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)})
	if err == nil {
		_, err = w.Write(data)
	}
	return err
}

// Open reads the job of an archive and writes its pictures below a folder, where the
// job has their names. name is what faults of the job call it. A file that is no packed
// job, reaches outside itself or unpacks to more than it may is an ordinary error.
func Open(name string, archive []byte, folder string) (*job.Document, error) {
	a, err := Look(name, bytes.NewReader(archive), int64(len(archive)))
	if err != nil {
		return nil, err
	}
	j := a.Doc.Job()
	pictures := j.Pictures()
	for _, file := range slices.Compact(slices.Sorted(maps.Values(pictures))) {
		if !inside(file) {
			return nil, phrase.Errorf("reaches outside itself: %q", file)
		}
		if a.entries[file] == nil {
			continue // what is missing is told where it is wanted
		}
		if err := a.write(file, folder); err != nil {
			return nil, err
		}
	}
	return a.Doc, nil
}

// Archive is a packed job that is looked into where it lies.
type Archive struct {
	Doc *job.Document
	unpacking
}

// Look reads the job of an archive of so many bytes and leaves its pictures in it; its
// errors are those of [Open].
func Look(name string, r io.ReaderAt, size int64) (*Archive, error) {
	z, err := zip.NewReader(r, size)
	switch {
	case err != nil:
		return nil, phrase.Errorf("is not a packed job: the archive is damaged")
	case !slices.ContainsFunc(z.File, func(f *zip.File) bool { return f.Name == Name }):
		return nil, ErrNoJob
	case len(z.File) > MaxEntries:
		return nil, phrase.Errorf("is not a packed job: it holds %d files; at most %d are unpacked", len(z.File), MaxEntries)
	}
	a := &Archive{unpacking: unpacking{entries: map[string]*zip.File{}, left: MaxBytes}}
	for _, f := range z.File {
		if !inside(strings.TrimSuffix(f.Name, "/")) || f.Mode()&fs.ModeSymlink != 0 {
			return nil, phrase.Errorf("reaches outside itself: %q", f.Name)
		}
		if a.entries[f.Name] != nil {
			return nil, phrase.Errorf("holds %q twice", f.Name)
		}
		a.entries[f.Name] = f
	}
	text, err := a.read(Name)
	if err != nil {
		return nil, err
	}
	a.Doc, err = job.Read(name, text)
	if err != nil {
		return nil, err
	}
	return a, nil
}

// Picture is the content of a picture by the name that the job has for it.
func (a *Archive) Picture(name string) ([]byte, error) { return a.read(name) }

// inside tells whether a name leads nowhere out of an archive.
func inside(name string) bool { return fs.ValidPath(name) && !strings.ContainsAny(name, `\:`) }

// unpacking counts what may still be unpacked.
type unpacking struct {
	entries map[string]*zip.File
	left    int64
}

func (u *unpacking) read(name string) ([]byte, error) {
	f := u.entries[name]
	if f == nil {
		return nil, phrase.Errorf("is not a packed job: there is no %s in it", name)
	}
	r, err := f.Open()
	if err != nil {
		return nil, phrase.Errorf("%q cannot be unpacked", name)
	}
	defer r.Close()
	data, err := io.ReadAll(io.LimitReader(r, min(u.left, photo.MaxFileBytes)+1))
	if err != nil {
		return nil, phrase.Errorf("%q cannot be unpacked", name)
	}
	if u.left -= int64(len(data)); u.left < 0 || len(data) > photo.MaxFileBytes {
		return nil, phrase.Errorf("unpacks to more than is accepted: %q", name)
	}
	return data, nil
}

// write unpacks a picture.
func (u *unpacking) write(name, folder string) error {
	data, err := u.read(name)
	if err != nil {
		return err
	}
	at := filepath.Join(folder, filepath.FromSlash(name))
	if err := os.MkdirAll(filepath.Dir(at), 0o700); err != nil {
		return err
	}
	return os.WriteFile(at, data, 0o600)
}
