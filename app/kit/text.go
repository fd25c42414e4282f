package kit

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"strconv"
	"strings"
	"sync/atomic"
	"unicode"
	"unicode/utf8"

	"fyne.io/fyne/v2/lang"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// Every text of the window goes through tr, with or say, whose English text is
// the key of its translations.

// spoken is the language and the units of the window. Work beside the main
// goroutine may ask for words too.
var spoken atomic.Pointer[language.Voice]

var english = language.New("en", quantity.Units{})

// Voice is what the window speaks: English until [Speak] says otherwise.
func Voice() *language.Voice {
	if v := spoken.Load(); v != nil {
		return v
	}
	return english
}

// Speak makes a language and units those of the window; what was built before
// still shows the old ones. The toolkit's own dialogs follow.
func Speak(code string, units quantity.Units) {
	if old := spoken.Swap(language.New(code, units)); old != nil && old.Code() == Voice().Code() {
		return
	}
	words, err := assets.Translations.ReadFile("translations/toolkit/" + Voice().Code() + ".json")
	if err == nil {
		err = lang.AddTranslationsForLocale(words, lang.SystemLocale())
	}
	if err != nil {
		panic("app: the toolkit's words: " + err.Error())
	}
}

// Tr returns a text without data in the user's language.
func Tr(text phrase.Text) string { return Voice().Text(text) }

// With returns a text with data, its places written {{.Name}}.
func With(text phrase.Text, data map[string]any) string {
	return Say(phrase.Sentence{Text: text, Data: data})
}

// Say puts a sentence into the user's language.
func Say(s phrase.Sentence) string { return WithoutKeys(Voice().Say(s)) }

// Number writes a number with at most so many decimals.
func Number(v float64, decimals int) string {
	return Voice().Write(phrase.Num{Value: v, Decimals: decimals})
}

// Amount writes a value kept in millimetres, bar, kilopascals or degrees Celsius
// in the user's unit.
func Amount(a quantity.Amount) string { return Voice().Write(a) }

// Upper begins a text with a capital.
func Upper(text string) string {
	first, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[n:]
}

// Joined puts the first few sentences into one line of text.
func Joined(list []phrase.Sentence, most int) string {
	var words []string
	for _, s := range list[:min(len(list), most)] {
		words = append(words, Say(s))
	}
	return strings.Join(words, " ")
}

// InFull says an error with all that belongs to it: of a fault the file, the line
// and the key.
func InFull(err error) string {
	var faults job.Faults
	if !errors.As(err, &faults) {
		return Voice().Error(err)
	}
	lines := make([]string, len(faults))
	for i, f := range faults {
		f.Message = inFile(f)
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Told is what a fault says, in the user's language and in the words of the fields.
func Told(f job.Fault) string { return WithoutKeys(inFile(f)) }

// inFile is what a fault says of a job file.
func inFile(f job.Fault) string {
	if f.Says.Text == "" {
		return f.Message
	}
	return Voice().Say(f.Says)
}

// Reason is an error without the path that the system puts before it.
func Reason(err error) error {
	var told *phrase.Error
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &told):
		return told
	case errors.As(err, &path):
		return path.Err
	case errors.As(err, &link):
		return link.Err
	}
	return err
}

// OnSide is [ofKeyway] where the keyway has just been named.
func OnSide(angle float64) string {
	size := phrase.Num{Value: math.Abs(angle), Decimals: 1}
	text := phrase.Text("{{.Size}}° ahead")
	switch {
	case size.String() == "0":
		text = "at 0°"
	case angle < 0:
		text = "{{.Size}}° behind"
	}
	return With(text, map[string]any{"Size": size})
}

// Comma gives a number the decimal sign of the user's language.
func Comma(number string) string {
	if Voice().Comma() {
		return strings.Replace(number, ".", ",", 1)
	}
	return number
}

// AsTyped writes a number in full, as it is typed.
func AsTyped(v float64) string {
	return Comma(strings.Replace(strconv.FormatFloat(v, 'f', -1, 64), "-", "−", 1))
}

// ParseNumber reads a number as people type it: a decimal comma, a real minus
// sign and spaces round it are welcome.
func ParseNumber(text string) (float64, error) {
	return finding.ParseNumber(text)
}

// Describe is a list of numbers as it is typed: "1, 2, 3". Where a number has a
// decimal comma there are semicolons between them.
func Describe[T any](list []T) string {
	words := make([]string, len(list))
	between := ", "
	for i, v := range list {
		words[i] = Comma(strings.Replace(fmt.Sprint(v), "-", "−", 1))
		if strings.Contains(words[i], ",") {
			between = "; "
		}
	}
	return strings.Join(words, between)
}
