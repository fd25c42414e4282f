package document

import (
	"bytes"
	"slices"
	"strings"
)

// edit replaces a span of the text. At one place values and keys come before
// sections, and what is removed there after both.
type edit struct {
	span
	what editKind
	text string // lines end in "\n", whatever the file's do
}

type editKind int

const (
	aValue   editKind = iota // in the middle of a line
	aKey                     // whole lines
	aSection                 // whole lines
	aRemoval                 // whole lines
)

// place turns the keys to be added into edits, those of one section together.
func (p *patch) place(root *node) {
	var done []*node
	for _, a := range p.fresh {
		if slices.Contains(done, a.to) {
			continue
		}
		done = append(done, a.to)
		var b strings.Builder
		for _, k := range p.fresh {
			if k.to == a.to {
				b.WriteString(a.to.prefix + k.text + "\n")
			}
		}
		at, what := a.to.at, aKey
		switch {
		case a.to == root && root.at < 0:
			at = p.firstHeader()
			b.WriteString("\n")
		case a.to.how == implied: // has no header of its own yet
			at, what = len(p.data), aSection
			p.edits = append(p.edits, edit{span{at, at}, what, "\n[" + a.to.path + "]\n"})
		}
		p.edits = append(p.edits, edit{span{at, at}, what, b.String()})
	}
}

// firstHeader returns where the first section begins, with the comment that
// stands directly above it unless that is the first thing in the file.
func (p *patch) firstHeader() int {
	at := 0
	if bytes.HasPrefix(p.data, bom) {
		at = len(bom)
	}
	comment := -1
	for i := at; i < len(p.data); i = p.nextLine(i) {
		line := bytes.TrimSpace(p.data[i:p.nextLine(i)])
		switch {
		case len(line) == 0:
			comment = -1
		case line[0] != '#' && comment > at:
			return comment
		case line[0] != '#':
			return i
		case comment < 0:
			comment = i
		}
	}
	return len(p.data)
}

// apply makes the edits. It is not ok when two of them overlap.
func (p *patch) apply() (_ []byte, ok bool) {
	slices.SortStableFunc(p.edits, func(a, b edit) int {
		if a.start != b.start {
			return a.start - b.start
		}
		return int(a.what - b.what)
	})
	eol := lineEnd(p.data)
	var out bytes.Buffer
	done := 0
	for _, e := range p.edits {
		if e.start < done {
			return nil, false
		}
		out.Write(p.data[done:e.start])
		if w := out.Bytes(); e.what != aValue && e.text != "" && len(bytes.TrimPrefix(w, bom)) > 0 && w[len(w)-1] != '\n' {
			out.WriteString(eol)
		}
		out.WriteString(strings.ReplaceAll(e.text, "\n", eol))
		done = e.end
	}
	out.Write(p.data[done:])
	return out.Bytes(), true
}
