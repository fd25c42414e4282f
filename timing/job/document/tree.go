package document

import (
	"sort"

	"pinphase.org/pinphase/timing/phrase"
)

// kind is what a value of the file is.
type kind int

const (
	aTable kind = iota
	aTableList
	aList
	aString
	aWhole
	aFloat
	aBool
	aDate
)

// Text names the kind as a sentence wants it: "is text".
func (k kind) Text() phrase.Text {
	return [...]phrase.Text{"a section", "a list of sections", "a list", "text", "a whole number",
		"a number with a decimal point", "true or false", "a date or time"}[k]
}

// how is the way a table is written, which decides what may be added to it.
type how int

const (
	byHeader how = iota // [name], also one element of [[name]], and the file itself
	implied             // only mentioned in the header of a table below it
	dotted              // name.key = value
	inline              // name = { ... }
)

// span is a range of bytes of the file, end not included.
type span struct{ start, end int }

// node is a value of the file with the place where it stands.
type node struct {
	kind kind
	path string // as in Fault.Key
	line int    // of the key, header or list item, counted from 1
	expr span   // key and value, "strokes = 4"; of a [header] its line
	val  span   // the value alone
	text string // of a string its content, of a number, date or bool the text as written

	items []*node // of a list, no more than MaxItems+1
	count int     // of a list, how many were written

	how    how
	names  []string // of a table, in the order of the file
	kids   map[string]*node
	at     int    // of a table not written inline, where its next key would go
	prefix string // what stands before a key there: "engine." when dotted
}

func newTable(path string, line int, h how) *node {
	return &node{kind: aTable, path: path, line: line, how: h, kids: map[string]*node{}}
}

func (n *node) add(name string, kid *node) {
	n.names = append(n.names, name)
	n.kids[name] = kid
}

// text is the file's bytes with the lines found.
type text struct {
	data  []byte
	lines []int // where each starts
}

func newText(data []byte) text {
	t := text{data, []int{0}}
	for i, c := range data {
		if c == '\n' {
			t.lines = append(t.lines, i+1)
		}
	}
	return t
}

// line returns the number of the line the byte at offset stands in.
func (t text) line(offset int) int {
	return sort.SearchInts(t.lines, offset+1)
}

// lineStart returns where the line of the byte at offset begins.
func (t text) lineStart(offset int) int { return t.lines[t.line(offset)-1] }

// nextLine returns where the line after that of offset begins, or the end of
// the file.
func (t text) nextLine(offset int) int {
	if n := t.line(offset); n < len(t.lines) {
		return t.lines[n]
	}
	return len(t.data)
}
