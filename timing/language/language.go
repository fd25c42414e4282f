// Package language puts what the program has to say into the reader's language
// and units: sentences, words, numbers, amounts, dates.
//
// The English text is the key under which a translation is found; a text
// without a translation stays English. Numbers are written with the language's
// decimal sign and never with a sign between thousands, so that none can be
// taken for the other.
package language

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// Codes are the languages there are, English first.
var Codes = []string{"en", "es", "de"}

// Names are the languages in their own words.
var Names = map[string]string{"en": "English", "es": "Español", "de": "Deutsch"}

// Voice speaks one language in one choice of units. It never changes.
type Voice struct {
	code  string
	units quantity.Units
	texts map[phrase.Text]phrase.Text
}

// New returns a voice. A code that is none of [Codes] is English.
func New(code string, units quantity.Units) *Voice {
	v := &Voice{code: "en", units: units}
	if slices.Contains(Codes[1:], code) {
		v.code, v.texts = code, dictionaries()[code]
	}
	return v
}

// Nearest returns the code that a locale name such as "de_AT.UTF-8" or "es-MX"
// asks for, "" where it is none of ours.
func Nearest(locale string) string {
	code, _, _ := strings.Cut(strings.ToLower(strings.ReplaceAll(locale, "-", "_")), "_")
	code, _, _ = strings.Cut(code, ".")
	if _, ok := Names[code]; ok {
		return code
	}
	return ""
}

// dictionaries are the texts of every language but English, by code.
var dictionaries = sync.OnceValue(func() map[string]map[phrase.Text]phrase.Text {
	all := map[string]map[phrase.Text]phrase.Text{}
	for _, code := range Codes[1:] {
		data, err := assets.Translations.ReadFile("translations/" + code + ".json")
		var texts map[phrase.Text]phrase.Text
		if err == nil {
			err = json.Unmarshal(data, &texts)
		}
		if err != nil {
			panic("language: " + code + ".json: " + err.Error())
		}
		all[code] = texts
	}
	return all
})

// Code returns the voice's language, one of [Codes].
func (v *Voice) Code() string { return v.code }

// Units returns the units it speaks in.
func (v *Voice) Units() quantity.Units { return v.units }

// Text returns a text without data.
func (v *Voice) Text(text phrase.Text) string { return string(v.translated(text)) }

func (v *Voice) translated(text phrase.Text) phrase.Text {
	if t, ok := v.texts[text]; ok {
		return t
	}
	return text
}

// Say returns a sentence with its data filled in.
func (v *Voice) Say(s phrase.Sentence) string { return s.Fill(v.translated(s.Text), v.show) }

// Write writes one piece of a sentence's data: numbers with the language's
// decimal sign, amounts in the reader's units, terms and sentences translated,
// dates as they are written there, errors translated, anything else as it is.
func (v *Voice) Write(x any) string { return fmt.Sprint(v.show(x)) }

// show is [Voice.Write], for a place or a verb: a number without a type of its own
// still obeys the verb.
func (v *Voice) show(x any) any {
	switch x := x.(type) {
	case phrase.Num:
		return v.decimal(x.String())
	case phrase.Operand:
		return v.decimal(x.String())
	case phrase.Value:
		return v.value(x)
	case float64:
		return float{v, x}
	case quantity.Amount:
		return v.decimal(x.In(v.units).String())
	case phrase.Text:
		return v.Text(x)
	case phrase.Sentence:
		return v.Say(x)
	case time.Time:
		return v.Date(x)
	case error:
		return v.Error(x)
	}
	return x
}

// value writes a message's value in the reader's unit. A limit need not be told to
// more digits in another unit than it has in its own.
func (v *Voice) value(x phrase.Value) string {
	number := strconv.FormatFloat(x.V, 'g', 10, 64)
	if shown, unit := v.units.Show(x.V, x.Unit); unit != x.Unit {
		number, x.Unit = strconv.FormatFloat(shown, 'g', 5, 64), unit
	}
	return x.Written(v.decimal(strings.Replace(number, "-", "−", 1)))
}

// float is a number that has as many decimals as its verb says, or as it needs.
type float struct {
	*Voice
	v float64
}

// Format implements [fmt.Formatter].
func (x float) Format(s fmt.State, verb rune) {
	format := fmt.FormatString(s, verb)
	if verb == 'v' {
		format = "%.10g"
	}
	text := fmt.Sprintf(format, x.v)
	fmt.Fprint(s, x.decimal(strings.Replace(text, "-", "−", 1)))
}

// Error returns what an error says.
func (v *Voice) Error(err error) string { return v.Say(phrase.From(err)) }

// decimal puts the language's decimal sign into a number.
func (v *Voice) decimal(number string) string {
	if v.code == "en" {
		return number
	}
	return strings.Replace(number, ".", ",", 1)
}

// Comma tells whether numbers have a decimal comma.
func (v *Voice) Comma() bool { return v.code != "en" }

// Date writes a day: the month as a word in English, where its place would be in
// doubt.
func (v *Voice) Date(t time.Time) string {
	switch v.code {
	case "es":
		return t.Format("02/01/2006")
	case "de":
		return t.Format("02.01.2006")
	}
	return t.Format("2 Jan 2006")
}
