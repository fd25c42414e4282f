package sheet

import (
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
)

const (
	wordKnown    phrase.Text = "What is known, and how"
	wordHow      phrase.Text = "how it is known"
	wordMarked   phrase.Text = "{{.Mark}} {{.Basis}}"
	wordValueOf  phrase.Text = "value"
	wordQuantity phrase.Text = "quantity"
)

// known is the table of what all answers on the sheet stand on. A mark beside each
// basis tells it without colour, and a hollow one is what nobody has seen.
func (m maker) known() {
	m.section(wordKnown)
	t := Table{Columns: []Column{m.column(wordQuantity, false), m.column(wordValueOf, true), m.column(wordHow, false)}}
	for _, q := range finding.KnownOf(m.Angles) {
		value := m.text(wordUnknown)
		if q.Says != nil {
			value = m.with(wordKnownValue, map[string]any{"Value": q.Says})
		}
		t.Rows = append(t.Rows, []string{m.text(q.Title), value,
			m.with(wordMarked, map[string]any{"Mark": q.Is.Mark(), "Basis": finding.BasisWord(q.Is)})})
	}
	m.add(t)
}

const wordKnownValue phrase.Text = "{{.Value}}"
