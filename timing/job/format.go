package job

import "pinphase.org/pinphase/timing/job/document"

// The formats of the file. A job is written in the oldest that has all its keys, or in
// the one that it was read in, so that an older program reads what it can.
const (
	Format       = 1 // the oldest
	LatestFormat = 2 // adds [case], [[part]], [[tdc]], and taken and mirror of a photograph
)

func (j *Job) version() document.Version {
	return document.Version{N: &j.Format, Oldest: Format, Youngest: LatestFormat}
}

// later are the keys that the first format does not have, in the order of the file.
func (j *Job) later() []string {
	var keys []string
	if j.Case != nil {
		keys = append(keys, "case")
	}
	if len(j.TDC) > 0 {
		keys = append(keys, "tdc")
	}
	if len(j.Parts) > 0 {
		keys = append(keys, "part")
	}
	j.EachReading(func(key string, r *Reading) {
		if r.Taken != "" {
			keys = append(keys, key+".taken")
		}
		if r.Mirror != "" {
			keys = append(keys, key+".mirror")
		}
	})
	return keys
}

// Needs is the oldest format that has the job's keys.
func (j *Job) Needs() int {
	if len(j.later()) > 0 {
		return LatestFormat
	}
	return Format
}

// format checks that a file has no key that its format does not.
func (c *checker) format(j *Job) {
	if j.Format != Format {
		return
	}
	for _, key := range j.later() {
		c.fault(key, "belongs to format %d: write format = %d", LatestFormat, LatestFormat)
	}
}
