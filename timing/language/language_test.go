package language

import (
	"testing"
	"time"

	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// A voice whose dictionary the tests know.
func german(u quantity.Units) *Voice {
	return &Voice{code: "de", units: u, texts: map[phrase.Text]phrase.Text{
		"{{.At}} before {{.Stroke}}": "vor {{.Stroke}}: {{.At}}", "power": "Arbeit", "Cylinder": "Zylinder",
	}}
}

func TestSay(t *testing.T) {
	us := quantity.Units{Length: quantity.Inch, Pressure: quantity.PSI, Temperature: quantity.Fahrenheit}
	for _, c := range []struct {
		voice *Voice
		s     phrase.Sentence
		want  string
	}{
		{german(quantity.Units{}), phrase.Sentence{Text: "Cylinder"}, "Zylinder"},
		{german(quantity.Units{}), phrase.Sentence{Text: "not known"}, "not known"},
		{german(quantity.Units{}), phrase.Sentence{Text: "{{.At}} before {{.Stroke}}", Data: map[string]any{
			"At": phrase.Num{Value: -12.5, Decimals: 1}, "Stroke": phrase.Text("power")}}, "vor Arbeit: −12,5"},
		{german(us), phrase.Sentence{Text: "{{.A}} {{.B}} {{.C}} {{.D}}", Data: map[string]any{
			"A": quantity.Length(12.7, 1), "B": phrase.Operand{Value: -2.5, Decimals: 1}, "C": -1.25, "D": 4}}, "0,5 in (−2,5) −1,25 4"},
		{german(quantity.Units{}), phrase.Sentence{Text: "{{.What}}", Data: map[string]any{"What": phrase.Sentence{Text: "Cylinder"}}}, "Zylinder"},
		{german(quantity.Units{}), phrase.Sentence{Text: "{{.File}}", Data: map[string]any{"File": "power 1.5.toml"}}, "power 1.5.toml"},
		{New("en", us), phrase.Sentence{Text: "{{.A}} {{.B}}", Data: map[string]any{"A": quantity.Temperature(15, 0), "B": 2.5}}, "59 °F 2.5"},
		{New("xx", quantity.Units{}), phrase.Sentence{Text: "power"}, "power"},
	} {
		if got := c.voice.Say(c.s); got != c.want {
			t.Errorf("%v in %s: %q, want %q", c.s, c.voice.Code(), got, c.want)
		}
	}
}

func TestNearest(t *testing.T) {
	for locale, want := range map[string]string{
		"de": "de", "de_AT.UTF-8": "de", "es-MX": "es", "en_US": "en", "ES": "es", "fr_FR": "", "C": "", "": "", "deu": "",
	} {
		if got := Nearest(locale); got != want {
			t.Errorf("%q: %q, want %q", locale, got, want)
		}
	}
}

func TestDate(t *testing.T) {
	day := time.Date(2026, time.March, 4, 12, 0, 0, 0, time.UTC)
	for code, want := range map[string]string{"en": "4 Mar 2026", "es": "04/03/2026", "de": "04.03.2026"} {
		if got := New(code, quantity.Units{}).Date(day); got != want {
			t.Errorf("%s: %q, want %q", code, got, want)
		}
	}
}

// Every language there is can be spoken, and tells its name.
func TestCodes(t *testing.T) {
	for _, code := range Codes {
		if got := New(code, quantity.Units{}).Code(); got != code {
			t.Errorf("%s speaks %s", code, got)
		}
		if Names[code] == "" {
			t.Errorf("%s has no name", code)
		}
	}
}
