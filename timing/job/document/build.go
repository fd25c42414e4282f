package document

import (
	"bytes"
	"fmt"
	"strings"
	"unicode"

	"github.com/pelletier/go-toml/v2/unstable"
)

// Bounds of what is read. They are far beyond any engine and keep a hostile or
// damaged file from taking time and memory.
const (
	MaxItems = 10_000 // of one list, photo points the longest
	maxDepth = 8      // of keys and values inside one another
)

// builder turns the expressions of a file into a tree, and notes what TOML
// itself forbids.
type builder struct {
	text
	base   int   // of the slice the parser works on
	root   *node // the file
	cur    *node // the section being filled; nil when it was refused and its keys go nowhere
	muted  bool  // cur was given before: what it repeats is one fault already told
	layout layout
	known  map[string]bool // the names of all sections and keys
	faults faultList
}

func newBuilder(t text, l layout) *builder {
	root := newTable("", 1, byHeader)
	root.at = -1 // no key of its own yet
	return &builder{text: t, root: root, cur: root, layout: l, known: l.names()}
}

// header enters the section a [header] or [[header]] names. end is where its
// line ends.
func (b *builder) header(e *unstable.Node) (end int) {
	names, raws := b.key(e.Key())
	start := b.lineStart(raws[0].start)
	end = b.nextLine(raws[len(raws)-1].end)
	line := b.line(start)
	b.cur, b.muted = nil, false
	t := b.root
	for i, name := range names {
		last := i == len(names)-1
		if i >= maxDepth {
			b.faults.add(line, t.path, "names sections inside one another more than %d deep", maxDepth)
			return end
		}
		path := join(t.path, name)
		kid := t.kids[name]
		switch {
		case kid == nil && last && e.Kind == unstable.ArrayTable:
			kid = &node{kind: aTableList, path: path, line: line, how: byHeader}
			t.add(name, kid)
		case kid == nil:
			kid = newTable(path, line, implied)
			t.add(name, kid)
		case last:
		case kid.kind == aTableList && len(kid.items) > 0:
			kid = kid.items[len(kid.items)-1]
		case kid.kind != aTable || kid.how == inline:
			b.faults.add(line, path, "already has its value on line %d; nothing can be added to it here", kid.line)
			return end
		}
		t = kid
	}
	switch {
	case e.Kind == unstable.ArrayTable && t.kind != aTableList:
		b.faults.add(line, t.path, "is given twice; the first is on line %d, and not as a list of sections", t.line)
		return end
	case e.Kind == unstable.ArrayTable:
		t.count++
		item := newTable(fmt.Sprintf("%s[%d]", t.path, t.count), line, byHeader)
		if t.count <= MaxItems {
			t.items = append(t.items, item)
		}
		t = item
	case t.kind == aTable && t.how == implied:
		t.how, t.line = byHeader, line
	case t.kind == aTableList:
		b.faults.add(line, t.path, "is a list of sections since line %d: write [[%s]] with double brackets", t.line, t.path)
		return end
	default:
		b.faults.add(line, t.path, "section given twice; the first is on line %d. Put all its keys in one place", t.line)
		if t.kind != aTable || t.how == inline {
			return end
		}
		b.cur, b.muted = t, true
		return end
	}
	t.expr = span{start, end}
	t.at = end
	b.cur = t
	return end
}

// keyValue puts key = value, the keys perhaps dotted, into the section, and
// returns where its line ends.
func (b *builder) keyValue(e *unstable.Node) (end int) {
	start := b.base + int(e.Raw.Offset)
	end = b.nextLine(start + int(e.Raw.Length))
	if b.cur != nil {
		b.put(b.cur, e, end, 0)
	}
	return end
}

