package desk

import (
	"slices"
	"strings"

	"pinphase.org/pinphase/timing/job"
)

// Unfinished says what is yet to be measured, when nothing but that is wrong with
// the job: points not marked, readings not typed. Else it is "".
func (u *Desk) Unfinished() string {
	for _, f := range u.Fields {
		if len(f.Typos()) > 0 {
			return ""
		}
	}
	var list []string
	j := u.Session.Job()
	for _, fault := range u.Session.Faults() {
		words := u.wantedFor(&j, fault.Key)
		if words == "" {
			return ""
		}
		if !slices.Contains(list, words) {
			list = append(list, words)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return with("Still missing: {{.What}}.", map[string]any{"What": strings.Join(list, ", ")})
}

// wantedFor says what of a reading is missing under a key, "" where something else
// is wrong.
func (u *Desk) wantedFor(j *job.Job, key string) string {
	section, which, kind := CutKey(key)
	if r := PhotoIn(j, section, which); r != nil {
		if kind == "u_px" {
			return ""
		}
		return Wanted(r, section, kind)
	}
	if r := readingAt(j, section, which); r != nil && kind == "side" && r.Side == "" {
		return tr("on which side it lies")
	} else if r != nil && kind == "counts" && r.Counts == "" {
		return tr("which way the degree wheel counts")
	}
	u.label(key)
	for _, f := range u.Fields {
		if label := f.Wants(key); label != "" {
			return label
		}
	}
	return ""
}
