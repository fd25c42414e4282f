package lesson

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"pinphase.org/pinphase/timing/finding"
)

// How what somebody typed is read. Accents, large letters and dots after single
// letters make no difference: "b.t.d.c." is btdc. Words of the reader's language go
// before those of the others, as some of them stand for opposite sides: "a. PMS" is
// before, "16 a" in English is after.

// dotted is a letter with a dot behind it that is an abbreviation, as in "v. OT".
var dotted = regexp.MustCompile(`\b(\pL)\.`)

// plainly is a text in small letters without accents and without the dots of
// abbreviations.
func plainly(typed string) string {
	typed = strings.NewReplacer("ß", "ss", "ä", "a", "ö", "o", "ü", "u", "Ä", "a", "Ö", "o", "Ü", "u").Replace(typed)
	var b strings.Builder
	for _, r := range norm.NFD.String(strings.ToLower(typed)) {
		if r < 0x300 || r > 0x36F { // accents that combine
			b.WriteRune(r)
		}
	}
	return dotted.ReplaceAllString(norm.NFC.String(b.String()), "$1")
}

// numeral is a number: a fraction, after a whole number or alone; one with a sign for
// a fraction; or decimals.
var numeral = regexp.MustCompile(`[-−+]?(?:\d+\s+)?\d+\s*[/⁄]\s*\d+|[-−+]?\d*\s*[½¼¾⅓⅔⅛⅜⅝⅞]|[-−+]?\d+(?:[.,]\d+)?|[-−+]?[.,]\d+`)

var fractions = map[rune]float64{'½': 1. / 2, '¼': 1. / 4, '¾': 3. / 4, '⅓': 1. / 3, '⅔': 2. / 3, '⅛': 1. / 8, '⅜': 3. / 8, '⅝': 5. / 8, '⅞': 7. / 8}

// numbers returns the numbers in what was typed; ok is false where one cannot be read.
func numbers(typed string) (list []float64, ok bool) {
	for _, w := range numeral.FindAllString(typed, -1) {
		v, good := numberOf(w)
		if !good {
			return nil, false
		}
		list = append(list, v)
	}
	return list, true
}

func numberOf(w string) (v float64, ok bool) {
	sign := 1.0
	if rest := strings.TrimLeft(w, "-−+"); rest != w {
		if !strings.HasPrefix(w, "+") {
			sign = -1
		}
		w = rest
	}
	if last, size := utf8.DecodeLastRuneInString(w); fractions[last] != 0 {
		whole := 0.0
		if before := strings.TrimSpace(w[:len(w)-size]); before != "" {
			whole, _ = strconv.ParseFloat(before, 64) // digits alone
		}
		return sign * (whole + fractions[last]), true
	}
	if over, under, found := strings.Cut(strings.ReplaceAll(w, "⁄", "/"), "/"); found {
		whole, fields := 0.0, strings.Fields(over)
		if len(fields) > 1 {
			whole, _ = strconv.ParseFloat(fields[0], 64)
		}
		a, _ := strconv.ParseFloat(fields[len(fields)-1], 64)
		b, _ := strconv.ParseFloat(strings.TrimSpace(under), 64)
		v = sign * (whole + a/b)
		return v, b != 0 && !math.IsInf(v, 0)
	}
	v, err := finding.ParseNumber(w)
	return sign * v, err == nil
}

// sideWord is a word for a side. It is understood when at least so many of its
// letters were typed.
type sideWord struct {
	word  string // as plainly makes it
	least int
	side  float64 // 1: the first of the sides
}

// sideWords are the words for sides by language. They are read, never shown.
var sideWords = map[string]map[Sides][]sideWord{
	"en": {
		BeforeAfter: {
			{"before", 1, 1}, {"btdc", 2, 1}, {"btc", 3, 1}, {"prior", 3, 1}, {"early", 2, 1}, {"advanced", 2, 1},
			{"after", 1, -1}, {"atdc", 2, -1}, {"atc", 3, -1}, {"past", 2, -1}, {"late", 2, -1}, {"retarded", 2, -1},
		},
		EarlyLate: {
			{"early", 1, 1}, {"earlier", 5, 1}, {"advanced", 2, 1}, {"advance", 2, 1}, {"ahead", 2, 1}, {"before", 2, 1}, {"soon", 4, 1},
			{"late", 1, -1}, {"later", 5, -1}, {"retarded", 1, -1}, {"retard", 1, -1}, {"behind", 1, -1}, {"after", 2, -1}, {"delayed", 3, -1},
		},
	},
	"de": {
		BeforeAfter: {
			{"vor", 1, 1}, {"vot", 2, 1}, {"vorher", 4, 1}, {"fruh", 2, 1}, {"frueh", 2, 1}, {"davor", 5, 1},
			{"nach", 1, -1}, {"not", 2, -1}, {"danach", 3, -1}, {"spat", 2, -1}, {"spaet", 2, -1}, {"hinter", 4, -1},
		},
		EarlyLate: {
			{"fruh", 1, 1}, {"fruher", 5, 1}, {"frueh", 2, 1}, {"frueher", 6, 1}, {"voraus", 3, 1}, {"vor", 3, 1}, {"voreilend", 4, 1},
			{"spat", 1, -1}, {"spater", 5, -1}, {"spaet", 2, -1}, {"spaeter", 6, -1}, {"zuruck", 3, -1}, {"zurueck", 3, -1}, {"nach", 3, -1}, {"nacheilend", 5, -1}, {"verspatet", 4, -1},
		},
	},
	"es": {
		BeforeAfter: {
			{"antes", 2, 1}, {"a", 1, 1}, {"apms", 2, 1}, {"adelanto", 3, 1}, {"adelantado", 3, 1}, {"avance", 2, 1}, {"previo", 4, 1},
			{"despues", 2, -1}, {"d", 1, -1}, {"dpms", 2, -1}, {"tras", 2, -1}, {"retraso", 3, -1}, {"retrasado", 3, -1}, {"pasado", 4, -1},
		},
		EarlyLate: {
			{"adelantado", 2, 1}, {"adelantada", 2, 1}, {"adelanto", 2, 1}, {"adelante", 3, 1}, {"antes", 2, 1}, {"pronto", 2, 1}, {"temprano", 2, 1}, {"avance", 2, 1}, {"avanzado", 3, 1},
			{"retrasado", 1, -1}, {"retrasada", 1, -1}, {"retraso", 1, -1}, {"atrasado", 2, -1}, {"atrasada", 2, -1}, {"atraso", 2, -1}, {"tarde", 2, -1}, {"despues", 2, -1}, {"detras", 3, -1},
		},
	},
}

