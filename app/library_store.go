package app

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"pinphase.org/pinphase/app/desk"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/store"
)

// shelf is one of the folders of the user's own library. What is kept there are
// small job files of their own: a title, and the section that is kept.
type shelf string

// The shelves.
const (
	engineShelf shelf = "engines"
	crankShelf  shelf = "crank-wheels"
	camShelf    shelf = "cam-wheels"
)

// kept is one thing in the library.
type kept struct {
	path  string
	title string
	job   job.Job
	err   error // why it cannot be read; then there is no job
}

// library is the user's own engines and wheels, below a folder of the program.
type library struct {
	folder string
	files  store.Files
}

// list returns what is on a shelf, by title, what cannot be read last. A shelf
// that does not exist is empty.
func (l library) list(s shelf) ([]kept, error) {
	files, err := os.ReadDir(filepath.Join(l.folder, string(s)))
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var list []kept
	for _, f := range files {
		if f.IsDir() || filepath.Ext(f.Name()) != ".toml" {
			continue
		}
		k := kept{path: filepath.Join(l.folder, string(s), f.Name())}
		doc, err := job.ReadFile(k.path)
		if err == nil {
			k.job = doc.Job()
			k.title = k.job.Title
			if !s.has(k.job) {
				err = phrase.Errorf("%s: %v", k.path, errNotOnShelf)
			}
		}
		if k.title == "" {
			k.title = strings.TrimSuffix(f.Name(), ".toml")
		}
		k.err = err
		list = append(list, k)
	}
	slices.SortStableFunc(list, func(a, b kept) int {
		if (a.err == nil) != (b.err == nil) {
			if a.err == nil {
				return -1
			}
			return 1
		}
		return strings.Compare(strings.ToLower(a.title), strings.ToLower(b.title))
	})
	return list, nil
}

var errNotOnShelf = phrase.Errorf("the file lacks the section it is kept for")

// has tells whether a job has what the shelf keeps.
func (s shelf) has(j job.Job) bool {
	switch s {
	case crankShelf:
		return j.CrankWheel != nil
	case camShelf:
		return j.CamWheel != nil
	}
	return true // an engine is in every job
}

// part returns what of a job goes onto the shelf. A wheel is kept with the
// strokes and the firing order it was made for, which a job file must have.
func (s shelf) part(j job.Job, title string) job.Job {
	p := job.Job{Title: title}
	switch s {
	case engineShelf:
		p.Engine = j.Engine
		return p.Clone()
	case crankShelf:
		p.CrankWheel = j.CrankWheel
	case camShelf:
		p.CamWheel = j.CamWheel
	}
	p.Engine = job.Engine{Strokes: j.Engine.Strokes, FiringOrder: j.Engine.FiringOrder, FiringIntervalsDeg: j.Engine.FiringIntervalsDeg}
	return p.Clone()
}

// put takes what the shelf keeps from one job into another.
func (s shelf) put(to *job.Job, from job.Job) {
	from = from.Clone()
	switch s {
	case engineShelf:
		to.Engine = from.Engine
	case crankShelf:
		to.CrankWheel = from.CrankWheel
	case camShelf:
		to.CamWheel = from.CamWheel
	}
}

// find returns the readable thing of a title, in any case of its letters.
func (l library) find(s shelf, title string) (kept, bool) {
	list, _ := l.list(s) // a folder that cannot be read has nothing to find
	return named(list, title)
}

func named(list []kept, title string) (kept, bool) {
	for _, k := range list {
		if k.err == nil && strings.EqualFold(k.title, title) {
			return k, true
		}
	}
	return kept{}, false
}

// keep puts part of a job onto a shelf under a title, over what has that title
// there.
func (l library) keep(s shelf, title string, j job.Job) error {
	path := ""
	if old, ok := l.find(s, title); ok {
		path = old.path
	} else {
		var err error
		if path, err = l.fresh(s, title); err != nil {
			return err
		}
	}
	return l.write(path, s.part(j, title))
}

// rename gives a thing another title; its file keeps its name.
func (l library) rename(s shelf, k kept, title string) error {
	return l.write(k.path, s.part(k.job, title))
}

// remove takes a thing out of the library.
func (l library) remove(k kept) error { return store.Remove(l.files, k.path) }

func (l library) write(path string, j job.Job) error {
	_, err := store.Replace(l.files, path, job.New(j).Bytes(), 0o666) // what one's own file cannot keep is not missed
	return err
}

// fresh returns a file name on a shelf that no file has yet, after the title.
func (l library) fresh(s shelf, title string) (string, error) {
	folder := filepath.Join(l.folder, string(s))
	if err := store.Mkdir(l.files, folder); err != nil {
		return "", err
	}
	name := desk.FileName(title)
	for n := 1; ; n++ {
		path := filepath.Join(folder, name+".toml")
		if n > 1 {
			path = filepath.Join(folder, fmt.Sprintf("%s-%d.toml", name, n))
		}
		if _, err := os.Lstat(path); errors.Is(err, os.ErrNotExist) {
			return path, nil
		} else if err != nil {
			return "", err
		}
	}
}
