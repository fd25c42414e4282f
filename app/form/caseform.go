package form

import (
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/widgets"
)

// caseGroup is whose engine it is and which part is in question, for a sheet or a claim.
func (f *Form) caseGroup() {
	word := func(key, label string, at func(*job.Case) *string) Row {
		return f.Text("case."+key, label, 1, func(j *job.Job) *string { return at(caseOf(j)) })
	}
	on := word("measured_on", tr("Measured on"), func(c *job.Case) *string { return &c.MeasuredOn })
	on.Object.(*widgets.Field).SetPlaceHolder(tr("a day, as in 2026-03-31"))
	f.group(tr("The case"), false,
		word("customer", tr("Customer"), func(c *job.Case) *string { return &c.Customer }),
		word("machine", tr("Machine"), func(c *job.Case) *string { return &c.Machine }),
		word("engine_serial", tr("Engine's serial number"), func(c *job.Case) *string { return &c.EngineSerial }),
		f.number("case.hours", tr("Hours run"), "h", func(j *job.Job) *job.Number { return &caseOf(j).Hours }),
		word("order", tr("Order number"), func(c *job.Case) *string { return &c.Order }),
		word("supplier", tr("Supplier"), func(c *job.Case) *string { return &c.Supplier }),
		word("part_number", tr("Part number"), func(c *job.Case) *string { return &c.PartNumber }),
		word("part_serial", tr("Part's serial number"), func(c *job.Case) *string { return &c.PartSerial }),
		word("measured_by", tr("Measured by"), func(c *job.Case) *string { return &c.MeasuredBy }),
		on)
}

func caseOf(j *job.Job) *job.Case {
	if j.Case == nil {
		j.Case = &job.Case{}
	}
	return j.Case
}
