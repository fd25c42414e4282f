package job

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"pinphase.org/pinphase/timing/job/document"
	"pinphase.org/pinphase/timing/phrase"
)

// Part is one of several crankshafts that a job knows: the old one, the new one, the new
// one as it was before it was repaired. What is measured on it takes the place of a
// drawing, or of what was measured in [dowel] and [keyway], as Use says.
type Part struct {
	Name     string
	What     string // "drawing", "old", "new" or "spare"; "" is not said
	Use      string // "datum", "engine", "before"; "" is kept only
	Dated    string // the day on which it was measured or photographed, as 2026-03-31
	SeenFrom string // "nose" or "flywheel"; "" is nose; a reading's own wins
	Picture  string // another photograph of it, relative to the job
	Dowel    *Reading
	Keyway   *Reading
}

// What a part is used for.
const (
	UseDatum  = "datum"  // what the others are compared with: a drawing or the old part
	UseEngine = "engine" // it is in the engine, or about to be: all answers are about it
	UseBefore = "before" // it was in the engine before the repair
)

// MaxParts is how many parts a job may have.
const MaxParts = 20

func (p *Part) slots() []document.Key {
	return []document.Key{
		slot("name", &p.Name),
		slot("what", &p.What),
		slot("use", &p.Use),
		slot("dated", &p.Dated),
		slot("seen_from", &p.SeenFrom),
		slot("picture", &p.Picture),
		slot("dowel", inline(optional(&p.Dowel))),
		slot("keyway", inline(optional(&p.Keyway))),
	}
}

// several is the list of parts.
func several(list *[]Part) document.List {
	return document.List{
		Len:  func() int { return len(*list) },
		Set:  func(n int) { *list = make([]Part, n) },
		Item: func(i int) []document.Key { return (*list)[i].slots() },
		NoItem: func(found phrase.Sentence) phrase.Sentence {
			return phrase.Of(`is %s; a part is { name = ..., use = "datum", dowel = { ... } }`, found)
		},
	}
}

// Reading is what was measured on the part in a section, nil where it was not.
func (p *Part) Reading(section string) *Reading {
	if section == "keyway" {
		return p.Keyway
	}
	return p.Dowel
}

// PartFor returns the place of the part with a use, -1 where there is none.
func (j *Job) PartFor(use string) int {
	return slices.IndexFunc(j.Parts, func(p Part) bool { return p.Use == use })
}

// MeasuredDatum is the part that is the datum where that is not a drawing: what was
// measured on it is as uncertain as on any part. nil where there is none.
func (j *Job) MeasuredDatum() *Part {
	if i := j.PartFor(UseDatum); i >= 0 && j.Parts[i].What != "drawing" {
		return &j.Parts[i]
	}
	return nil
}

// Compared returns the job as one whose [dowel] and [keyway] hold the two that are
// compared: as drawing what the datum has, as measured what the part in the engine has.
// What no part has stays as it is in the sections. Every answer is worked out from it, so
// that the same numbers give the same answer whichever way they are kept. Compared once
// more it is the same. The job given is not changed.
func (j Job) Compared() Job { return j.comparing(UseEngine) }

// ComparedBefore is [Job.Compared] with what was in the engine before the repair in place
// of what is in it; ok is false where the job has none.
func (j Job) ComparedBefore() (before Job, ok bool) {
	if j.PartFor(UseBefore) < 0 {
		return j, false
	}
	next := j.Clone()
	for _, f := range []*Feature{next.Dowel, next.Keyway} {
		if f != nil && next.PartFor(UseEngine) >= 0 {
			f.Measured = nil // that of the part in the engine may stand there
		}
	}
	return next.comparing(UseBefore), true
}

func (j Job) comparing(use string) Job {
	if len(j.Parts) == 0 {
		return j
	}
	next := j.Clone()
	for _, section := range []string{"dowel", "keyway"} {
		at := &next.Dowel
		if section == "keyway" {
			at = &next.Keyway
		}
		for _, u := range []string{UseDatum, use} {
			i := next.PartFor(u)
			if i < 0 {
				continue
			}
			r := next.Parts[i].Reading(section).clone()
			if r == nil {
				continue
			}
			if r.SeenFrom == "" {
				if r.SeenFrom = next.Parts[i].SeenFrom; r.SeenFrom == "" {
					r.SeenFrom = "nose" // whatever the section says of its own
				}
			}
			if *at == nil {
				*at = new(Feature)
			}
			if u == UseDatum {
				(*at).Drawing = r
			} else {
				(*at).Measured = r
			}
		}
	}
	return next
}

