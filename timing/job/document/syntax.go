package document

import (
	"bytes"
	"errors"
	"regexp"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// maxSyntaxFaults ends the reading of a file that is no TOML at all; maxRetry
// bounds the bytes read again after faults.
const (
	maxSyntaxFaults = 100
	maxRetry        = 16 << 20
)

// A line that begins a new key or section, as far as a look at it alone can say.
// A header begins with a letter, so that a list in a list is none.
var (
	keyLine    = regexp.MustCompile(`^[ \t]*((?:[A-Za-z_][A-Za-z0-9_-]*|"[^"\n]*"|'[^'\n]*')(?:[ \t]*\.[ \t]*(?:[A-Za-z_][A-Za-z0-9_-]*|"[^"\n]*"|'[^'\n]*'))*)[ \t]*=`)
	headerLine = regexp.MustCompile(`^[ \t]*\[\[?[ \t]*([A-Za-z_][A-Za-z0-9_. \t-]*)\]?\]?[ \t]*(?:#.*)?\r?\n?$`)
	firstWord  = regexp.MustCompile(`^[ \t]*([A-Za-z_][A-Za-z0-9_-]*(?:\.[A-Za-z_][A-Za-z0-9_-]*)*)`)
)

// build reads the whole file into a tree. After an expression that is no TOML it
// goes on with the next line that looks like the start of one.
func build(t text, l layout) (*builder, hiding) {
	b := newBuilder(t, l)
	from := 0
	if bytes.HasPrefix(t.data, bom) {
		from = len(bom)
	}
	hid := hiding{keys: map[string]bool{}, sections: map[string]bool{}}
	var p unstable.Parser
	again := 0
	for faults := 0; ; faults++ {
		b.base = from
		p.Reset(b.data[from:])
		end := from // of the last expression that was in order
		for p.NextExpression() {
			if e := p.Expression(); e.Kind == unstable.KeyValue {
				end = b.keyValue(e)
			} else {
				end = b.header(e)
			}
		}
		if p.Error() == nil {
			return b, hid
		}
		at := errorOffset(p.Error(), b.data[from:]) + from
		start := b.firstExpression(end, at)
		if faults == maxSyntaxFaults || again > maxRetry {
			b.faults.add(b.line(start), "", "too much of this file is not TOML; it is not read beyond this line")
			hid.all = true
			return b, hid
		}
		next := b.resume(start, at)
		b.syntaxFault(p.Error(), start, at, next, &hid)
		again += at - start
		from = next
	}
}

// errorOffset returns where in data the parser gave up.
func errorOffset(err error, data []byte) int {
	var pe *unstable.ParserError
	if errors.As(err, &pe) && pe.Highlight != nil {
		// A slice of data ends where data's own capacity ends.
		if at := cap(data) - cap(pe.Highlight); at >= 0 && at <= len(data) {
			return at
		}
	}
	return len(data)
}

// firstExpression returns the start of the first line at or after end that is
// neither blank nor a comment, but none after the one of the fault at.
func (b *builder) firstExpression(end, at int) int {
	at = min(at, max(len(b.data)-1, 0))
	for i := end; i < at; i = b.nextLine(i) {
		line := bytes.TrimLeft(b.data[i:b.nextLine(i)], " \t\r\n")
		if len(line) > 0 && line[0] != '#' {
			return i
		}
	}
	return b.lineStart(at)
}

// resume returns where to go on after the expression that begins at start and
// failed at at.
func (b *builder) resume(start, at int) int {
	next := b.nextLine(start)
	first := b.data[start:next]
	// One line that opens nothing cannot have swallowed the next. Else only a
	// key or section of the schema is taken for one, for any other could be part of a
	// long text or list.
	whole := at <= next && !opens(first)
	for i := next; i < len(b.data); i = b.nextLine(i) {
		line := look(b.data[i:b.nextLine(i)])
		if whole && len(bytes.TrimLeft(line, " \t\r\n")) > 0 {
			return i
		}
		name := ""
		if m := keyLine.FindSubmatch(line); m != nil {
			name = string(m[1])
		} else if m := headerLine.FindSubmatch(line); m != nil {
			name = strings.TrimSpace(string(m[1]))
		}
		if b.isKnown(name) {
			return i
		}
	}
	return len(b.data)
}

// isKnown tells whether a dotted name is that of a section, or its last part a
// key of any section.
func (b *builder) isKnown(name string) bool {
	return b.known[name] || b.known[name[strings.LastIndex(name, ".")+1:]]
}

// look returns as much of a line as a key or header takes.
func look(line []byte) []byte { return line[:min(len(line), 300)] }

// opens tells whether a line seems to leave a list, table or long text open.
func opens(line []byte) bool {
	count := func(s string) int { return bytes.Count(line, []byte(s)) }
	return count(`"""`)%2 == 1 || count(`'''`)%2 == 1 || count("[") > count("]") || count("{") > count("}")
}

// syntaxFault tells of the expression between start and next, and notes what it
// may have hidden.
func (b *builder) syntaxFault(err error, start, at, next int, hid *hiding) {
	first := look(b.data[start:b.nextLine(start)])
	section := ""
	if b.cur != nil {
		section = b.cur.path
	}
	key := ""
	header := bytes.HasPrefix(bytes.TrimLeft(first, " \t"), []byte("["))
	if header {
		name := ""
		if m := firstWord.FindSubmatch(bytes.TrimLeft(first, " \t[")); m != nil {
			name = string(m[1])
		}
		b.cur, b.muted = nil, false
		if b.known[name] {
			key = name
			b.enter(name, b.line(start))
			if b.cur == nil {
				hid.sections[name] = true
			}
		} else {
			hid.all = true
		}
	} else if m := firstWord.FindSubmatch(first); m != nil {
		if b.cur != nil {
			key = section
			for part := range strings.SplitSeq(string(m[1]), ".") {
				key = join(key, part)
			}
			hid.keys[key] = true
		}
	} else {
		hid.sections[section] = true
	}
	for i := b.nextLine(start); i < next; i = b.nextLine(i) {
		if len(bytes.TrimSpace(b.data[i:b.nextLine(i)])) > 0 {
			hid.all = true // a key of any section may have been passed over
		}
	}
	b.faults.put(b.line(min(at, max(len(b.data)-1, 0))), key, b.explain(err, start, at))
}

// enter makes the named section the current one although its header is damaged.
func (b *builder) enter(name string, line int) {
	t := b.root
	for part := range strings.SplitSeq(name, ".") {
		kid := t.kids[part]
		if kid == nil {
			kid = newTable(join(t.path, part), line, byHeader)
			if t == b.root && b.layout.isList(part) {
				return // which item it would be is not known
			}
			t.add(part, kid)
		}
		if kid.kind != aTable || kid.how == inline {
			return
		}
		t = kid
	}
	b.cur, b.muted = t, true
}
