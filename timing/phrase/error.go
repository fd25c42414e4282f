package phrase

import "errors"

// Error is an error that can be told in the reader's language.
type Error struct {
	Sentence
	wrapped []error
}

// Errorf is fmt.Errorf with an [Error]: an argument that is an error is wrapped,
// whatever the verb. Write %v for it.
func Errorf(format Text, args ...any) error {
	e := &Error{Sentence: Of(format, args...)}
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

// From returns what an error says: its own sentence, else that of the first error it
// wraps that has one, else its words as they are.
func From(err error) Sentence {
	var e *Error
	if errors.As(err, &e) {
		return e.Sentence
	}
	return Plain(err.Error())
}
