package job

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// New returns the document of a job that was never a file: its sections in their
// order, their keys in theirs, what is not given left out. The job need not be
// sound; only one that is can be read again.
func New(j Job) *Document {
	j = j.Clone()
	if j.Format == 0 {
		j.Format = Format
	}
	var b strings.Builder
	writeSection(&b, "", j.slots())
	return &Document{[]byte(b.String()), j}
}

// writeSection writes the keys of a section, then the sections in it. What was
// read of an angle is one line each.
func writeSection(b *strings.Builder, path string, slots []slot) {
	for _, s := range slots {
		if _, ok := s.to.(*[]Evidence); ok || !s.given() || isSection(path, s) {
			continue
		}
		fmt.Fprintf(b, "%s = %s\n", s.name, lines(s, nil))
	}
	for _, s := range slots {
		if sub, ok := s.to.(section); ok && s.given() && isSection(path, s) {
			name := strings.TrimPrefix(path+"."+s.name, ".")
			fmt.Fprintf(b, "\n[%s]\n", name)
			writeSection(b, name, sub.open())
		}
		if list, ok := s.to.(*[]Evidence); ok {
			for _, e := range *list {
				fmt.Fprintf(b, "\n[[%s]]\n", s.name)
				writeSection(b, s.name, e.slots())
			}
		}
	}
}

// isSection tells whether a slot is written under a header of its own; the
// readings of a feature are not.
func isSection(path string, s slot) bool {
	_, ok := s.to.(section)
	return ok && path != "dowel" && path != "keyway"
}

// lines is literal, but a text of several lines is written as such where that
// says the same.
func lines(s slot, old *node) string {
	t, ok := s.to.(*string)
	if !ok || !strings.Contains(*t, "\n") || !utf8.ValidString(*t) ||
		strings.ContainsFunc(*t, func(r rune) bool { return r < 0x20 && r != '\n' && r != '\t' || r == 0x7f }) {
		return literal(s, old)
	}
	escaped := strings.NewReplacer(`\`, `\\`, `"""`, `""\"`).Replace(*t)
	if strings.HasSuffix(escaped, `"`) {
		escaped = strings.TrimSuffix(escaped, `"`) + `\"`
	}
	return "\"\"\"\n" + escaped + `"""`
}
