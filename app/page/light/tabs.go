package light

import (
	"strings"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/phrase"
)

// loadTab brings the tab that is shown up to date. The others wait until they
// are: wrapping their texts takes a good part of a frame.
func (p *page) loadTab() {
	switch p.tabs.SelectedIndex() {
	case 0:
		p.side.load(p)
	case 1:
		p.loadNotes()
	case 2:
		p.loadTable()
	case 3:
		p.loadRests()
	}
}

func (p *page) loadNotes() {
	if !p.valid {
		kit.SetText(p.notes, "")
		return
	}
	kit.SetText(p.notes, lines(p.estimate.Notes))
}

func (p *page) loadRests() {
	if !p.valid {
		kit.SetText(p.rests, "")
		return
	}
	drawn := with("The probabilities come from {{.N}} 000 random draws; the ± is one standard error of that many draws and leaves out the error of the estimate itself.",
		map[string]any{"N": lightDrawCount / 1000})
	kit.SetText(p.rests, strings.Join([]string{lines(p.estimate.Assumptions), drawn}, "\n\n"))
}

// loadTable shows what every correlation says of both injections.
func (p *page) loadTable() {
	if !p.valid {
		p.by.Disable()
		p.table.Set(nil)
		return
	}
	p.by.Enable()
	p.loadChoice()
	rows := [][]string{{tr("Delay formula"), tr("commanded:\nignites, after"), tr("actual:\nignites, after")}}
	asked, lands := p.estimate.Cases[0].ByAll, p.estimate.Cases[1].ByAll
	for i := range asked {
		rows = append(rows, []string{twoLines(asked[i].Title), whenLit(asked[i]), whenLit(lands[i])})
	}
	p.table.Set(rows)
}

// twoLines breaks a long name near its middle.
func twoLines(name string) string {
	if len(name) < 20 {
		return name
	}
	at := len(name) / 2
	if i := strings.IndexByte(name[at:], ' '); i >= 0 {
		return name[:at+i] + "\n" + name[at+i+1:]
	}
	return name
}

// whenLit says where and after how long a correlation has fuel lit, and whether
// the gas at the start of injection is within its data.
func whenLit(by finding.LightBy) string {
	lit := tr("does not ignite")
	if by.LightsAt != nil && by.DelayMS != nil {
		lit = with("{{.At}}, {{.MS}} ms", map[string]any{"At": chart.Say(say).BTDC(*by.LightsAt), "MS": phrase.Num{Value: *by.DelayMS, Decimals: 1}})
	}
	return lit + "\n" + tr(by.Gas())
}

// loadChoice offers the correlations to go by.
func (p *page) loadChoice() {
	var names []string
	at := 0
	for i, k := range p.estimate.ByCorrelation {
		names = append(names, k.Title)
		if k.Correlation == p.estimate.Correlation {
			at = i
		}
	}
	if strings.Join(p.by.Options, "\n") != strings.Join(names, "\n") {
		p.by.SetOptions(names)
	}
	p.by.OnChanged = nil
	if p.by.SelectedIndex() != at {
		p.by.SetSelectedIndex(at)
	}
	p.by.OnChanged = func(string) {
		if i := p.by.SelectedIndex(); i >= 0 && i < len(p.estimate.ByCorrelation) {
			p.correlation = p.estimate.ByCorrelation[i].Correlation
			p.Load()
			p.Moved()
		}
	}
}
