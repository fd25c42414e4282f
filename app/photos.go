package app

import (
	"os"
	"path/filepath"
	"slices"
	"time"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
)

// photos takes the angles from a job's photographs and keeps them while neither
// the marks nor the pictures change: working them out takes a frame's time.
type photos struct {
	coarse bool // a point is being moved: quick is better than fine

	of       job.Job // the job they were taken for
	folder   string
	coarsely bool
	job      job.Job // with the angles in place of the photographs
	results  finding.Photos
	err      error
	valid    bool

	infos map[string]pictureInfo // by path
}

// pictureInfo is what a picture says of itself, while it is the same file.
type pictureInfo struct {
	photo.Info
	changed time.Time
	size    int64
}

// coarseDraws are those of the Monte Carlo while a point is dragged: they give
// the uncertainty to 5 %, 1/√(2·200).
const coarseDraws = 200

// shown is the newest sound job as the figures show it, every photograph replaced
// by the angle it shows.
func (u *ui) shown() job.Job {
	j := u.session.Sound()
	if !hasPhoto(j) {
		u.photos.results, u.photos.err, u.photos.valid = nil, nil, false
		return j
	}
	p := &u.photos
	folder := u.folder()
	same := p.valid && p.folder == folder && p.coarsely == p.coarse
	switch {
	case same && p.of.Equal(j):
	case same && sameFeatures(p.of, j): // something else was edited
		next := j.Clone()
		next.Dowel, next.Keyway = p.job.Dowel, p.job.Keyway
		p.of, p.job = j, next
	default:
		draws := 0
		if p.coarse {
			draws = coarseDraws
		}
		p.of, p.folder, p.coarsely, p.valid = j, folder, p.coarse, true
		p.job, p.results, p.err = finding.WithPhotos(j, folder, p.inspect, draws)
	}
	return p.job
}

// why says why the job shown gives no answer.
func (u *ui) why(err error) string {
	if u.photos.err != nil {
		err = u.photos.err
	}
	return u.form.errorWords(err)
}

func hasPhoto(j job.Job) bool {
	for _, f := range []*job.Feature{j.Dowel, j.Keyway} {
		if f == nil {
			continue
		}
		for _, r := range []*job.Reading{f.Drawing, f.Measured} {
			if r != nil && r.Method == "photo" {
				return true
			}
		}
	}
	return false
}

// sameFeatures tells whether two jobs were measured alike.
func sameFeatures(a, b job.Job) bool {
	return job.Job{Dowel: a.Dowel, Keyway: a.Keyway}.Equal(job.Job{Dowel: b.Dowel, Keyway: b.Keyway})
}

// folder is that of the job's file; "" without one.
func (u *ui) folder() string {
	if u.session.path == "" {
		return ""
	}
	return filepath.Dir(u.session.path)
}

// inspect says what a picture says of itself; one that cannot be read says
// nothing, and its marks are measured all the same: the page shows that it is
// missing. The file is read again only when it has changed.
func (p *photos) inspect(path string) (photo.Info, error) {
	stat, err := os.Stat(path)
	if err != nil {
		return photo.Info{}, nil
	}
	if known, ok := p.infos[path]; ok && known.changed.Equal(stat.ModTime()) && known.size == stat.Size() {
		return known.Info, nil
	}
	info, err := photo.InspectFile(path)
	if err != nil {
		info = photo.Info{}
	}
	if p.infos == nil {
		p.infos = map[string]pictureInfo{}
	}
	p.infos[path] = pictureInfo{info, stat.ModTime(), stat.Size()}
	return info, nil
}

// refile makes the names of pictures, in every state of the session, lead from
// another folder to where they lead from this one. back undoes it.
func (s *session) refile(from, to string) (back func()) {
	steps, sound := slices.Clone(s.steps), s.sound
	refiled := func(j job.Job) job.Job {
		if !hasPhoto(j) {
			return j
		}
		j = j.Clone()
		for _, f := range []*job.Feature{j.Dowel, j.Keyway} {
			if f == nil {
				continue
			}
			for _, r := range []*job.Reading{f.Drawing, f.Measured} {
				if r != nil && r.Method == "photo" && r.File != "" {
					r.File = filed(to, photo.InFolder(from, r.File))
				}
			}
		}
		return j
	}
	for i := range s.steps {
		s.steps[i].job = refiled(s.steps[i].job)
	}
	s.sound = refiled(s.sound)
	return func() { s.steps, s.sound = steps, sound }
}
