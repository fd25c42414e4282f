package document

import (
	"math"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// decoder fills the keys from a tree. It refuses unknown keys and values of the
// wrong type; it does not ask whether a value makes sense.
type decoder struct {
	*Report
	layout layout
}

// table fills the keys of one section.
func (d *decoder) table(n *node, keys []Key) {
	for _, name := range n.names {
		kid := n.kids[name]
		if s, ok := find(keys, name); ok {
			d.lines[kid.path] = kid.line
			d.value(kid, s.To)
		} else {
			d.unknown(n, name, kid, keys)
		}
	}
}

func find(keys []Key, name string) (Key, bool) {
	for _, s := range keys {
		if s.Name == name {
			return s, true
		}
	}
	return Key{}, false
}

// unknown tells of a key the section does not have. A key that seems to stand
// for another hides that one, so that it is not called missing as well.
func (d *decoder) unknown(n *node, name string, kid *node, keys []Key) {
	if d.faults.count > maxFaults { // not to be listed any more
		d.faults.add(0, "", "")
		return
	}
	section := kid.kind == aTable || kid.kind == aTableList
	as := func(key, sectionSays phrase.Text) phrase.Text {
		if section {
			return sectionSays
		}
		return key
	}
	if near := nearest(name, keys); near != "" && n.kids[near] == nil {
		d.bad[join(n.path, near)] = true
		d.faults.add(kid.line, kid.path, as("unknown key; is %s meant?", "unknown section; is %s meant?"), near)
		return
	}
	if homes := d.layout.owners(name); len(homes) > 0 {
		d.faults.add(kid.line, kid.path, as("unknown key here; it belongs to %s", "unknown section here; it belongs to %s"), strings.Join(homes, " or "))
		return
	}
	var names []string
	for _, s := range keys {
		names = append(names, s.Name)
	}
	d.faults.add(kid.line, kid.path, as("unknown key; known here: %s", "unknown section; known here: %s"), strings.Join(names, ", "))
}

// refuse notes that a key could not be used.
func (d *decoder) refuse(n *node, key string, format phrase.Text, args ...any) {
	d.bad[key] = true
	for i, a := range args {
		if n, ok := a.(*node); ok {
			args[i] = n.says()
		}
	}
	d.faults.add(n.line, key, format, args...)
}

// value puts the value of a node where to points.
func (d *decoder) value(n *node, to any) {
	switch to := to.(type) {
	case *string:
		if n.kind != aString {
			d.refuse(n, n.path, "is %s; text in quotation marks is required", n.kind.Text())
			return
		}
		*to = n.text
	case *int:
		*to, _ = d.whole(n, n.path)
	case Version:
		v, ok := d.whole(n, n.path)
		if says, wrong := to.Refuses(v); ok && wrong {
			d.refuse(n, n.path, says.Text, says.Args...)
			return
		}
		*to.N = v
	case *Number:
		if v, ok := d.number(n, n.path); ok {
			*to = Number{v, true}
		}
	case Repeated:
		d.repeated(n, to)
	case *[]int:
		*to = list(d, n, d.whole)
	case *[]float64:
		*to = list(d, n, d.number)
	case *[]Point:
		*to = d.points(n)
	case *any:
		*to = d.seen(n)
	case List:
		d.sections(n, to)
	case Section:
		switch n.kind {
		case aTable:
			d.table(n, to.Open())
		case aTableList:
			d.refuse(n, n.path, "there is one such section only: write [%s] with single brackets", n.path)
		default:
			if to.Inline != nil {
				d.Refuse(n.path, to.Inline(n.says()))
				return
			}
			d.refuse(n, n.path, "is %s; a section is required: [%s], and its keys on the lines below", n, n.path)
		}
	default:
		panic("document: key of unknown kind")
	}
}

// whole returns a whole number. Faults are told under key, which of a list item
// is that of the list.
func (d *decoder) whole(n *node, key string) (int, bool) {
	if n.kind != aWhole {
		if d.refusedText(n, key, "a whole number") {
			return 0, false
		}
		if v, err := strconv.ParseFloat(n.text, 64); n.kind == aFloat && err == nil && v == math.Trunc(v) && math.Abs(v) < 1e9 {
			d.refuse(n, key, "is %s; a whole number is required: write %.0f", n.text, v)
		} else {
			d.refuse(n, key, "is %s; a whole number is required", n)
		}
		return 0, false
	}
	// Base 0 reads what TOML allows: 0x, 0o, 0b and underscores. TOML has no
	// other leading zeros, so none is taken for octal.
	v, err := strconv.ParseInt(n.text, 0, 32)
	if err != nil {
		d.refuse(n, key, "%s is too large", Short(n.text))
		return 0, false
	}
	return int(v), true
}

// number returns a finite number; a whole one serves too.
func (d *decoder) number(n *node, key string) (float64, bool) {
	switch n.kind {
	case aWhole:
		v, err := strconv.ParseInt(n.text, 0, 64)
		if err != nil {
			d.refuse(n, key, "%s is too large", Short(n.text))
			return 0, false
		}
		return float64(v), true
	case aFloat:
		v, err := strconv.ParseFloat(strings.ReplaceAll(n.text, "_", ""), 64)
		switch {
		case strings.HasSuffix(n.text, "nan") || strings.HasSuffix(n.text, "inf"):
			d.refuse(n, key, "is %s; a number is required", n.text)
		case err != nil:
			d.refuse(n, key, "%s is too large", Short(n.text))
		default:
			return v, true
		}
		return 0, false
	}
	if !d.refusedText(n, key, "a number") {
		d.refuse(n, key, "is %s; a number is required", n)
	}
	return 0, false
}

// refusedText refuses a text that is a number, or a number with its unit, where one
// is wanted without quotation marks, and tells whether it did.
func (d *decoder) refusedText(n *node, key string, wanted phrase.Text) bool {
	if n.kind != aString {
		return false
	}
	if number, ok := quantity.WithoutUnit(n.text); ok {
		d.refuse(n, key, "is the text %q; %s", Short(n.text), leaveUnitOut(Short(number)))
		return true
	}
	if _, err := strconv.ParseFloat(n.text, 64); err == nil && len(n.text) < 40 {
		d.refuse(n, key, "is the text %q; %s is required: write it without quotation marks", n.text, wanted)
		return true
	}
	return false
}

// repeated reads one number or a list of at least one.
func (d *decoder) repeated(n *node, to Repeated) {
	if n.kind != aList {
		if v, ok := d.number(n, n.path); ok {
			*to.First = Number{v, true}
		}
		return
	}
	if n.count == 0 {
		d.refuse(n, n.path, "is an empty list; give what was read, one number or several, as in [15.46, 15.49]")
		return
	}
	if all := list(d, n, d.number); len(all) > 0 {
		*to.First, *to.Again = Number{all[0], true}, all[1:]
	}
}

// list returns the items of a list, nil when one of them was refused.
func list[T any](d *decoder, n *node, item func(*node, string) (T, bool)) []T {
	if !d.isList(n) {
		return nil
	}
	var values []T
	for _, k := range n.items {
		v, ok := item(k, n.path)
		if !ok {
			return nil
		}
		values = append(values, v)
	}
	return values
}

// isList tells whether the node is a list that is not too long, and tells of it
// when not.
func (d *decoder) isList(n *node) bool {
	if n.kind != aList {
		d.refuse(n, n.path, "is %s; a list in square brackets is required, as in [1, 2]", n)
		return false
	}
	if n.count > MaxItems {
		d.refuse(n, n.path, "lists %d items; at most %d are read", n.count, MaxItems)
		return false
	}
	return true
}

// points returns the points of [x, y] or [[x, y], [x, y]].
func (d *decoder) points(n *node) []Point {
	if !d.isList(n) || len(n.items) == 0 {
		return nil
	}
	pairs := n.items
	if pairs[0].kind != aList {
		pairs = []*node{n}
	}
	var points []Point
	for _, p := range pairs {
		if p.kind != aList || p.count != 2 || len(p.items) != 2 {
			d.refuse(p, n.path, "a point is two numbers, as in [12.5, 40.0], and several are [[12.5, 40.0], [13.0, 41.5]]")
			return nil
		}
		x, okX := d.number(p.items[0], n.path)
		if !okX {
			return nil
		}
		y, okY := d.number(p.items[1], n.path)
		if !okY {
			return nil
		}
		points = append(points, Point{x, y})
	}
	return points
}

// seen returns a number, a text, true or false.
func (d *decoder) seen(n *node) any {
	switch n.kind {
	case aWhole, aFloat:
		if v, ok := d.number(n, n.path); ok {
			return v
		}
	case aString:
		return n.text
	case aBool:
		return n.text == "true"
	default:
		d.refuse(n, n.path, "is %s; a number, text in quotation marks, true or false is required", n)
	}
	return nil
}

// sections fills a list of sections, written as [[name]] or as a list of inline
// tables.
func (d *decoder) sections(n *node, to List) {
	if n.kind == aTable {
		d.refuse(n, n.path, "there may be several: write [[%s]] with double brackets", n.path)
		return
	}
	if n.kind != aTableList && n.kind != aList {
		d.refuse(n, n.path, "is %s; write [[%s]], and its keys on the lines below", n, n.path)
		return
	}
	if n.count > MaxItems {
		d.refuse(n, n.path, "lists %d items; at most %d are read", n.count, MaxItems)
		return
	}
	to.Set(len(n.items))
	for i, item := range n.items {
		d.lines[item.path] = item.line
		if item.kind != aTable {
			d.Refuse(item.path, to.NoItem(item.says()))
			continue
		}
		d.table(item, to.Item(i))
	}
}

// says what a value is, with its text where that helps.
func (n *node) says() phrase.Sentence {
	switch n.kind {
	case aString:
		return phrase.Of("the text %q", Short(n.text))
	case aWhole, aFloat, aBool:
		return phrase.Of("%s", Short(n.text))
	case aDate:
		return phrase.Of("the date or time %s", Short(n.text))
	}
	return phrase.Of("%s", n.kind.Text())
}

// Short cuts a text that goes into a message.
func Short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return s
}
