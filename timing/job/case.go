package job

import "pinphase.org/pinphase/timing/job/document"

// Case is whose engine it is and which part is in question: what a claim or a sheet
// must name. All of it may be left out.
type Case struct {
	Customer     string
	Machine      string // what the engine drives or stands in
	EngineSerial string
	Hours        Number // that the engine has run
	Order        string // under which the part came
	Supplier     string // of the part
	PartNumber   string
	PartSerial   string
	MeasuredBy   string
	MeasuredOn   string // a day, as 2026-03-31
}

func (c *Case) slots() []document.Key {
	return []document.Key{
		slot("customer", &c.Customer),
		slot("machine", &c.Machine),
		slot("engine_serial", &c.EngineSerial),
		slot("hours", &c.Hours),
		slot("order", &c.Order),
		slot("supplier", &c.Supplier),
		slot("part_number", &c.PartNumber),
		slot("part_serial", &c.PartSerial),
		slot("measured_by", &c.MeasuredBy),
		slot("measured_on", &c.MeasuredOn),
	}
}

// caseOf checks the section.
func (c *checker) caseOf(s *Case) {
	c.numbers("case", s.slots())
	c.day("case.measured_on", s.MeasuredOn)
}
