package document

import (
	"bytes"
	"strings"
)

// replace writes the value of a slot over that of its node.
func (p *patch) replace(n *node, s Key) {
	switch v := s.To.(type) {
	case Repeated:
		if all := v.All(); n.kind == aList && len(all) > 1 && len(n.items) > 0 {
			p.items(n.items, all)
			return
		}
	case *[]int:
		if n.kind == aList && len(*v) > 0 && len(n.items) > 0 {
			list := make([]float64, len(*v))
			for i, k := range *v {
				list[i] = float64(k)
			}
			p.items(n.items, list)
			return
		}
	case *[]float64:
		if n.kind == aList && len(*v) > 0 && len(n.items) > 0 {
			p.items(n.items, *v)
			return
		}
	}
	p.edits = append(p.edits, edit{n.val, aValue, lines(s, n)})
}

// items changes a list of numbers so that what stands between those that stay,
// comments too, stays as well. Items are matched from both ends.
func (p *patch) items(old []*node, new []float64) {
	same := func(i, k int) bool {
		d := decoder{Report: NewReport()}
		was, _ := d.number(old[i], "")
		return was == new[k]
	}
	a, b, c := differ(len(old), len(new), same)
	for ; a < b && a < c; a++ {
		p.edits = append(p.edits, edit{old[a].val, aValue, float(new[a], old[a].kind == aWhole)})
	}
	switch {
	case a == b:
	case b < len(old): // with the commas behind them
		p.edits = append(p.edits, edit{span{old[a].val.start, old[b].val.start}, aValue, ""})
	default:
		p.edits = append(p.edits, edit{p.tail(old[a-1], old[a], old[b-1]), aValue, ""})
	}
	for k := a; k < c; k++ {
		v := float(new[k], old[0].kind == aWhole)
		if a == 0 {
			p.edits = append(p.edits, edit{span{old[0].val.start, old[0].val.start}, aValue, v + ", "})
		} else {
			at := old[a-1].val.end
			p.edits = append(p.edits, edit{span{at, at}, aValue, ", " + v})
		}
	}
}

// differ returns what two lists differ in: old from a to b has become new from a to c.
// Items that are the same stay, counted from both ends.
func differ(old, new int, same func(old, new int) bool) (a, b, c int) {
	b, c = old, new
	for a < b && a < c && same(a, a) {
		a++
	}
	for b > a && c > a && same(b-1, c-1) {
		b--
		c--
	}
	return a, b, c
}

// tail is what to take out of a list for it to end with item last instead of with
// gone to end: the comma before them, or, with a comment there, one behind.
func (p *patch) tail(last, gone, end *node) span {
	s := span{last.val.end, end.val.end}
	if !bytes.Contains(p.data[s.start:gone.val.start], []byte("#")) {
		return s
	}
	s.start = gone.val.start
	for i := s.end; i < len(p.data) && strings.IndexByte(" \t\r\n,", p.data[i]) >= 0; i++ {
		if p.data[i] == ',' {
			s.end = i + 1
			break
		}
	}
	return s
}

// sections matches the items from both ends; what is left in the middle is
// changed item by item, the rest removed or added.
func (p *patch) sections(n *node, old, new Key) {
	was, is := old.To.(List), new.To.(List)
	switch {
	case n != nil && n.kind == aList && is.Len() > 0:
		p.edits = append(p.edits, edit{n.val, aValue, literal(new, nil)})
		return
	case n != nil && n.kind == aList:
		p.remove(n)
		return
	case n != nil && len(n.items) != was.Len():
		p.lost = true
		return
	}
	same := func(i, k int) bool { return Equal(was.Item(i), is.Item(k)) }
	a, b, c := differ(was.Len(), is.Len(), same)
	for ; a < b && a < c; a++ {
		p.table(n.items[a], was.Item(a), is.Item(a))
	}
	for i := a; i < b; i++ {
		p.removeTable(n.items[i], false)
	}
	at, before, after := len(p.data), "\n", ""
	switch {
	case n == nil:
	case a > 0:
		at = n.items[a-1].at
	case len(n.items) > 0:
		at, before, after = n.items[0].expr.start, "", "\n"
	}
	for i := a; i < c; i++ {
		var text strings.Builder
		text.WriteString(before + "[[" + new.Name + "]]\n")
		writeSection(&text, new.Name, is.Item(i))
		p.edits = append(p.edits, edit{span{at, at}, aSection, text.String() + after})
	}
}