// PartHolding is the part that has, or is to have, the reading of a section: that used as
// the datum for "drawing", that in the engine for "measured". nil where it is the
// section's own.
func (j *Job) PartHolding(section, which string) *Part {
	f, use := j.Dowel, UseEngine
	if section == "keyway" {
		f = j.Keyway
	}
	own := f != nil && f.Measured != nil
	if which == "drawing" {
		own, use = f != nil && f.Drawing != nil, UseDatum
	}
	if i := j.PartFor(use); i >= 0 && !own {
		return &j.Parts[i]
	}
	return nil
}

// Put gives a part what was measured on it in a section; nil takes it away.
func (p *Part) Put(section string, r *Reading) {
	if section == "keyway" {
		p.Keyway = r
		return
	}
	p.Dowel = r
}

// ComparedKey is the inverse of [Job.KeyOf]: where a key of a part's reading stands in the
// job as it is compared.
func (j *Job) ComparedKey(key string) string {
	for _, section := range []string{"dowel", "keyway"} {
		for _, which := range []string{"drawing", "measured"} {
			at := section + "." + which
			if of := j.KeyOf(at); of != at {
				if rest, ok := strings.CutPrefix(key, of); ok && (rest == "" || rest[0] == '.') {
					return at + rest
				}
			}
		}
	}
	return key
}

// KeyOf is where in the job a key of a compared section stands: that of the part's
// reading that took its place, else the key itself.
func (j *Job) KeyOf(key string) string {
	for _, section := range []string{"dowel", "keyway"} {
		for which, use := range map[string]string{"drawing": UseDatum, "measured": UseEngine} {
			rest, ok := strings.CutPrefix(key, section+"."+which)
			if i := j.PartFor(use); ok && i >= 0 && (rest == "" || rest[0] == '.') && j.Parts[i].Reading(section) != nil {
				return fmt.Sprintf("part[%d].%s%s", i+1, section, rest)
			}
		}
	}
	return key
}

// parts checks the list.
func (c *checker) parts(j *Job) {
	if !c.OK("part") {
		return
	}
	if len(j.Parts) > MaxParts {
		c.fault("part", "has %d parts; at most %d are taken", len(j.Parts), MaxParts)
		return
	}
	names, uses := map[string]bool{}, map[string]int{}
	for i := range j.Parts {
		p := &j.Parts[i]
		at := fmt.Sprintf("part[%d]", i+1)
		if !c.OK(at) {
			continue
		}
		switch name := strings.TrimSpace(p.Name); {
		case name == "":
			c.missing(at+".name", "is missing: say which part it is, as in %q", "Old crankshaft")
		case names[name]:
			c.fault(at+".name", "%q is another part's name already", document.Short(name))
		default:
			names[name] = true
		}
		c.word(at+".what", p.What)
		c.word(at+".use", p.Use)
		c.word(at+".seen_from", p.SeenFrom)
		c.day(at+".dated", p.Dated)
		c.reading(at+".dowel", p.Dowel)
		c.reading(at+".keyway", p.Keyway)
		if p.Use == "" || !c.OK(at+".use") {
			continue
		}
		if other := uses[p.Use]; other > 0 {
			c.fault(at+".use", "is %q, as that of part %d; only one can be", p.Use, other)
			continue
		}
		uses[p.Use] = i + 1
		for _, s := range []struct {
			name string
			*Feature
		}{{"dowel", j.Dowel}, {"keyway", j.Keyway}} {
			if s.Feature == nil || p.Reading(s.name) == nil {
				continue
			}
			switch {
			case p.Use == UseDatum && s.Drawing != nil:
				c.fault(at+"."+s.name, "the drawing has this angle too, in [%s]; keep one of the two", s.name)
			case p.Use == UseEngine && s.Measured != nil:
				c.fault(at+"."+s.name, "[%s] has this reading too, as measured; keep one of the two, or make that one a part with use = %q", s.name, UseBefore)
			}
		}
	}
}

// day checks a day.
func (c *checker) day(key, day string) {
	if _, err := time.Parse(time.DateOnly, day); err != nil && day != "" && c.OK(key) {
		c.fault(key, "%q is not a day; write it as in %q", document.Short(day), "2026-03-31")
	}
}

func cloneParts(list []Part) []Part {
	list = slices.Clone(list)
	for i := range list {
		list[i].Dowel, list[i].Keyway = list[i].Dowel.clone(), list[i].Keyway.clone()
	}
	return list
}
