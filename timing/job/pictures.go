package job

import "fmt"

// Pictures returns the names of the files that readings were taken from and of the other
// photographs of the parts, relative to the job, by their keys: "dowel.measured.file".
func (j *Job) Pictures() map[string]string {
	all := map[string]string{}
	j.eachPicture(func(key string, file *string) { all[key] = *file })
	return all
}

// WithPictures returns the job with other names for those files, by their keys; one
// that is not named keeps its name. The job given is not changed.
func (j *Job) WithPictures(names map[string]string) Job {
	next := j.Clone()
	next.eachPicture(func(key string, file *string) {
		if name, ok := names[key]; ok {
			*file = name
		}
	})
	return next
}

func (j *Job) eachPicture(do func(key string, file *string)) {
	j.EachReading(func(key string, r *Reading) {
		if r.File != "" {
			do(key+".file", &r.File)
		}
	})
	for i := range j.Parts {
		if p := &j.Parts[i]; p.Picture != "" {
			do(fmt.Sprintf("part[%d].picture", i+1), &p.Picture)
		}
	}
}

// EachReading goes through all readings of the job, in the order of the file, each with
// its key: "dowel.measured", "part[1].keyway". What do changes is changed in the job.
func (j *Job) EachReading(do func(key string, r *Reading)) {
	given := func(key string, r *Reading) {
		if r != nil {
			do(key, r)
		}
	}
	for _, f := range []struct {
		name string
		*Feature
	}{{"dowel", j.Dowel}, {"keyway", j.Keyway}} {
		if f.Feature != nil {
			given(f.name+".drawing", f.Drawing)
			given(f.name+".measured", f.Measured)
		}
	}
	for i := range j.Parts {
		at := fmt.Sprintf("part[%d].", i+1)
		given(at+"dowel", j.Parts[i].Dowel)
		given(at+"keyway", j.Parts[i].Keyway)
	}
}
