package document

import (
	"bytes"
	"errors"
	"slices"
	"strings"
	"unicode/utf8"

	"github.com/pelletier/go-toml/v2"

	"pinphase.org/pinphase/timing/phrase"
)

// Schema returns the keys of an empty file. Every section can be opened.
type Schema func() []Key

var bom = []byte("\ufeff")

// Read fills the keys from a text, UTF-8 with or without byte order mark, lines
// ending either way. It does not judge the values.
func (s Schema) Read(data []byte, to []Key) *Report {
	readable, lines, bad := onlyUTF8(data)
	t := newText(readable)
	r := s.read(t, to)
	if bad >= 0 {
		r.faults.put(t.line(bad), "", notUTF8(lines))
	}
	return r
}

func (s Schema) read(t text, to []Key) *Report {
	b, hidden := build(t, s.layout())
	r := &Report{lines: map[string]int{}, bad: hidden.keys, hidden: hidden, faults: b.faults, text: t.data}
	d := decoder{Report: r, layout: b.layout}
	d.table(b.root, to)
	return r
}

// layout is the keys of every section by its path, "" for the file itself. Items
// of lists go by the name of the list.
type layout map[string][]Key

func (s Schema) layout() layout {
	all := layout{}
	var walk func(path string, keys []Key)
	walk = func(path string, keys []Key) {
		all[path] = keys
		for _, k := range keys {
			name := strings.TrimPrefix(path+"."+k.Name, ".")
			switch to := k.To.(type) {
			case Section:
				walk(name, to.Open())
			case List:
				to.Set(1)
				walk(name, to.Item(0))
			}
		}
	}
	walk("", s())
	return all
}

// isList tells whether the file has a list of sections of that name.
func (l layout) isList(name string) bool {
	k, _ := find(l[""], name)
	_, ok := k.To.(List)
	return ok
}

// names returns the names of all sections, dotted, and of all keys.
func (l layout) names() map[string]bool {
	known := map[string]bool{}
	for path, keys := range l {
		known[path] = true
		for _, k := range keys {
			known[k.Name] = true
		}
	}
	delete(known, "")
	return known
}

// owners returns the sections that have a key of this name, in order.
func (l layout) owners(name string) []string {
	var list []string
	for path, keys := range l {
		if _, ok := find(keys, name); ok && path != "" {
			list = append(list, "["+path+"]")
		}
	}
	slices.Sort(list)
	return list
}

// library returns what the TOML library has against the whole text, which may be
// more than was looked for here.
func library(data []byte) Faults {
	var all map[string]any
	err := toml.Unmarshal(bytes.TrimPrefix(data, bom), &all)
	if err == nil {
		return nil
	}
	f := Fault{Line: 1}
	says := err.Error()
	var de *toml.DecodeError
	if errors.As(err, &de) {
		f.Line, _ = de.Position()
		for _, part := range de.Key() {
			f.Key = join(f.Key, part)
		}
		says = de.Error()
	}
	f.Says = phrase.Of("is not TOML: %s", says)
	f.Message = f.Says.String()
	return Faults{f}
}

// onlyUTF8 returns the text with every byte that is no UTF-8 replaced by '?', on
// how many lines there are such, and the offset of the first, -1 for none.
func onlyUTF8(data []byte) (text []byte, lines, first int) {
	if utf8.Valid(data) {
		return data, 0, -1
	}
	text, first = bytes.Clone(data), -1
	counted := false
	for i := 0; i < len(text); {
		r, size := utf8.DecodeRune(text[i:])
		switch {
		case r == utf8.RuneError && size <= 1:
			if first < 0 {
				first = i
			}
			if !counted {
				lines, counted = lines+1, true
			}
			text[i] = '?'
		case r == '\n':
			counted = false
		}
		i += size
	}
	return text, lines, first
}

func notUTF8(lines int) phrase.Sentence {
	if lines > 1 {
		return phrase.Of("this line and %d more are not UTF-8 text; save the file as UTF-8", lines-1)
	}
	return phrase.Of("this line is not UTF-8 text; save the file as UTF-8")
}

// firstSection is the name of the first section, for an example.
func (l layout) firstSection() string {
	for _, k := range l[""] {
		if _, ok := k.To.(Section); ok {
			return k.Name
		}
	}
	return "section"
}

// firstKey is the name of the first key that takes a whole number, for an example.
func (l layout) firstKey() string {
	for _, k := range l[""] {
		switch k.To.(type) {
		case *int, Version:
			return k.Name
		}
	}
	return "key"
}
