package desk

import (
	"os"
	"time"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part/photo"
)

// Photos takes the angles from a job's photographs and keeps them while neither
// the marks nor the pictures change: working them out takes a frame's time.
type Photos struct {
	Coarse bool // a point is being moved: quick is better than fine

	of       job.Job // the job they were taken for
	folder   string
	Coarsely bool
	job      job.Job // with the angles in place of the photographs
	Results  finding.Photos
	Err      error
	valid    bool
	memory   finding.PhotoMemory

	u       *Desk
	infos   map[string]pictureInfo // by path
	looking map[string]bool        // the paths that are being looked at
	asking  bool                   // the angles are being worked out
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

// Known is the newest sound job as it is, every photograph replaced by the angle it
// shows.
func (u *Desk) Known() job.Job {
	j := u.Session.Sound()
	if !HasPhoto(j) {
		u.Photos.Results, u.Photos.Err, u.Photos.valid = nil, nil, false
		return j.Compared()
	}
	p := &u.Photos
	folder := u.Folder()
	same := p.valid && p.folder == folder && p.Coarsely == p.Coarse
	switch {
	case same && p.of.Equal(j):
	case same && sameFeatures(p.of, j): // something else was edited
		next := j.Clone()
		next.Dowel, next.Keyway, next.Parts = p.job.Dowel, p.job.Keyway, p.job.Parts
		p.of, p.job = j, next
	default:
		draws := 0
		if p.Coarse {
			draws = coarseDraws
		}
		p.of, p.folder, p.Coarsely, p.valid = j, folder, p.Coarse, true
		if p.memory == nil {
			p.memory = finding.PhotoMemory{}
		}
		p.asking = true
		p.job, p.Results, p.Err = p.memory.WithPhotos(j, folder, p.inspect, draws)
		p.asking = false
	}
	return p.job
}

// Why says why the job shown gives no answer.
func (u *Desk) Why(err error) string {
	if u.Photos.Err != nil {
		err = u.Photos.Err
	}
	return u.ErrorWords(err)
}

// sameFeatures tells whether two jobs were measured alike.
func sameFeatures(a, b job.Job) bool {
	return job.Job{Dowel: a.Dowel, Keyway: a.Keyway, Parts: a.Parts}.Equal(job.Job{Dowel: b.Dowel, Keyway: b.Keyway, Parts: b.Parts})
}

// inspect says what a picture says of itself, as far as that is known by now; one
// that cannot be read says nothing, and its marks are measured all the same: the
// page shows that it is missing. The file is looked at on another goroutine, again
// each time, and read again only when it has changed.
func (p *Photos) inspect(path string) (photo.Info, error) {
	if !p.looking[path] {
		p.look(path)
	}
	return p.infos[path].Info, nil
}

// look looks at a picture's file and shows the job anew when that says another
// thing than before.
func (p *Photos) look(path string) {
	if p.infos == nil {
		p.infos, p.looking = map[string]pictureInfo{}, map[string]bool{}
	}
	p.looking[path] = true
	known := p.infos[path]
	p.u.Background(func() func() {
		now := known.again(path)
		return func() {
			delete(p.looking, path)
			p.infos[path] = now
			if now.Info != known.Info && !p.asking {
				p.valid = false
				p.u.Changed()
			}
		}
	})
}

// again is what a picture says of itself now.
func (known pictureInfo) again(path string) pictureInfo {
	stat, err := os.Stat(path)
	if err != nil {
		return pictureInfo{}
	}
	if known.changed.Equal(stat.ModTime()) && known.size == stat.Size() {
		return known
	}
	info, err := photo.InspectFile(path)
	if err != nil {
		info = photo.Info{}
	}
	return pictureInfo{info, stat.ModTime(), stat.Size()}
}

// Refile makes the names of pictures, in every state of the session, lead from
// another folder to where they lead from this one; what was moved leads to where it
// is now.
func (s *Session) Refile(from, to string, moved map[string]string) {
	for i := range s.steps {
		s.steps[i].job = Refiled(s.steps[i].job, from, to, moved)
	}
	s.sound = Refiled(s.sound, from, to, moved)
}

// Refiled is a job whose pictures are named from another folder. moved has the places
// of those that are elsewhere now, by where they were.
func Refiled(j job.Job, from, to string, moved map[string]string) job.Job {
	names := j.Pictures()
	for key, name := range names {
		at := photo.InFolder(from, name)
		if now, ok := moved[at]; ok {
			at = now
		}
		names[key] = Filed(to, at)
	}
	return j.WithPictures(names)
}
