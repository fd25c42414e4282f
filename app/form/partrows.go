package form

import (
	"fmt"
	"strings"

	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/widgets"
)

// UseNames are what a part can be used for, in the order in which they are offered, and
// useWords say them.
var (
	UseNames = []string{job.UseDatum, job.UseEngine, job.UseBefore, ""}
	useWords = []phrase.Text{"the others are compared with it", "in the engine", "in the engine before the repair", "kept only"}
)

// whatNames and whatWords are what a part can be.
var (
	whatNames = []string{"old", "new", "drawing", "spare", ""}
	whatWords = []phrase.Text{"the old crankshaft", "a new crankshaft", "a drawing", "a spare crankshaft", "not stated"}
)

// PartRows are the fields of the part that the form shows, besides its readings.
func (f *Form) PartRows() []Row {
	at := func(j *job.Job) *job.Part {
		if p := f.shownPart(j); p != nil {
			return p
		}
		return new(job.Part)
	}
	names := func(list []phrase.Text) (said []string) {
		for _, t := range list {
			said = append(said, tr(t))
		}
		return said
	}
	rows := []Row{
		f.Text("part.name", tr("Name"), 1, func(j *job.Job) *string { return &at(j).Name }),
		f.choice("part.what", tr("It is"), names(whatWords), whatNames,
			func(j job.Job) string { return at(&j).What },
			func(j *job.Job, v string) { at(j).What = v }),
		f.choice("part.use", tr("Used as"), names(useWords), UseNames,
			func(j job.Job) string { return at(&j).Use },
			func(j *job.Job, v string) {
				if f.shownPart(j) != nil {
					j.UsePart(f.Part(), v)
				}
			}),
		f.Text("part.dated", tr("Measured on"), 1, func(j *job.Job) *string { return &at(j).Dated }),
	}
	rows[3].Object.(*widgets.Field).SetPlaceHolder(tr("a day, as in 2026-03-31"))
	return rows
}

// shownPart is the part whose readings the form shows, nil for none.
func (f *Form) shownPart(j *job.Job) *job.Part {
	if f.Part == nil {
		return nil
	}
	if i := f.Part(); i >= 0 && i < len(j.Parts) {
		return &j.Parts[i]
	}
	return nil
}

// fieldKey is the key of the form's field for a key of the job: those of the part that
// the form shows go by names without its place.
func (f *Form) fieldKey(key string) string {
	if f.Part == nil {
		return key
	}
	rest, ok := strings.CutPrefix(key, fmt.Sprintf("part[%d].", f.Part()+1))
	if !ok {
		return key
	}
	for _, section := range []string{"dowel", "keyway"} {
		if of, ok := strings.CutPrefix(rest, section); ok && (of == "" || of[0] == '.') {
			return section + "." + Other + of
		}
	}
	return "part." + rest
}
