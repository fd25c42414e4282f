package job

// Supposed is what was laid over a job to ask "what if". It is not of the job: no key
// of a file reads or writes it, and a job that has one is written as the job it was laid
// over. Only finding.Suppose makes one.
type Supposed struct {
	Of            Job      // the job as it is, without anything supposed
	WheelErrorDeg Number   // the sensor wheel this far ahead, whatever was measured
	Keys          []string // of the job, whose values are supposed; and "wheel error"
}

// Has tells whether the value of a key is supposed. It is safe on nil.
func (s *Supposed) Has(key string) bool {
	if s == nil {
		return false
	}
	for _, k := range s.Keys {
		if k == key {
			return true
		}
	}
	return false
}

// AsItIs returns the job without what was supposed.
func (j Job) AsItIs() Job {
	if j.Supposed == nil {
		return j
	}
	return j.Supposed.Of
}
