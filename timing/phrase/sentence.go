package phrase

import (
	"fmt"
	"strings"
)

// Text is something that can be said, in English: the key under which its
// translations are found. Only constants are converted to it.
type Text string

// Sentence is a text with its data. The zero value says nothing.
type Sentence struct {
	Text Text
	Data map[string]any // for the places of the text: "Angle" for {{.Angle}}
	Args []any          // for its verbs, if it is a format of package fmt
}

// What belongs in a sentence: a [Num], an [Operand], a [Value], a quantity.Amount, a
// [Text], a [Sentence], an error, a time, or a number or string shown as it is.

// Of returns a text with what belongs at its verbs. A translation that needs another
// order says so, as in %[2]s.
func Of(format Text, args ...any) Sentence { return Sentence{Text: format, Args: args} }

// Plain is a sentence of words that have no translation: a name, or what another
// program said.
func Plain(words string) Sentence { return Sentence{Text: "%s", Args: []any{words}} }

// String returns the sentence in English, in the units in which values are kept.
func (s Sentence) String() string { return s.Fill(s.Text, func(v any) any { return v }) }

// Fill puts the data into a text, the sentence's own or its translation. Each piece
// goes through show first.
func (s Sentence) Fill(text Text, show func(any) any) string {
	if len(s.Args) > 0 {
		args := make([]any, len(s.Args))
		for i, a := range s.Args {
			args[i] = show(a)
		}
		return fmt.Sprintf(string(text), args...)
	}
	if len(s.Data) == 0 {
		return string(text)
	}
	pairs := make([]string, 0, 2*len(s.Data))
	for name, v := range s.Data {
		pairs = append(pairs, "{{."+name+"}}", fmt.Sprint(show(v)))
	}
	return strings.NewReplacer(pairs...).Replace(string(text))
}
