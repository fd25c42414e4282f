package document

import (
	"bytes"
	"strings"
)

// Change returns the text with what differs between the old values, which it
// holds, and the new ones. Only that is changed in it: comments, spacing, the
// order of keys, line ends and byte order mark stay. A new key goes to the end of
// its section, a new section to the end of the file, and a key that is no longer
// given goes with its line. A text so laid out that this fails is written anew
// below the comment it begins with.
func (s Schema) Change(data []byte, old, new []Key) []byte {
	if changed, ok := s.patched(data, old, new); ok && s.holds(changed, new) {
		return changed
	}
	return anew(data, new)
}

// holds tells whether a text reads back as the values, sound or not.
func (s Schema) holds(data []byte, values []Key) bool {
	got := s()
	r := s.read(newText(data), got)
	return r.faults.count == 0 && Equal(got, values) && library(data) == nil
}

// lineEnd returns how the lines of a text end, as the first of them does.
func lineEnd(data []byte) string {
	if i := bytes.IndexByte(data, '\n'); i > 0 && data[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// anew writes the values without regard to how the text was laid out, but for the
// comment at its beginning and its line ends.
func anew(data []byte, values []Key) []byte {
	var out bytes.Buffer
	rest, hasBOM := bytes.CutPrefix(data, bom)
	if hasBOM {
		out.Write(bom)
	}
	for line := range bytes.Lines(rest) {
		if !bytes.HasPrefix(bytes.TrimLeft(line, " \t"), []byte("#")) {
			break
		}
		out.Write(bytes.TrimRight(line, "\r\n"))
		out.WriteString(lineEnd(data))
	}
	out.WriteString(strings.ReplaceAll(string(Write(values)), "\n", lineEnd(data)))
	return out.Bytes()
}

// patched changes the text from old to new. It is not ok when a place to patch
// cannot be told.
func (s Schema) patched(data []byte, old, new []Key) (_ []byte, ok bool) {
	t := newText(data)
	b, _ := build(t, s.layout())
	if b.faults.count > 0 {
		return nil, false
	}
	p := &patch{text: t}
	p.table(b.root, old, new)
	if p.lost {
		return nil, false
	}
	p.place(b.root)
	return p.apply()
}

// patch collects the edits that lead from one set of values to another.
type patch struct {
	text
	edits  []edit
	fresh  []addition
	lost   bool // what to patch was not found
	inline bool // inside { ... }, where keys cannot come and go by lines
	whole  bool // so the whole of it must be written again
}

// addition is a key to be added to a table, without line end.
type addition struct {
	to   *node
	text string
}

// table compares the keys of one section, whose node is n.
func (p *patch) table(n *node, old, new []Key) {
	for i, s := range new {
		o, kid := old[i], n.kids[s.Name]
		if o.equal(s) {
			continue
		}
		if _, ok := s.To.(List); ok {
			p.sections(kid, o, s)
			continue
		}
		sub, isTable := s.To.(Section)
		switch {
		case !s.Given():
			p.remove(kid)
		case !o.Given() && isTable:
			p.addSection(n, s)
		case kid == nil && isTable:
			p.lost = true
		case kid == nil:
			p.add(n, s.Name+" = "+lines(s, nil))
		case isTable && kid.how == inline:
			p.inlineTable(kid, o.To.(Section).Open(), s)
		case isTable:
			p.table(kid, o.To.(Section).Open(), sub.Open())
		default:
			p.replace(kid, s)
		}
	}
}

// add notes a key to be added to a table.
func (p *patch) add(n *node, text string) {
	p.whole = p.whole || p.inline
	p.fresh = append(p.fresh, addition{n, text})
}

// addSection adds a section that was not there to table n.
func (p *patch) addSection(n *node, s Key) {
	switch {
	case p.inline || !isSection(s):
		p.add(n, s.Name+" = "+literal(s, nil))
	case n.how == dotted:
		for _, k := range s.To.(Section).Open() {
			if k.Given() {
				p.add(n, s.Name+"."+k.Name+" = "+lines(k, nil))
			}
		}
	default:
		var b strings.Builder
		path := strings.TrimPrefix(n.path+"."+s.Name, ".")
		b.WriteString("\n[" + path + "]\n")
		writeSection(&b, path, s.To.(Section).Open())
		at := len(p.data)
		if n.path != "" && n.how == byHeader {
			at = n.at
		}
		p.edits = append(p.edits, edit{span{at, at}, aSection, b.String()})
	}
}

// inlineTable changes values of { ... } where they stand, and writes it again
// when keys come or go.
func (p *patch) inlineTable(n *node, old []Key, s Key) {
	q := &patch{text: p.text, inline: true}
	q.table(n, old, s.To.(Section).Open())
	if q.lost || q.whole {
		p.edits = append(p.edits, edit{n.val, aValue, literal(s, n)})
		return
	}
	p.edits = append(p.edits, q.edits...)
}

// remove takes a key out with its line, or a section with all its lines.
func (p *patch) remove(n *node) {
	switch {
	case n == nil:
		p.lost = true
	case p.inline:
		p.whole = true
	case n.kind == aTable && n.how != inline:
		p.removeTable(n, false)
	case n.kind == aTableList:
		for _, item := range n.items {
			p.removeTable(item, false)
		}
	default:
		p.edits = append(p.edits, edit{span{p.lineStart(n.expr.start), p.nextLine(n.expr.end)}, aRemoval, ""})
	}
}

// removeTable takes a section out. covered tells that its own lines went with
// those of the section round it.
func (p *patch) removeTable(n *node, covered bool) {
	if n.how == byHeader {
		p.edits = append(p.edits, edit{p.withBlank(span{n.expr.start, n.at}), aRemoval, ""})
		covered = true
	}
	for _, name := range n.names {
		kid := n.kids[name]
		switch {
		case kid.kind == aTable && kid.how != inline:
			p.removeTable(kid, covered)
		case !covered:
			p.remove(kid)
		}
	}
}

// withBlank widens the span of a section to the blank lines before it when there
// are some behind it too, or nothing.
func (p *patch) withBlank(s span) span {
	blank := func(i int) bool { return len(bytes.TrimSpace(p.data[i:p.nextLine(i)])) == 0 }
	if !blank(s.end) {
		return s
	}
	for s.start > 0 {
		before := p.lineStart(s.start - 1)
		if !blank(before) {
			break
		}
		s.start = before
	}
	return s
}
