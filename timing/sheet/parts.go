package sheet

import (
	"math"
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
	return phrase.Num{Value: float64(by), Decimals: 2}, side.Text()
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
	return m.with(wordSideAngle, map[string]any{"Size": size, "Sense": sense, "U": phrase.Num{Value: math.Abs(doubt), Decimals: 2}})
}

var useWords = map[string]phrase.Text{job.UseDatum: wordUseDatum, job.UseEngine: wordUseEngine, job.UseBefore: wordUseBefore, "": wordUseNone}

// parts is the table of several parts; nothing where the job has none.
func (m maker) parts(list []finding.PartAngles) {
	if len(list) == 0 {
		return
	}
	m.section(wordPartsTitle)
	t := Table{Columns: []Column{m.column(wordPartName, false), m.column(wordPartUse, false), m.column(wordPartDated, false), m.column(wordDowel, true), m.column(wordKeyway, true)}}
	for _, p := range list {
		day := m.text(wordUnknown)
		if on, err := time.Parse(time.DateOnly, p.Dated); err == nil {
			day = m.with(wordOnDay, map[string]any{"Date": on})
		}
		t.Rows = append(t.Rows, []string{line(p.Name), m.text(useWords[p.Use]), day, m.sided(p.DowelDeg, p.DowelUDeg), m.sided(p.KeywayDeg, p.KeywayUDeg)})
	}
	about := wordPartsNose
	if m.seenFrom() == timing.Flywheel {
		about = wordPartsFly
	}
	m.add(t, Paragraph{m.text(about), Small})
}
