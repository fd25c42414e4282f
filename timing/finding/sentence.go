package finding

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Sentence is something to say. Text is English with places such as {{.Angle}}
// for the data; the same text is the key under which a translation is found.
type Sentence struct {
	Text string
	Data map[string]any // a Num, an Operand, a Term, a quantity.Amount, a Sentence, an int or a string
}

// Num is a number in a sentence, shown with at most so many decimals.
type Num struct {
	Value    float64
	Decimals int
}

// String writes the number with a real minus sign and without trailing zeros.
func (n Num) String() string {
	s := strconv.FormatFloat(math.Abs(n.Value), 'f', n.Decimals, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if n.Value < 0 && s != "0" {
		s = "−" + s
	}
	return s
}

// Operand is a number behind the sign of a sum, in brackets when it is negative:
// "10 + (−28)".
type Operand Num

// String writes the number as [Num] does.
func (o Operand) String() string {
	s := Num(o).String()
	if strings.HasPrefix(s, "−") {
		return "(" + s + ")"
	}
	return s
}

// Term is a word in a sentence that has a translation of its own.
type Term string

// String returns the sentence in English.
func (s Sentence) String() string { return s.Fill(s.Text, func(v any) string { return fmt.Sprint(v) }) }

// Fill puts the data into a text (the sentence's own or its translation), each
// value written by show.
func (s Sentence) Fill(text string, show func(any) string) string {
	pairs := make([]string, 0, 2*len(s.Data))
	for name, v := range s.Data {
		pairs = append(pairs, "{{."+name+"}}", show(v))
	}
	return strings.NewReplacer(pairs...).Replace(text)
}
