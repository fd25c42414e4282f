package document

import (
	"slices"

	"pinphase.org/pinphase/timing/phrase"
)

// Number is a number that may be left out. The zero value is "not given".
type Number struct {
	Value float64
	Given bool
}

// Or returns the number, or fallback when it is not given.
func (n Number) Or(fallback float64) float64 {
	if n.Given {
		return n.Value
	}
	return fallback
}

// Point is two numbers, [x, y] in the file.
type Point struct{ X, Y float64 }

// Key is one key of a section and where its value goes: *string, *int, *Number,
// *[]int, *[]float64, *[]Point, *any (a number, text, true or false), [Version],
// [Repeated], [Section] or [List].
type Key struct {
	Name string
	To   any
}

// Version is the number of the file's format.
type Version struct {
	N        *int // 0 stands for left out
	Oldest   int  // that is read, and meant where it is left out
	Youngest int  // that is read
}

// Refuses tells whether a number is that of no format that is read, and says so.
func (v Version) Refuses(n int) (says phrase.Sentence, wrong bool) {
	switch {
	case n >= v.Oldest && n <= v.Youngest:
		return says, false
	case v.Oldest == v.Youngest:
		return phrase.Of("is %d; this program reads format %d", n, v.Oldest), true
	}
	return phrase.Of("is %d; this program reads formats %d to %d", n, v.Oldest, v.Youngest), true
}

// meant returns the format that is meant.
func (v Version) meant() int {
	if *v.N == 0 {
		return v.Oldest
	}
	return *v.N
}

// Repeated is a number that may be read several times: one number in the file,
// or a list of them.
type Repeated struct {
	First *Number
	Again *[]float64 // the others; what it holds counts only beside a first
}

// All returns every reading, none when not given.
func (r Repeated) All() []float64 {
	if !r.First.Given {
		return nil
	}
	return append([]float64{r.First.Value}, *r.Again...)
}

// Section is a table of the file. One that may be left out comes into being when
// it is opened.
type Section struct {
	Has  func() bool
	Open func() []Key
	// Inline is there for a section that is written as { key = value } and not under
	// a header. It says what to say where something else stands.
	Inline func(found phrase.Sentence) phrase.Sentence
}

// List is a list of sections, each under [[name]].
type List struct {
	Len  func() int
	Set  func(n int) // makes it n items, all empty
	Item func(i int) []Key
	// NoItem says what to say where an item is no section but what was found.
	NoItem func(found phrase.Sentence) phrase.Sentence
}

// Given tells whether the key holds anything worth writing.
func (k Key) Given() bool {
	switch v := k.To.(type) {
	case *string:
		return *v != ""
	case *int:
		return *v != 0
	case Version:
		return true
	case *Number:
		return v.Given
	case Repeated:
		return v.First.Given
	case *[]int:
		return len(*v) > 0
	case *[]float64:
		return len(*v) > 0
	case *[]Point:
		return len(*v) > 0
	case *any:
		return *v != nil
	case List:
		return v.Len() > 0
	case Section:
		return v.Has()
	}
	panic("document: key of unknown kind")
}

// Equal tells whether two lists of the same keys say the same. An empty list is
// the same as none, and the value of a number that is not given does not count.
func Equal(a, b []Key) bool {
	for i := range a {
		if !a[i].equal(b[i]) {
			return false
		}
	}
	return true
}

// equal compares two keys of the same name and kind.
func (k Key) equal(o Key) bool {
	switch a := k.To.(type) {
	case *string:
		return *a == *o.To.(*string)
	case *int:
		return *a == *o.To.(*int)
	case Version:
		return a.meant() == o.To.(Version).meant()
	case *Number:
		b := o.To.(*Number)
		return a.Given == b.Given && (!a.Given || sameFloat(a.Value, b.Value))
	case Repeated:
		return slices.EqualFunc(a.All(), o.To.(Repeated).All(), sameFloat)
	case *[]int:
		return slices.Equal(*a, *o.To.(*[]int))
	case *[]float64:
		return slices.EqualFunc(*a, *o.To.(*[]float64), sameFloat)
	case *[]Point:
		return slices.EqualFunc(*a, *o.To.(*[]Point), func(p, q Point) bool {
			return sameFloat(p.X, q.X) && sameFloat(p.Y, q.Y)
		})
	case *any:
		return sameSeen(*a, *o.To.(*any))
	case List:
		b := o.To.(List)
		if a.Len() != b.Len() {
			return false
		}
		for i := range a.Len() {
			if !Equal(a.Item(i), b.Item(i)) {
				return false
			}
		}
		return true
	case Section:
		b := o.To.(Section)
		if !a.Has() || !b.Has() {
			return a.Has() == b.Has()
		}
		return Equal(a.Open(), b.Open())
	}
	panic("document: key of unknown kind")
}

// sameFloat is ==, but NaN is the same as NaN: a value is always equal to itself.
func sameFloat(a, b float64) bool { return a == b || a != a && b != b }

// sameSeen compares two values of any kind. Values of a kind that no file can
// hold are never the same as anything.
func sameSeen(a, b any) bool {
	switch x := a.(type) {
	case nil:
		return b == nil
	case float64:
		y, ok := b.(float64)
		return ok && sameFloat(x, y)
	case string:
		y, ok := b.(string)
		return ok && x == y
	case bool:
		y, ok := b.(bool)
		return ok && x == y
	}
	return false
}