// fillers are words beside a side that say nothing of it, and might be taken for the
// beginning of one that does.
var fillers = words("degrees degree deg tdc crank the of it is at by too cylinder ca and to "+
	"zu grad kw ot zot um der die das ist liegt am im zylinder "+
	"grados grado de del con pms pmi el la por demasiado muy cilindro ciguenal", " ")

// noneWords say that no cylinder is meant; "no" does where there is no number, before
// which it is one of the many ways to write number.
var noneWords = words("none|nobody|nothing|nil|keine|keiner|keines|kein|nein|nichts|ninguno|ninguna|ningun|nada|ningunos", "|")

// zeroWords stand for the place from which both sides count, or for no error.
var zeroWords = words("tdc|ot|pms|neither|none|zero|weder|keine|ninguno|null|cero|ni|exact|exactly|genau|exacto", "|")

// oneWords are the number 1.
var oneWords = words("one|once|eine|eins|einmal|uno|una", "|")

func words(list, between string) map[string]bool {
	all := map[string]bool{}
	for _, w := range strings.Split(list, between) {
		all[w] = true
	}
	return all
}

var letters = regexp.MustCompile(`\pL+`)

// says tells whether one of the words was typed.
func says(typed string, words map[string]bool) bool {
	for _, w := range letters.FindAllString(plainly(typed), -1) {
		if words[w] {
			return true
		}
	}
	return false
}

// read finds the side in what was typed: 1 or -1, 0 when it says none. both tells that
// it says both. The words of the reader's language count before the names that the
// program has for the sides, these before words of other languages, and whole words
// before beginnings.
func (s Sides) read(typed, language string, names [2]string) (side float64, both bool) {
	typed = plainly(typed)
	typedWords := letters.FindAllString(typed, -1)
	for _, w := range typedWords { // who writes PMS writes Spanish, whatever the window speaks
		if of, ok := deadCentres[w]; ok {
			language = of
		}
	}
	var others []sideWord
	for _, code := range []string{"en", "de", "es"} {
		for _, w := range sideWords[code][s] {
			if w.least = max(w.least, 2); code != language && len(w.word) > 1 { // one letter stands for opposite sides
				others = append(others, w)
			}
		}
	}
	named := 0.0
	for i, name := range names {
		if name = plainly(name); name != "" && strings.Contains(typed, name) {
			named += float64(1 - 2*i)
		}
	}
	for i, list := range [][]sideWord{sideWords[language][s], others} {
		if i == 1 && named != 0 {
			return named, false
		}
		for _, whole := range []bool{true, false} {
			if side, both := sidesIn(typedWords, list, whole); side != 0 || both {
				return side, both
			}
		}
	}
	return 0, false
}

// deadCentres are the languages' words for top dead centre.
var deadCentres = map[string]string{
	"tdc": "en", "btdc": "en", "atdc": "en", "btc": "en", "atc": "en", "ot": "de", "zot": "de", "vot": "de", "pms": "es", "apms": "es", "dpms": "es",
}

// sidesIn is the side that the words say, as whole words or as beginnings.
func sidesIn(typed []string, list []sideWord, whole bool) (side float64, both bool) {
	for _, w := range typed {
		found := 0.0
		for _, known := range list {
			if whole && known.word == w || !whole && !fillers[w] && utf8.RuneCountInString(w) >= known.least && strings.HasPrefix(known.word, w) {
				found = known.side
				break
			}
		}
		if found != 0 && side != 0 && found != side {
			return 0, true
		}
		if found != 0 {
			side = found
		}
	}
	return side, false
}
