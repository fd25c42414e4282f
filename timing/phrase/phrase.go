// Package phrase is messages as data: a format of package fmt with what belongs
// in it, kept apart so that whoever shows the message can put it into the
// reader's language and units. The format is the key of its translations; a
// translation that needs another order says so, as in %[2]s.
package phrase

import (
	"errors"
	"fmt"

	"pinphase.org/pinphase/timing/quantity"
)

// Phrase is a message with its data. The zero value says nothing.
type Phrase struct {
	Format string
	Args   []any // numbers, texts, and the types of this package
}

// Of returns a phrase.
func Of(format string, args ...any) Phrase { return Phrase{format, args} }

// String returns the phrase in English, in the units in which values are kept.
func (p Phrase) String() string {
	if len(p.Args) == 0 {
		return p.Format
	}
	return fmt.Sprintf(p.Format, p.Args...)
}

// Word is a word or a few in a message that have a translation of their own.
type Word string

// Value is a number in a message, shown as exactly as it is known.
type Value struct {
	V    float64
	Unit quantity.Unit // in which it is kept, "" for none
	Bare bool          // the unit stands elsewhere, as in "4 to 5 mm"
}

// MM, and Plain for a value whose unit stands elsewhere, make values.
func MM(v float64) Value { return Value{V: v, Unit: quantity.MM} }

// Plain is described at [MM].
func (v Value) Plain() Value {
	v.Bare = true
	return v
}

// String writes the value with up to ten digits: "12.5 mm", "−3°".
func (v Value) String() string { return v.Written(fmt.Sprintf("%.10g", v.V)) }

// Written puts the unit behind a number.
func (v Value) Written(number string) string {
	switch {
	case v.Bare || v.Unit == "":
		return number
	case v.Unit == "°":
		return number + "°"
	}
	return number + " " + string(v.Unit)
}

// Error is an error that can be told in the reader's language.
type Error struct {
	Phrase
	wrapped []error
}

// Errorf is fmt.Errorf with an [Error]: an argument that is an error is wrapped,
// whatever the verb. Write %v for it.
func Errorf(format string, args ...any) error {
	e := &Error{Phrase: Of(format, args...)}
	for _, a := range args {
		if err, ok := a.(error); ok {
			e.wrapped = append(e.wrapped, err)
		}
	}
	return e
}

// Error implements the error interface.
func (e *Error) Error() string { return e.String() }

// Unwrap returns the errors among the arguments.
func (e *Error) Unwrap() []error { return e.wrapped }

// From returns the phrase of an error: its own, else that of the first error it
// wraps that has one, else its text as it is.
func From(err error) Phrase {
	var e *Error
	if errors.As(err, &e) {
		return e.Phrase
	}
	return Phrase{Format: err.Error()}
}
