// Package jobs looks through the job files of a workshop: which there are in its folders,
// whose they are, what each comes to, and which of them some words are about.
//
// # Choices
//
// Nothing is kept on the disk: an index there would have to be believed, and would name
// customers in a second place. A file that was read is read again only when its size or
// the time of its last change is another. Searching is a comparison of words. What a job
// comes to takes as long as reading fifty: it is worked out for those that are looked at.
package jobs

import (
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"
	"unicode"

	"golang.org/x/text/runes"
	"golang.org/x/text/transform"
	"golang.org/x/text/unicode/norm"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/packed"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/regular"
)

// Limits of what is looked through: files in all, and folders below one another.
const (
	MaxFiles = 5000
	MaxDepth = 8
)

// errMany is why some files are not listed.
var errMany = phrase.Errorf("there are more than %d files; choose folders with fewer", MaxFiles)

// File is a file that may hold a job.
type File struct {
	Path    string
	Changed time.Time
	Size    int64
}

// Same tells whether a file is as it was.
func (f File) Same(as File) bool {
	return f.Path == as.Path && f.Size == as.Size && f.Changed.Equal(as.Changed)
}

// Find returns the files of jobs in folders and in the folders below them, each once, the
// newest first. What is hidden there and what is only linked to is left out. A folder that
// cannot be read is in the error, beside what was found elsewhere.
func Find(folders []string) (list []File, err error) {
	seen := map[string]bool{}
	var failed []error
	for _, top := range folders {
		top = filepath.Clean(top)
		if real, err := filepath.EvalSymlinks(top); err == nil {
			top = real // a folder that was named may be a link
		}
		err := filepath.WalkDir(top, func(path string, at fs.DirEntry, err error) error {
			switch name := filepath.Base(path); {
			case err != nil && path == top:
				return err
			case err != nil:
				failed = append(failed, err)
				return fs.SkipDir
			case path != top && strings.HasPrefix(name, "."), at.IsDir() && depth(top, path) > MaxDepth:
				if at.IsDir() {
					return fs.SkipDir
				}
				return nil
			case !at.Type().IsRegular() || seen[path] || !isJob(name):
				return nil
			}
			info, err := at.Info()
			if err != nil {
				return nil // it went away meanwhile
			}
			if len(list) >= MaxFiles {
				return errMany
			}
			seen[path] = true
			list = append(list, File{path, info.ModTime(), info.Size()})
			return nil
		})
		if err != nil {
			failed = append(failed, err)
		}
	}
	slices.SortStableFunc(list, Newest)
	return list, errors.Join(failed...)
}

// Newest orders files by their last change, the newest first.
func Newest(a, b File) int {
	if c := b.Changed.Compare(a.Changed); c != 0 {
		return c
	}
	return strings.Compare(a.Path, b.Path)
}

// isJob tells by its ending whether a file may hold a job.
func isJob(name string) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".toml", ".zip":
		return true
	}
	return false
}

// depth is how many folders below another a path lies.
func depth(top, path string) int {
	rest, err := filepath.Rel(top, path)
	if err != nil || rest == "." {
		return 0
	}
	return strings.Count(rest, string(filepath.Separator)) + 1
}

// Entry is what the list of jobs has of a file.
type Entry struct {
	File
	Job    job.Job         // as the file has it
	Err    error           // why it cannot be read; then there is no more than the file
	Worked bool            // what follows is known
	Angles job.Job         // the job with an angle for each photograph
	Answer phrase.Sentence // what it comes to; the zero value where the job does not say enough
	words  [4]string       // to be searched, folded, by [Place]
}

// IsJob tells whether there is a job to be listed, if only one that cannot be read: most
// ZIP archives hold none.
func (e Entry) IsJob() bool { return !errors.Is(e.Err, packed.ErrNoJob) }

// Read reads a file that may hold a job.
func Read(f File) Entry {
	e := Entry{File: f}
	read, _, err := open(f.Path, false)
	if err != nil {
		e.Err = err
		e.words[Anywhere] = fold(filepath.Base(f.Path))
		return e
	}
	e.Job, e.words = read, wordsOf(read, f.Path)
	return e
}

