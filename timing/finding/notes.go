package finding

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/known"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// The notes, in the order in which they are given.
const (
	noteAssumed    phrase.Text = "Not measured yet: measure the dowel or record both sensors."
	noteSure       phrase.Text = "The wheel error is {{.Error}}° ± {{.U}}° (standard uncertainty); the 95 % interval is {{.Lo}}° to {{.Hi}}°."
	noteUnsure     phrase.Text = "The wheel error is {{.Error}}° ± {{.U}}° (standard uncertainty): these readings cannot tell it from 0. The part may be correct."
	noteVerdict    phrase.Text = "By all findings, most likely: {{.Cause}}, {{.Alone}} % alone, {{.All}} % alone or with another."
	noteTwo        phrase.Text = "By all findings, most likely two faults at once, {{.P}} %: {{.Cause}} and {{.Other}}."
	noteRead       phrase.Text = "The wheel error is read from a recording, not measured on the part."
	noteStated     phrase.Text = "The wheel error is stated, not measured."
	noteKeyway     phrase.Text = "A dowel-to-keyway angle alone cannot say which of the two is wrong. To find out, measure the keyway from the No. 1 throw."
	noteGear       phrase.Text = "The keyway is {{.Size}}° from its drawn place, so the crankshaft gear, the camshaft and the valves are out by as much."
	noteGearUnsure phrase.Text = "The keyway's error is {{.Error}}° ± {{.U}}° (standard uncertainty): these readings cannot tell it from 0."
	noteCarried    phrase.Text = "If the dowel was set out from the No. 1 throw instead, it is correct, and injection starts as commanded."
	noteDefaultU   phrase.Text = "{{.Feature}}: no uncertainty was given for the reading; the method's default, {{.U}}°, was assumed."
	noteInLine     phrase.Text = "{{.Feature}}: the two features lie nearly in line with the centre, where a chord can hardly tell the angle. Use a degree wheel there."
)

// notes are what must be known beside the numbers.
func (e errorsOf) notes() []phrase.Sentence {
	wheel, gear := part.Result{Measured: e.wheel, DOF: e.wheelDOF}, part.Result{Measured: e.gear, DOF: e.gearDOF}
	if e.basis == known.Supposed {
		return nil
	}
	var list []phrase.Sentence
	switch {
	case e.doubt == branching:
	case e.basis == known.Assumed:
		list = append(list, phrase.Sentence{Text: noteAssumed})
	case e.wheel.U > 0 && !tells(wheel):
		list = append(list, phrase.Sentence{Text: noteUnsure, Data: errorData(wheel)})
	case e.wheel.U > 0:
		list = append(list, phrase.Sentence{Text: noteSure, Data: errorData(wheel)})
	}
	switch e.basis {
	case known.Read:
		list = append(list, phrase.Sentence{Text: noteRead})
	case known.Stated:
		list = append(list, phrase.Sentence{Text: noteStated})
	}
	if tells(wheel) && e.keyway.measured == nil && e.dowel.measured != nil {
		list = append(list, phrase.Sentence{Text: noteKeyway})
	}
	switch {
	case tells(gear):
		list = append(list, phrase.Sentence{Text: noteGear, Data: map[string]any{"Size": shown(size(e.gear.Value), e.gear.U)}})
		if e.basis == known.Assumed {
			list = append(list, phrase.Sentence{Text: noteCarried})
		}
	case e.gear.Value != 0:
		list = append(list, phrase.Sentence{Text: noteGearUnsure, Data: errorData(gear)})
	}
	return append(list, readingNotes(e.dowel, e.keyway)...)
}

// tells tells whether an error differs from 0 by more than the readings leave
// open: 0 lies outside its 95 % interval.
func tells(m part.Result) bool {
	lo, hi := m.Interval95()
	return lo > 0 || hi < 0
}

func errorData(m part.Result) map[string]any {
	lo, hi := m.Interval95()
	return map[string]any{"Error": shown(m.Value, m.U), "U": fine(m.U), "Lo": shown(lo, m.U), "Hi": shown(hi, m.U)}
}

// shown is an angle in as many decimals as its uncertainty bears.
func shown(d, u timing.Deg) phrase.Num {
	if u < 0.05 {
		return fine(d)
	}
	return deg(d)
}

// readingNotes are what had to be assumed for the readings.
func readingNotes(dowel, keyway feature) []phrase.Sentence {
	var list []phrase.Sentence
	for _, f := range []struct {
		section string
		feature
	}{{"dowel", dowel}, {"keyway", keyway}} {
		if f.measured == nil {
			continue
		}
		if f.measured.DefaultU {
			list = append(list, phrase.Sentence{Text: noteDefaultU, Data: map[string]any{"Feature": featureNames[f.section], "U": fine(f.measured.U)}})
		}
		if f.measured.InLine {
			list = append(list, phrase.Sentence{Text: noteInLine, Data: map[string]any{"Feature": featureNames[f.section]}})
		}
	}
	return list
}

// SaysWheelError tells whether a sentence gives the wheel error with its sign.
func SaysWheelError(s phrase.Sentence) bool { return s.Text == noteSure || s.Text == noteUnsure }
