// Package phrase is everything that is said to people: constants of one type,
// [Text], and what is filled into them.
//
// A Text is English and the key of its translations. What is shown on the screen,
// on paper and in the errors that a user sees is of that type: a literal becomes
// one by itself, and the compiler refuses a string that was put together or comes
// from elsewhere. A test walks all constants of the type and holds each to every
// translation, so that no text is listed by hand.
//
// A [Sentence] is a text with its data, which are kept apart until somebody reads
// it, for numbers, units and the order of words are not the same in every language.
// A sentence that is made for the reader names its data, as in "{{.Angle}}° late".
// An error that wraps another has the verbs of package fmt, as its callers do.
// A Text among the data is a term: a word with a translation of its own.
package phrase