// Work returns the entry with what its job comes to, as the window shows it. A file that
// is gone meanwhile tells nothing of its pictures.
func (e Entry) Work() Entry {
	if e.Worked || e.Err != nil {
		return e
	}
	e.Worked, e.Angles = true, e.Job.Compared()
	if len(e.Job.Pictures()) > 0 {
		_, inspect, err := open(e.Path, true)
		if err != nil {
			inspect = func(string) (photo.Info, error) { return photo.Info{}, nil }
		}
		e.Angles, _, _ = finding.WithPhotos(e.Job, filepath.Dir(e.Path), inspect, 0) // marks that give no angle leave it open
	}
	if s, err := finding.ShiftOf(e.Angles); err == nil {
		e.Answer = s.Says
	}
	return e
}

// open reads the job of a file, and where that is asked for returns what tells of its
// pictures.
func open(path string, pictures bool) (job.Job, finding.Inspector, error) {
	f, err := regular.Open(path)
	if err != nil {
		return job.Job{}, nil, err
	}
	defer f.Close()
	var first [4]byte
	n, _ := f.ReadAt(first[:], 0) // a shorter file is no archive
	if !packed.Is(first[:n]) {
		doc, err := job.ReadFrom(path, f)
		if err != nil {
			return job.Job{}, nil, err
		}
		return doc.Job(), known(photo.InspectFile), nil
	}
	info, err := f.Stat()
	if err != nil {
		return job.Job{}, nil, err
	}
	a, err := packed.Look(path, f, info.Size())
	if err != nil {
		return job.Job{}, nil, err
	}
	// Looked at while the archive is open, by the names that the job has for them.
	j := a.Doc.Job()
	if !pictures {
		return j, nil, nil
	}
	infos := map[string]photo.Info{}
	for _, name := range j.Pictures() {
		if data, err := a.Picture(name); err == nil {
			infos[photo.InFolder(filepath.Dir(path), name)], _ = photo.Inspect(data) // one that is damaged says nothing of itself
		}
	}
	return j, func(path string) (photo.Info, error) { return infos[path], nil }, nil
}

// known takes a picture that cannot be read as one that says nothing of itself, as the
// window does: what was marked on it counts all the same.
func known(inspect finding.Inspector) finding.Inspector {
	return func(path string) (photo.Info, error) {
		info, err := inspect(path)
		if err != nil {
			return photo.Info{}, nil
		}
		return info, nil
	}
}

// Place is where in a job words are looked for.
type Place int

// The places.
const (
	Anywhere Place = iota
	Customer
	Engine // machine and engine, with its firing order
	Part   // supplier, order, numbers, names of the parts
)

// wordsOf are the words of a job that are searched.
func wordsOf(j job.Job, path string) (words [4]string) {
	c := job.Case{}
	if j.Case != nil {
		c = *j.Case
	}
	parts := []string{c.Supplier, c.Order, c.PartNumber, c.PartSerial}
	for _, p := range j.Parts {
		parts = append(parts, p.Name)
	}
	words[Customer] = fold(c.Customer)
	words[Engine] = fold(strings.Join([]string{c.Machine, c.EngineSerial, timing.OrderText(j.Engine.FiringOrder)}, "\n"))
	words[Part] = fold(strings.Join(parts, "\n"))
	words[Anywhere] = strings.Join([]string{words[Customer], words[Engine], words[Part],
		fold(strings.Join([]string{j.Title, j.Notes, c.MeasuredBy, c.MeasuredOn, filepath.Base(path)}, "\n"))}, "\n")
	return words
}

// Search returns the places in a list of the entries that have each of some words, in
// any case and with or without accents; all for none.
func Search(list []Entry, in Place, words string) []int {
	var wanted []string
	for _, w := range strings.Fields(words) {
		wanted = append(wanted, fold(w))
	}
	var found []int
	for i, e := range list {
		if !slices.ContainsFunc(wanted, func(w string) bool { return !strings.Contains(e.words[in], w) }) {
			found = append(found, i)
		}
	}
	return found
}

// fold is text without case and accents.
func fold(text string) string {
	plain, _, err := transform.String(transform.Chain(norm.NFD, runes.Remove(runes.In(unicode.Mn)), norm.NFC), text)
	if err != nil {
		plain = text
	}
	return strings.ToLower(plain)
}
