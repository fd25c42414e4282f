package job

// Pictures returns the names of the files that readings were taken from, relative to
// the job, by the key of the reading's file: "dowel.measured.file".
func (j *Job) Pictures() map[string]string {
	all := map[string]string{}
	j.eachPicture(func(key string, r *Reading) { all[key] = r.File })
	return all
}

// WithPictures returns the job with other names for those files, by their keys; one
// that is not named keeps its name. The job given is not changed.
func (j *Job) WithPictures(names map[string]string) Job {
	next := j.Clone()
	next.eachPicture(func(key string, r *Reading) {
		if name, ok := names[key]; ok {
			r.File = name
		}
	})
	return next
}

func (j *Job) eachPicture(do func(key string, r *Reading)) {
	for _, f := range []struct {
		name string
		*Feature
	}{{"dowel", j.Dowel}, {"keyway", j.Keyway}} {
		if f.Feature == nil {
			continue
		}
		for _, r := range []struct {
			name string
			*Reading
		}{{"drawing", f.Drawing}, {"measured", f.Measured}} {
			if r.Reading != nil && r.File != "" {
				do(f.name+"."+r.name+".file", r.Reading)
			}
		}
	}
}
