package sheet

import (
	"math"
	"slices"
	"strings"
	"time"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// The words of several parts in one job.
const (
	wordPartsTitle   phrase.Text = "The parts that were measured"
	wordPartName     phrase.Text = "part"
	wordPartUse      phrase.Text = "used as"
	wordPartDated    phrase.Text = "measured on"
	wordUseDatum     phrase.Text = "datum"
	wordUseEngine    phrase.Text = "in the engine"
	wordUseBefore    phrase.Text = "before the repair"
	wordUseNone      phrase.Text = "kept only"
	wordSideAngle    phrase.Text = "{{.Size}}° {{.Sense}} ± {{.U}}°"
	wordSideBare     phrase.Text = "{{.Size}}° {{.Sense}}"
	wordPartsNose    phrase.Text = "Seen from the nose; the dowel from the keyway, the keyway from the No. 1 throw; ± is one standard uncertainty."
	wordPartsFly     phrase.Text = "Seen from the flywheel; the dowel from the keyway, the keyway from the No. 1 throw; ± is one standard uncertainty."
	wordDrawingOrOld phrase.Text = "drawing or old part"
	wordDatumDrawing phrase.Text = "drawing"
	wordDatumPart    phrase.Text = "as on “{{.Name}}”"
)

// datum says what the measured angle of a section is compared with.
func (m maker) datum(section string) string {
	if d := m.Job.MeasuredDatum(); d != nil && d.Reading(section) != nil {
		return m.with(wordDatumPart, map[string]any{"Name": line(d.Name)})
	}
	return m.text(wordDatumDrawing)
}

// datumHead is the head of the column of what the measured angles are compared with.
func (m maker) datumHead() phrase.Text {
	if m.Job.MeasuredDatum() != nil {
		return wordDrawingOrOld
	}
	return wordDrawing
}

// seen is an angle on the part as it is seen: its size and the side.
func (m maker) seen(deg float64) (size phrase.Num, sense phrase.Text) {
	by, side := finding.ViewOf(m.Job, m.seenFrom().String()).Seen(timing.Deg(deg))
	return m.fine(float64(by)), side.Text()
}

// mostPlaces are the decimals of an angle on the part where nothing says fewer.
const mostPlaces = 2

// fine is an angle on the part, with the decimals that all of them have on the sheet.
func (m maker) fine(deg float64) phrase.Num { return phrase.Num{Value: deg, Decimals: m.places} }

// doubt is an uncertainty beside such an angle. With few decimals it is rounded up, as
// what is meant to be on the safe side (JCGM 100:2008, 7.2.6).
func (m maker) doubt(u float64) phrase.Num {
	if m.places < mostPlaces {
		unit := math.Pow10(m.places)
		u = math.Ceil(u*unit-1e-9) / unit
	}
	return m.fine(u)
}

// doubted is doubt for what may not be known.
func (m maker) doubted(u *float64) string {
	if u == nil {
		return m.text(wordUnknown)
	}
	return m.with(wordDegrees, map[string]any{"Value": m.doubt(*u)})
}

// placesOf are the decimals of a sheet that has a part's angles in several places: one,
// as its figures have, unless an uncertainty is smaller than that or an angle that has
// none is given with more.
func placesOf(p finding.Part) int {
	for _, a := range []*finding.FeatureAngle{p.Dowel, p.Keyway} {
		if a == nil {
			continue
		}
		for _, v := range [][2]*float64{{a.DrawingDeg, a.DrawingUDeg}, {a.MeasuredDeg, a.UDeg}} {
			deg, u := v[0], v[1]
			switch {
			case deg == nil:
			case u != nil && *u > 0 && *u < 0.1,
				(u == nil || *u == 0) && math.Abs(10**deg-math.Round(10**deg)) > 1e-6:
				return mostPlaces
			}
		}
	}
	return 1
}

// sided writes an angle with the side on which it is seen, and its uncertainty.
func (m maker) sided(deg, u *float64) string {
	if deg == nil {
		return m.text(wordUnknown)
	}
	size, sense := m.seen(*deg)
	doubt := 0.0
	if u != nil {
		doubt = *u
	}
	return m.with(wordSideAngle, map[string]any{"Size": size, "Sense": sense, "U": m.doubt(math.Abs(doubt))})
}

// day is when a part was measured.
func (m maker) day(dated string) string {
	on, err := time.Parse(time.DateOnly, dated)
	if err != nil {
		return m.text(wordUnknown)
	}
	return m.with(wordOnDay, map[string]any{"Date": on})
}

var useWords = map[string]phrase.Text{job.UseDatum: wordUseDatum, job.UseEngine: wordUseEngine, job.UseBefore: wordUseBefore, "": wordUseNone}

// parts is the table of several parts; nothing where the job has none.
func (m maker) parts(list []finding.PartAngles) {
	if len(list) == 0 {
		return
	}
	m.section(wordPartsTitle)
	m.partsTable(list, "")
}

// partsTable is the table alone, with a sentence below it.
func (m maker) partsTable(list []finding.PartAngles, says string) {
	t := Table{Columns: []Column{m.column(wordPartName, false), m.column(wordPartUse, false), m.column(wordPartDated, false)}}
	has := func(of func(finding.PartAngles) *float64) bool {
		return slices.ContainsFunc(list, func(p finding.PartAngles) bool { return of(p) != nil })
	}
	dowels := has(func(p finding.PartAngles) *float64 { return p.DowelDeg })
	keyways := has(func(p finding.PartAngles) *float64 { return p.KeywayDeg })
	if dowels {
		t.Columns = append(t.Columns, m.column(wordDowel, true))
	}
	if keyways {
		t.Columns = append(t.Columns, m.column(wordKeyway, true))
	}
	for _, p := range list {
		row := []string{line(p.Name), m.text(useWords[p.Use]), m.day(p.Dated)}
		if dowels {
			row = append(row, m.sided(p.DowelDeg, p.DowelUDeg))
		}
		if keyways {
			row = append(row, m.sided(p.KeywayDeg, p.KeywayUDeg))
		}
		t.Rows = append(t.Rows, row)
	}
	about := wordPartsNose
	if m.seenFrom() == timing.Flywheel {
		about = wordPartsFly
	}
	m.add(t, Paragraph{strings.TrimSpace(m.text(about) + " " + says), Small})
}
