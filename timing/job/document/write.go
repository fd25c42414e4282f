package document

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// Write returns the text of a file that never was one: its sections in their
// order, their keys in theirs, what is not given left out. The values need not be
// sound; only those that are can be read again.
func Write(keys []Key) []byte {
	var b strings.Builder
	writeSection(&b, "", keys)
	return []byte(b.String())
}

// writeSection writes the keys of a section, then the sections in it.
func writeSection(b *strings.Builder, path string, keys []Key) {
	for _, s := range keys {
		if _, ok := s.To.(List); ok || !s.Given() || isSection(s) {
			continue
		}
		fmt.Fprintf(b, "%s = %s\n", s.Name, lines(s, nil))
	}
	for _, s := range keys {
		if sub, ok := s.To.(Section); ok && s.Given() && isSection(s) {
			name := strings.TrimPrefix(path+"."+s.Name, ".")
			fmt.Fprintf(b, "\n[%s]\n", name)
			writeSection(b, name, sub.Open())
		}
		if list, ok := s.To.(List); ok {
			for i := range list.Len() {
				fmt.Fprintf(b, "\n[[%s]]\n", s.Name)
				writeSection(b, s.Name, list.Item(i))
			}
		}
	}
}

// isSection tells whether a key is written under a header of its own.
func isSection(k Key) bool {
	s, ok := k.To.(Section)
	return ok && s.Inline == nil
}

// lines is literal, but a text of several lines is written as such where that
// says the same.
func lines(s Key, old *node) string {
	t, ok := s.To.(*string)
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
