package form

import "pinphase.org/pinphase/timing/job"

// MethodWords are a way of measuring in the reader's language: what it is called, what
// stands below its picture, and how it is done.
func MethodWords(m job.Method) (name, short, how string) { return tr(m.Title), tr(m.Short), tr(m.How) }

// Photograph is the place of the photograph among the ways of measuring, the last.
var Photograph = len(job.Methods) - 1

// readingField is a value of a reading: one number, that number read several times, or
// a point. An empty text in a field for its uncertainty takes the method's default.
type readingField job.Field

// sizes are the standard sizes to pick from, nil where there are none.
func (f readingField) sizes() []size {
	switch f.Sizes {
	case "pin":
		return pinSizes()
	case "key":
		return keySizes()
	}
	return nil
}
