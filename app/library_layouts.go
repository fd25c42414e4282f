package app

import (
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
)

// layoutTitle names an engine layout.
func layoutTitle(l timing.Layout) string {
	data := map[string]any{"N": l.Cylinders, "Bank": number(float64(l.Bank), 0)}
	title := ""
	switch {
	case l.Bank > 0:
		title = with("V, {{.N}} cylinders, {{.Bank}}°", data)
	case l.Cylinders == 1:
		title = tr("One cylinder")
	default:
		title = with("Inline, {{.N}} cylinders", data)
	}
	if l.Order != nil && l.Cylinders > 2 {
		title += ": " + timing.OrderText(l.Order)
	}
	if l.Intervals != nil {
		title += " (" + intervalText(l, 2) + ")"
	}
	return title
}

// intervalText is the first few firing intervals.
func intervalText(l timing.Layout, most int) string {
	var words []string
	for _, v := range l.Intervals[:min(most, len(l.Intervals))] {
		words = append(words, number(float64(v), 2)+"°")
	}
	if most < len(l.Intervals) {
		words = append(words, "…")
	}
	return strings.Join(words, ", ")
}

// layoutWords says what a layout is and where it comes from.
func layoutWords(l timing.Layout) string {
	var list []string
	switch {
	case l.Bank > 0:
		list = append(list, with("A four-stroke with its cylinders in two banks, {{.Bank}}° between them, and two connecting rods on each crankpin.", map[string]any{"Bank": number(float64(l.Bank), 0)}))
	case l.Pins != nil:
		var pins []string
		for _, p := range l.Pins {
			pins = append(pins, number(float64(p), 0)+"°")
		}
		list = append(list, with("A four-stroke with its cylinders in a row and its crankpins at {{.Pins}}.", map[string]any{"Pins": strings.Join(pins, ", ")}))
	default:
		list = append(list, tr("A four-stroke with its cylinders in a row and evenly spaced firing."))
	}
	if l.Intervals == nil {
		list = append(list, with("It fires evenly, every {{.Every}}°.", map[string]any{"Every": number(float64(timing.CycleOf(4))/float64(l.Cylinders), 2)}))
	} else {
		list = append(list, with("It fires unevenly, at intervals of {{.Intervals}}. They follow from crankpins and banks.", map[string]any{"Intervals": intervalText(l, len(l.Intervals))}))
	}
	switch {
	case l.Order == nil:
		list = append(list, tr("No firing order is common to such engines: the job's own is kept when it has as many cylinders, else they are numbered as they fire. Type the order of your engine."))
	case l.Memory:
		list = append(list, with("Firing order {{.Order}}, not checked against a source: check it against the service manual.", map[string]any{"Order": timing.OrderText(l.Order)}))
	default:
		list = append(list, with("Firing order {{.Order}}, as in general published lists.", map[string]any{"Order": timing.OrderText(l.Order)}))
	}
	list = append(list, tr("Manufacturers number their cylinders differently. The service manual takes precedence."))
	return strings.Join(list, "\n\n")
}

// useLayout puts a layout into a job's engine; sizes and valves stay.
func useLayout(j *job.Job, l timing.Layout) {
	j.Engine.Strokes = 4
	order := l.Order
	if order == nil && len(j.Engine.FiringOrder) != l.Cylinders {
		for c := 1; c <= l.Cylinders; c++ {
			order = append(order, c)
		}
	}
	if order != nil {
		j.Engine.FiringOrder = order
	}
	j.Engine.FiringIntervalsDeg = nil
	for _, v := range l.Intervals {
		j.Engine.FiringIntervalsDeg = append(j.Engine.FiringIntervalsDeg, float64(v))
	}
}
