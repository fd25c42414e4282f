package app

import (
	"sync/atomic"

	"fyne.io/fyne/v2/lang"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/quantity"
)

// Every text of the window goes through tr, with or say, whose English text is
// the key of its translations.

// spoken is the language and the units of the window. Work beside the main
// goroutine may ask for words too.
var spoken atomic.Pointer[language.Voice]

var english = language.New("en", quantity.Units{})

// voice is what the window speaks: English until [speak] says otherwise.
func voice() *language.Voice {
	if v := spoken.Load(); v != nil {
		return v
	}
	return english
}

// speak makes a language and units those of the window; what was built before
// still shows the old ones. The toolkit's own dialogs follow.
func speak(code string, units quantity.Units) {
	if old := spoken.Swap(language.New(code, units)); old != nil && old.Code() == voice().Code() {
		return
	}
	words, err := assets.Translations.ReadFile("translations/toolkit/" + voice().Code() + ".json")
	if err == nil {
		err = lang.AddTranslationsForLocale(words, lang.SystemLocale())
	}
	if err != nil {
		panic("app: the toolkit's words: " + err.Error())
	}
}

// tr returns a text without data in the user's language.
func tr(text string) string { return voice().Text(text) }

// with returns a text with data, its places written {{.Name}}.
func with(text string, data map[string]any) string {
	return say(finding.Sentence{Text: text, Data: data})
}

// say puts a sentence into the user's language.
func say(s finding.Sentence) string { return voice().Say(s) }

// number writes a number with at most so many decimals.
func number(v float64, decimals int) string {
	return voice().Write(finding.Num{Value: v, Decimals: decimals})
}

// amount writes a value kept in millimetres, bar, kilopascals or degrees Celsius
// in the user's unit.
func amount(a quantity.Amount) string { return voice().Write(a) }
