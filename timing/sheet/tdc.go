package sheet

import (
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

const (
	wordTDCs     phrase.Text = "True top dead centre"
	wordByStop   phrase.Text = "positive stop"
	wordByDrop   phrase.Text = "equal drops on a dial gauge"
	wordTDCHow   phrase.Text = "method"
	wordTDCFirst phrase.Text = "read forwards"
	wordTDCLast  phrase.Text = "read from the other side"
)

// tdcs are the findings of true top dead centre, each with its readings.
func (m maker) tdcs() {
	found, err := finding.TDCsOf(m.Angles)
	if err != nil || len(found) == 0 {
		return
	}
	m.section(wordTDCs)
	t := Table{Columns: []Column{m.column(wordTDCHow, false), m.column(wordTDCFirst, true), m.column(wordTDCLast, true), m.column(wordU, true)}}
	var says []phrase.Sentence
	for i, f := range found {
		d := m.Angles.TDC[i]
		how := wordByStop
		if d.Method == "drop" {
			how = wordByDrop
		}
		all := func(n job.Number, again []float64) string { return m.numbers(append([]float64{n.Value}, again...)) }
		t.Rows = append(t.Rows, []string{m.text(how), all(d.BeforeDeg, d.BeforeAgain), all(d.AfterDeg, d.AfterAgain), m.num(wordDegrees, float64(f.AtDeg.U), 2)})
		says = append(says, f.Says)
	}
	m.add(t)
	for _, s := range says {
		m.add(Paragraph{Text: m.Say.Sentence(s)})
	}
}
