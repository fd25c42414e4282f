package lesson

import (
	"strings"

	"pinphase.org/pinphase/timing/finding"
)

// sideWord is a word for a side. It is understood when at least so many of its
// letters were typed.
type sideWord struct {
	word  string
	least int
	side  float64 // 1: the first of the sides
}

// The words for sides in the three languages of the program. They are read, never
// shown.
var sideWords = map[Sides][]sideWord{
	BeforeAfter: {
		{"before", 1, 1}, {"btdc", 1, 1}, {"vor", 1, 1}, {"vot", 2, 1}, {"antes", 2, 1}, {"apms", 2, 1},
		{"after", 1, -1}, {"atdc", 2, -1}, {"nach", 1, -1}, {"not", 2, -1}, {"después", 1, -1}, {"despues", 1, -1}, {"dpms", 2, -1},
	},
	EarlyLate: {
		{"early", 1, 1}, {"earlier", 5, 1}, {"advanced", 2, 1}, {"ahead", 2, 1}, {"früh", 1, 1}, {"früher", 5, 1}, {"frueh", 2, 1}, {"voraus", 1, 1}, {"antes", 2, 1},
		{"adelantado", 3, 1}, {"adelante", 3, 1}, {"temprano", 1, 1},
		{"late", 1, -1}, {"later", 5, -1}, {"retarded", 1, -1}, {"behind", 1, -1}, {"spät", 1, -1}, {"später", 5, -1}, {"spaet", 2, -1}, {"zurück", 1, -1},
		{"tarde", 2, -1}, {"atrasado", 2, -1}, {"retrasado", 3, -1}, {"después", 1, -1}, {"despues", 1, -1},
	},
}

// noneWords say that no cylinder is meant.
var noneWords = map[string]bool{
	"none": true, "no": true, "non": true, "nobody": true, "keine": true, "keiner": true, "kein": true, "nein": true,
	"ninguno": true, "ninguna": true, "ningún": true, "ningun": true, "nada": true,
}

// zeroWords stand for the place from which both sides count, or for no error.
var zeroWords = map[string]bool{
	"tdc": true, "ot": true, "pms": true, "neither": true, "none": true, "zero": true, "weder": true, "keine": true, "ninguno": true, "null": true, "cero": true, "ni": true,
}

// oneWords are the number 1.
var oneWords = map[string]bool{"one": true, "once": true, "eine": true, "eins": true, "einmal": true, "uno": true, "una": true}

// says tells whether one of the words was typed.
func says(typed string, words map[string]bool) bool {
	for _, w := range letters.FindAllString(strings.ToLower(typed), -1) {
		if words[w] {
			return true
		}
	}
	return false
}

// read finds the side in what was typed: 1 or -1, 0 when it says none. both tells
// that it says both. A word counts for the first side whose word it begins, and
// a whole word before a beginning; a side's name in the reader's language before
// both.
func (s Sides) read(typed string, reader func(finding.Sentence) string) (side float64, both bool) {
	for i, name := range s.Names() {
		if strings.Contains(strings.ToLower(typed), strings.ToLower(reader(name))) {
			return float64(1 - 2*i), false
		}
	}
	for _, w := range letters.FindAllString(strings.ToLower(typed), -1) {
		found := s.one(w)
		if found != 0 && side != 0 && found != side {
			return 0, true
		}
		if found != 0 {
			side = found
		}
	}
	return side, false
}

func (s Sides) one(typed string) float64 {
	for _, w := range sideWords[s] {
		if w.word == typed {
			return w.side
		}
	}
	for _, w := range sideWords[s] {
		if len([]rune(typed)) >= w.least && strings.HasPrefix(w.word, typed) {
			return w.side
		}
	}
	return 0
}
