package document

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// literal writes the value of a key as TOML. old is how the file had it, nil
// for a new value: a number the file wrote as a whole one stays whole if it can.
func literal(s Key, old *node) string {
	switch v := s.To.(type) {
	case *string:
		return quoted(*v)
	case *int:
		return strconv.Itoa(*v)
	case Version:
		return strconv.Itoa(v.meant())
	case *Number:
		return float(v.Value, old != nil && old.kind == aWhole)
	case Repeated:
		if all := v.All(); len(all) > 1 {
			return bracketed(all, func(f float64) string { return float(f, false) })
		}
		return float(v.First.Value, old != nil && old.kind == aWhole)
	case *[]int:
		return bracketed(*v, strconv.Itoa)
	case *[]float64:
		// Teeth and intervals are mostly whole and easier to read as such.
		whole := true
		for _, f := range *v {
			whole = whole && f == math.Trunc(f)
		}
		return bracketed(*v, func(f float64) string { return float(f, whole) })
	case *[]Point:
		if len(*v) == 1 {
			return point((*v)[0])
		}
		return bracketed(*v, point)
	case *any:
		return seenLiteral(*v, old)
	case List:
		items := make([]string, v.Len())
		for i := range items {
			items[i] = inlineTable(v.Item(i), nil)
		}
		return "[" + strings.Join(items, ", ") + "]"
	case Section:
		return inlineTable(v.Open(), old)
	}
	panic("document: key of unknown kind")
}

func seenLiteral(v any, old *node) string {
	switch v := v.(type) {
	case float64:
		return float(v, old != nil && old.kind == aWhole)
	case string:
		return quoted(v)
	case bool:
		return strconv.FormatBool(v)
	}
	return quoted(fmt.Sprint(v)) // of a kind no file can hold; written so that it can be seen
}

// inlineTable writes the given keys as { key = value, ... }.
func inlineTable(keys []Key, old *node) string {
	var parts []string
	for _, s := range keys {
		if s.Given() {
			var was *node
			if old != nil {
				was = old.kids[s.Name]
			}
			parts = append(parts, s.Name+" = "+literal(s, was))
		}
	}
	if len(parts) == 0 {
		return "{}"
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

func bracketed[T any](list []T, write func(T) string) string {
	parts := make([]string, len(list))
	for i, v := range list {
		parts[i] = write(v)
	}
	return "[" + strings.Join(parts, ", ") + "]"
}

func point(p Point) string {
	return "[" + float(p.X, false) + ", " + float(p.Y, false) + "]"
}

// float writes the shortest text that reads back as v, with a decimal point
// unless whole is asked for and possible.
func float(v float64, whole bool) string {
	switch {
	case math.IsNaN(v):
		return "nan"
	case math.IsInf(v, 1):
		return "inf"
	case math.IsInf(v, -1):
		return "-inf"
	}
	format := byte('f')
	if a := math.Abs(v); a != 0 && (a < 1e-6 || a >= 1e15) {
		format, whole = 'e', false
	}
	s := strconv.FormatFloat(v, format, -1, 64)
	if !strings.Contains(s, ".") && !whole {
		mantissa, exponent, isE := strings.Cut(s, "e")
		s = mantissa + ".0"
		if isE {
			s += "e" + exponent
		}
	}
	return s
}

// quoted writes text in quotation marks on one line.
func quoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range strings.ToValidUTF8(s, "\ufffd") {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\r':
			b.WriteString(`\r`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
