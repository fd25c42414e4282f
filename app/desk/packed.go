package desk

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"errors"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/packed"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/regular"
	"pinphase.org/pinphase/timing/store"
)

// JobEndings are those of the files a job may be in: by itself, or packed with its
// pictures.
var JobEndings = []string{".toml", PackedEnding}

// PackedEnding is that of a job with its pictures.
const PackedEnding = ".zip"

// IsPacked tells by its ending whether a file holds a job with its pictures.
func IsPacked(path string) bool { return FileEnding(path) == PackedEnding }

// JobFile is a job as its file has it.
type JobFile struct {
	Path     string
	Doc      *job.Document
	Disk     []byte // what the file holds, as [Fingerprint] has it
	Unpacked string // the folder in which the pictures of a packed job lie now; "" for one that is not packed
}

// ReadJobFile reads a job, packed or not, by its first bytes. The pictures of a packed
// one are unpacked into a folder of their own, which is the caller's to remove.
func ReadJobFile(path string) (JobFile, error) {
	f, err := regular.Open(path)
	if err != nil {
		return JobFile{}, phrase.Errorf("reading the job: %v", err)
	}
	defer f.Close()
	r := bufio.NewReader(f)
	if first, _ := r.Peek(4); !packed.Is(first) { // an error comes again when it is read
		doc, err := job.ReadFrom(path, r)
		if err != nil {
			return JobFile{}, err
		}
		return JobFile{Path: path, Doc: doc, Disk: doc.Bytes()}, nil
	}
	data, err := io.ReadAll(io.LimitReader(r, packed.MaxBytes+1))
	if err != nil {
		return JobFile{}, phrase.Errorf("reading the job: %v", err)
	}
	folder, err := os.MkdirTemp("", "pinphase-")
	if err != nil {
		return JobFile{}, err
	}
	doc, err := packed.Open(path, data, folder)
	if err != nil {
		_ = os.RemoveAll(folder) // it lies where what is temporary does
		return JobFile{}, err
	}
	return JobFile{path, doc, Fingerprint(data), folder}, nil
}

// Fingerprint is what is kept of a file's content to tell whether another program has
// changed it: all of a job, which is short, and a sum of one packed with its pictures.
func Fingerprint(data []byte) []byte {
	if !packed.Is(data) {
		return data
	}
	sum := sha256.Sum256(data)
	return sum[:]
}

// Session opens the job of a file.
func (f JobFile) Session() *Session {
	s := NewSession(f.Path, f.Doc, f.Disk)
	s.Pictures, s.Unpacked = f.Unpacked, f.Unpacked
	return s
}

// Pack is the bytes of a job with its pictures, whose names count from a folder.
func Pack(doc *job.Document, folder string) ([]byte, error) {
	var b bytes.Buffer
	err := packed.Write(&b, doc, folder, func(string) error { return nil })
	return b.Bytes(), err
}

// CopyBeside writes the pictures of a job that lie in a folder, where a packed job's were
// unpacked, beside the file to which the job is saved without them: into a folder with
// that file's name and "-pictures". Nothing that is there is written over. It returns
// where each lies now, by where it lay.
func CopyBeside(files store.Files, j job.Job, from, path string) (map[string]string, error) {
	moved := map[string]string{}
	if from == "" {
		return moved, nil
	}
	folder := strings.TrimSuffix(path, filepath.Ext(path)) + "-pictures"
	pictures := j.Pictures()
	for _, name := range slices.Compact(slices.Sorted(maps.Values(pictures))) {
		at := photo.InFolder(from, name)
		data, err := store.Read(files, at, photo.MaxFileBytes)
		if err != nil || photo.OutsideFolder(from, name) {
			continue // it has a place of its own, or is missing, which is told where it is wanted
		}
		if err := files.Mkdir(folder, 0o777); err != nil {
			return nil, err
		}
		to := filepath.Join(folder, filepath.Base(at))
		for n := 2; taken(files, to, data) || slices.Contains(slices.Collect(maps.Values(moved)), to); n++ {
			to = filepath.Join(folder, strconv.Itoa(n)+"-"+filepath.Base(at))
		}
		if _, err := store.Replace(files, to, data, 0o666); err != nil {
			return nil, err
		}
		moved[at] = to
	}
	return moved, nil
}

// taken tells whether there is another file of a name than one with the same content.
func taken(files store.Files, path string, data []byte) bool {
	there, err := store.Read(files, path, photo.MaxFileBytes)
	return !errors.Is(err, fs.ErrNotExist) && (err != nil || !bytes.Equal(there, data))
}

// tidy removes what was unpacked for a session that is left, once nothing is being
// written that may want its pictures.
func (u *Desk) tidy(folder string) {
	if folder != "" {
		u.unpacked = append(u.unpacked, folder)
	}
	if len(u.Writing.Paths) > 0 {
		return
	}
	list := u.unpacked
	u.unpacked = nil
	u.Background(func() func() {
		for _, folder := range list {
			_ = os.RemoveAll(folder) // it lies where what is temporary does
		}
		return func() {}
	})
}

// TidyAll removes all that was unpacked, at the end of the program.
func (u *Desk) TidyAll() {
	for _, folder := range append(u.unpacked, u.Session.Unpacked) {
		if folder != "" {
			_ = os.RemoveAll(folder)
		}
	}
}
