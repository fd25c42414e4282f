package sheet

import (
	"slices"
	"time"

	"pinphase.org/pinphase/timing/phrase"
)

// The words of whose engine it is and which part is in question.
const (
	wordCaseTitle    phrase.Text = "The case"
	wordCustomer     phrase.Text = "Customer"
	wordMachine      phrase.Text = "Machine"
	wordEngineSerial phrase.Text = "Engine's serial number"
	wordHours        phrase.Text = "Hours run"
	wordOrderNumber  phrase.Text = "Order number"
	wordSupplier     phrase.Text = "Supplier"
	wordPartNumber   phrase.Text = "Part number"
	wordPartSerial   phrase.Text = "Part's serial number"
	wordMeasuredBy   phrase.Text = "Measured by"
	wordMeasuredOn   phrase.Text = "Measured on"
	wordInHours      phrase.Text = "{{.Value}} h"
	wordOnDay        phrase.Text = "{{.Date}}"
)

// identity is what the job says of the case; empty where it says nothing.
func (m maker) identity() Pairs {
	p := &pairing{maker: m}
	c := m.Job.Case
	if c == nil {
		return Pairs{}
	}
	for _, f := range []struct {
		name phrase.Text
		says string
	}{
		{wordSupplier, c.Supplier}, {wordOrderNumber, c.Order}, {wordPartNumber, c.PartNumber}, {wordPartSerial, c.PartSerial},
		{wordCustomer, c.Customer}, {wordMachine, c.Machine}, {wordEngineSerial, c.EngineSerial},
	} {
		if says := clean(f.says); says != "" {
			p.put(f.name, says)
		}
	}
	p.number(wordHours, wordInHours, c.Hours)
	if by := clean(c.MeasuredBy); by != "" {
		p.put(wordMeasuredBy, by)
	}
	if on, err := time.Parse(time.DateOnly, c.MeasuredOn); err == nil {
		p.put(wordMeasuredOn, m.with(wordOnDay, map[string]any{"Date": on}))
	}
	return p.list
}

// identify adds a section with what the job says of the case and, where lines to fill in
// are asked for, one for each of these names that it does not give. With neither there is
// no section.
func (m maker) identify(title phrase.Text, names ...phrase.Text) {
	known := m.identity()
	var missing []string
	for _, name := range names {
		given := slices.ContainsFunc(known.Items, func(p [2]string) bool { return p[0] == m.text(name) })
		if m.Fill && !given {
			missing = append(missing, m.text(name))
		}
	}
	if len(known.Items)+len(missing) == 0 {
		return
	}
	m.section(title)
	if len(known.Items) > 0 {
		m.add(known)
	}
	if len(missing) > 0 {
		m.add(Blanks{missing})
	}
}
