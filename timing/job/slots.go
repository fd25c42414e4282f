package job

import (
	"pinphase.org/pinphase/timing/job/document"
	"pinphase.org/pinphase/timing/phrase"
)

// The file's layout stands once, in this file: every section lists its keys in
// the order in which they are written, each with the field it fills. Reading,
// writing, changing and comparing all walk these lists (package document).

// schema is the layout of an empty job.
func schema() []document.Key { return new(Job).slots() }

func slot(name string, to any) document.Key { return document.Key{Name: name, To: to} }

func repeated(first *Number, again *[]float64) document.Repeated {
	return document.Repeated{First: first, Again: again}
}

type slotted interface{ slots() []document.Key }

// optional is a section that may be left out.
func optional[T any, P interface {
	*T
	slotted
}](p **T) document.Section {
	return document.Section{
		Has: func() bool { return *p != nil },
		Open: func() []document.Key {
			if *p == nil {
				*p = new(T)
			}
			return P(*p).slots()
		},
	}
}

// always is a section that a job always has.
func always(s slotted) document.Section {
	return document.Section{Has: func() bool { return true }, Open: s.slots}
}

// inline is an optional section written in braces on the line of its key.
func inline(s document.Section) document.Section {
	s.Inline = func(found phrase.Sentence) phrase.Sentence {
		return phrase.Of(`is %s; a reading is required, as in { angle_deg = 12.5, side = "clockwise" }`, found)
	}
	return s
}

// evidence is a list of sections.
func evidence(list *[]Evidence) document.List {
	return document.List{
		Len:  func() int { return len(*list) },
		Set:  func(n int) { *list = make([]Evidence, n) },
		Item: func(i int) []document.Key { return (*list)[i].slots() },
		NoItem: func(found phrase.Sentence) phrase.Sentence {
			return phrase.Of("is %s; a piece of evidence is { kind = ..., value = ... }", found)
		},
	}
}

func (j *Job) slots() []document.Key {
	return []document.Key{
		slot("format", j.version()),
		slot("title", &j.Title),
		slot("notes", &j.Notes),
		slot("engine", always(&j.Engine)),
		slot("injection", optional(&j.Injection)),
		slot("crank_wheel", optional(&j.CrankWheel)),
		slot("cam_wheel", optional(&j.CamWheel)),
		slot("dowel", optional(&j.Dowel)),
		slot("keyway", optional(&j.Keyway)),
		slot("part", several(&j.Parts)),
		slot("gears", optional(&j.Gears)),
		slot("case", optional(&j.Case)),
		slot("tdc", found(&j.TDC)),
		slot("evidence", evidence(&j.Evidence)),
	}
}

func (e *Engine) slots() []document.Key {
	return []document.Key{
		slot("strokes", &e.Strokes),
		slot("firing_order", &e.FiringOrder),
		slot("firing_intervals_deg", &e.FiringIntervalsDeg),
		slot("rotation", &e.Rotation),
		slot("bore_mm", &e.BoreMM),
		slot("stroke_mm", &e.StrokeMM),
		slot("rod_mm", &e.RodMM),
		slot("pin_offset_mm", &e.PinOffsetMM),
		slot("compression_ratio", &e.CompressionRatio),
		slot("polytropic_exponent", &e.PolytropicExponent),
		slot("compression_gauge_bar", &e.CompressionGaugeBar),
		slot("compression_gauge_rpm", &e.CompressionGaugeRPM),
		slot("valves", optional(&e.Valves)),
	}
}

func (v *Valves) slots() []document.Key {
	return []document.Key{
		slot("intake_opens_btdc_deg", &v.IntakeOpensBTDCDeg),
		slot("intake_closes_abdc_deg", &v.IntakeClosesABDCDeg),
		slot("exhaust_opens_bbdc_deg", &v.ExhaustOpensBBDCDeg),
		slot("exhaust_closes_atdc_deg", &v.ExhaustClosesATDCDeg),
	}
}

func (i *Injection) slots() []document.Key {
	return []document.Key{
		slot("start_btdc_deg", &i.StartBTDCDeg),
		slot("cranking_rpm", &i.CrankingRPM),
		slot("air_c", &i.AirC),
		slot("air_kpa", &i.AirKPa),
		slot("cetane", &i.Cetane),
	}
}

func (w *CrankWheel) slots() []document.Key {
	return []document.Key{
		slot("positions", &w.Positions),
		slot("missing", &w.Missing),
		slot("first_tooth_btdc_deg", &w.FirstToothBTDCDeg),
		slot("sensor", &w.Sensor),
	}
}

func (w *CamWheel) slots() []document.Key {
	return []document.Key{
		slot("teeth_cam_deg", &w.TeethCamDeg),
		slot("first_tooth_btdc_deg", &w.FirstToothBTDCDeg),
		slot("sensor", &w.Sensor),
	}
}

func (f *Feature) slots() []document.Key {
	return []document.Key{
		slot("seen_from", &f.SeenFrom),
		slot("drawing", inline(optional(&f.Drawing))),
		slot("measured", inline(optional(&f.Measured))),
	}
}

func (g *Gears) slots() []document.Key {
	return []document.Key{
		slot("crank_teeth", &g.CrankTeeth),
		slot("idler_teeth", &g.IdlerTeeth),
		slot("cam_teeth", &g.CamTeeth),
		slot("cam_teeth_out", &g.CamTeethOut),
		slot("pump_teeth", &g.PumpTeeth),
		slot("pump_driven_by", &g.PumpDrivenBy),
	}
}

func (e *Evidence) slots() []document.Key {
	return []document.Key{
		slot("kind", &e.Kind),
		slot("value", &e.Value),
		slot("u", &e.U),
	}
}