// put adds a key and its value to table t. next is where the line after it
// begins, or -1 inside an inline table.
func (b *builder) put(t *node, e *unstable.Node, next, depth int) {
	names, raws := b.key(e.Key())
	expr := span{b.base + int(e.Raw.Offset), b.base + int(e.Raw.Offset+e.Raw.Length)}
	line := b.line(expr.start)
	touched := []*node{t}
	for i, name := range names[:len(names)-1] {
		if i >= maxDepth {
			b.faults.add(line, t.path, "names keys inside one another more than %d deep", maxDepth)
			return
		}
		kid := t.kids[name]
		switch {
		case kid == nil:
			kid = newTable(join(t.path, name), line, dotted)
			kid.prefix = string(b.data[expr.start:raws[i+1].start])
			t.add(name, kid)
		case kid.kind != aTable || kid.how != dotted:
			if !b.muted {
				b.faults.add(line, join(t.path, name), "is given twice; the first is on line %d. Put all its keys in one place", kid.line)
			}
			return
		}
		t = kid
		touched = append(touched, t)
	}
	name := names[len(names)-1]
	if old := t.kids[name]; old != nil {
		if !b.muted {
			b.faults.add(line, join(t.path, name), "is given twice; the first is on line %d", old.line)
		}
		return
	}
	v := b.value(e.Value(), join(t.path, name), line, depth)
	v.expr = expr
	v.val = span{b.skipEquals(raws[len(raws)-1].end), expr.end}
	t.add(name, v)
	for _, n := range touched {
		if next >= 0 {
			n.at = next
		}
	}
}

// skipEquals returns where the value of the key that ends at i begins.
func (b *builder) skipEquals(i int) int {
	for i < len(b.data) && strings.IndexByte(" \t=", b.data[i]) >= 0 {
		i++
	}
	return i
}

// value turns a parsed value into a node; line is that of its key. Inside a
// list, where no key says the line, scalars find their own.
func (b *builder) value(e *unstable.Node, path string, line, depth int) *node {
	n := &node{path: path, line: line}
	if raw := e.Raw; raw.Length > 0 && e.Kind != unstable.InlineTable {
		n.val = span{b.base + int(raw.Offset), b.base + int(raw.Offset+raw.Length)}
		n.line = b.line(n.val.start)
	}
	n.text = string(e.Data)
	switch e.Kind {
	case unstable.String:
		n.kind = aString
		if bytes.Contains(b.data[n.val.start:n.val.end], []byte("\r\n")) {
			// TOML leaves the line ends of a long text to the reader: one way for all.
			n.text = strings.ReplaceAll(n.text, "\r\n", "\n")
		}
	case unstable.Integer:
		n.kind = aWhole
	case unstable.Float:
		n.kind = aFloat
	case unstable.Bool:
		n.kind = aBool
	case unstable.Array:
		n.kind = aList
		for it := e.Children(); it.Next(); {
			n.count++
			if n.count > MaxItems || depth >= maxDepth {
				continue
			}
			item := b.value(it.Node(), fmt.Sprintf("%s[%d]", path, n.count), line, depth+1)
			n.items = append(n.items, item)
		}
		if depth > 0 && len(n.items) > 0 {
			n.line = n.items[0].line
		}
	case unstable.InlineTable:
		n.kind, n.how, n.kids = aTable, inline, map[string]*node{}
		if depth >= maxDepth {
			break
		}
		for it := e.Children(); it.Next(); {
			b.put(n, it.Node(), -1, depth+1)
		}
	default:
		n.kind = aDate
	}
	return n
}

// key returns the parts of a dotted key and where each stands. Of one too long to
// be of use it returns the first parts and the last.
func (b *builder) key(it unstable.Iterator) (names []string, raws []span) {
	for it.Next() {
		k := it.Node()
		start := b.base + int(k.Raw.Offset)
		raw := span{start, start + int(k.Raw.Length)}
		if len(names) > maxDepth+1 {
			raws[len(raws)-1] = raw
			continue
		}
		names = append(names, string(k.Data))
		raws = append(raws, raw)
	}
	return names, raws
}

// join returns the path of a key in a table, a name that is no plain word in
// quotation marks and cut to a length that can be shown.
func join(path, name string) string {
	plain := name != ""
	for _, c := range name {
		if c > unicode.MaxASCII || !(c == '_' || c == '-' || unicode.IsLetter(c) || unicode.IsDigit(c)) {
			plain = false
		}
	}
	if runes := []rune(name); len(runes) > 60 {
		name = string(runes[:60]) + "..."
	}
	if !plain {
		name = fmt.Sprintf("%q", name)
	}
	if path == "" {
		return name
	}
	return path + "." + name
}
