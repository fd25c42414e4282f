package job

import (
	"fmt"
	"strings"
)

// Gather makes what [dowel] and [keyway] hold the readings of parts, so that others can
// stand beside them: as drawing of the datum, as measured of the part in the engine. A
// part that is missing for that is made, under the names given. A reading stays where
// the part has one of its own. What is compared is the same before and after. The job
// given is not changed.
func (j Job) Gather(drawing, engine string) Job {
	j = j.Clone()
	for _, section := range []string{"dowel", "keyway"} {
		at := &j.Dowel
		if section == "keyway" {
			at = &j.Keyway
		}
		f := *at
		if f == nil {
			continue
		}
		for _, held := range []struct {
			from            **Reading
			use, what, name string
		}{{&f.Drawing, UseDatum, "drawing", drawing}, {&f.Measured, UseEngine, "new", engine}} {
			r := *held.from
			if r == nil {
				continue
			}
			i := j.PartFor(held.use)
			if i < 0 {
				i = j.AddPart(Part{Name: held.name, What: held.what, Use: held.use, SeenFrom: f.SeenFrom})
			}
			p := &j.Parts[i]
			if p.Reading(section) != nil {
				continue
			}
			if r.SeenFrom == "" && endOf(f.SeenFrom) != endOf(p.SeenFrom) {
				r.SeenFrom = endOf(f.SeenFrom)
			}
			p.Put(section, r)
			*held.from = nil
		}
		if f.Drawing == nil && f.Measured == nil {
			*at = nil
		}
	}
	return j
}

// endOf is the end that a key for it means.
func endOf(seenFrom string) string {
	if seenFrom == "" {
		return "nose"
	}
	return seenFrom
}

// AddPart puts a part behind the others, under the first free name that begins with its
// own, and returns its place.
func (j *Job) AddPart(p Part) int {
	p.Name = j.FreeName(p.Name, -1)
	j.Parts = append(j.Parts, p)
	return len(j.Parts) - 1
}

// FreeName is a name, with a number behind it where a part other than that at a place
// has it.
func (j *Job) FreeName(name string, but int) string {
	taken := map[string]bool{}
	for i, p := range j.Parts {
		if i != but {
			taken[strings.TrimSpace(p.Name)] = true
		}
	}
	free := name
	for n := 2; taken[strings.TrimSpace(free)]; n++ {
		free = fmt.Sprintf("%s %d", name, n)
	}
	return free
}

// UsePart gives a part another use. Only one part can have it: the one that had it takes
// what the other was used for.
func (j *Job) UsePart(i int, use string) {
	was := j.Parts[i].Use
	if use != "" && use != was {
		if other := j.PartFor(use); other >= 0 {
			j.Parts[other].Use = was
		}
	}
	j.Parts[i].Use = use
}

// Repaired makes the part in the engine what it was before a repair, and a new one, of
// a name, what is in the engine from then on: it is to be measured again. It returns
// the place of the new one, -1 where no part is in the engine.
func (j *Job) Repaired(name string) int {
	i := j.PartFor(UseEngine)
	if i < 0 {
		return -1
	}
	if before := j.PartFor(UseBefore); before >= 0 {
		j.Parts[before].Use = ""
	}
	j.Parts[i].Use = UseBefore
	return j.AddPart(Part{Name: name, What: j.Parts[i].What, Use: UseEngine, SeenFrom: j.Parts[i].SeenFrom})
}
