package app

import (
	"path/filepath"

	"pinphase/timing/finding"
	"pinphase/timing/job"
	"pinphase/timing/part/photo"
)

// photos takes the angles from a job's photographs and keeps them while neither
// the marks nor the pictures change: working them out takes a frame's time.
type photos struct {
	of      job.Job // the job they were taken for
	folder  string
	job     job.Job // with the angles in place of the photographs
	results finding.Photos
	err     error
	valid   bool
}

// shown is the newest sound job as the figures show it, every photograph replaced
// by the angle it shows.
func (u *ui) shown() job.Job {
	j := u.session.Sound()
	if !hasPhoto(j) {
		return j
	}
	p := &u.photos
	folder := u.folder()
	if !p.valid || p.folder != folder || !p.of.Equal(j) {
		same := p.valid && p.folder == folder && sameFeatures(p.of, j)
		p.of, p.folder = j, folder
		if same { // something else was edited
			next := j.Clone()
			next.Dowel, next.Keyway = p.job.Dowel, p.job.Keyway
			p.job = next
		} else {
			p.job, p.results, p.err = finding.WithPhotos(j, folder, u.inspect)
			p.valid = true
		}
	}
	return p.job
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
// missing.
func (u *ui) inspect(path string) (photo.Info, error) {
	info, err := photo.InspectFile(path)
	if err != nil {
		return photo.Info{}, nil
	}
	return info, nil
}
