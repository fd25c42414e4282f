package job

// The file's layout stands once, in this file: every section lists its keys in
// the order in which they are written, each with the field it fills. Reading,
// writing, changing and comparing all walk these lists.

// slot is one key of a section and where its value goes.
type slot struct {
	name string
	to   any // *string, *int, *formatNumber, *Number, repeated, *[]int, *[]float64, *[]Point, *any, *[]Evidence or section
}

// repeated is a number that may be read several times: one number in the file, or
// a list of them.
type repeated struct {
	first *Number
	again *[]float64 // the others; what it holds counts only beside a first
}

// all returns every reading, none when not given.
func (r repeated) all() []float64 {
	if !r.first.Given {
		return nil
	}
	return append([]float64{r.first.Value}, *r.again...)
}

// section is a table of the file. A section that may be left out comes into
// being when it is opened.
type section struct {
	has  func() bool
	open func() []slot
}

type slotted interface{ slots() []slot }

// optional is a section that may be left out.
func optional[T any, P interface {
	*T
	slotted
}](p **T) section {
	return section{
		has: func() bool { return *p != nil },
		open: func() []slot {
			if *p == nil {
				*p = new(T)
			}
			return P(*p).slots()
		},
	}
}

// always is a section that a job always has.
func always(s slotted) section {
	return section{func() bool { return true }, s.slots}
}

// formatNumber is the number of the file format; 0 stands for left out.
type formatNumber int

// read returns the format that is meant.
func (f formatNumber) read() int {
	if f == 0 {
		return Format
	}
	return int(f)
}

func (j *Job) slots() []slot {
	return []slot{
		{"format", (*formatNumber)(&j.Format)},
		{"title", &j.Title},
		{"notes", &j.Notes},
		{"engine", always(&j.Engine)},
		{"injection", optional(&j.Injection)},
		{"crank_wheel", optional(&j.CrankWheel)},
		{"cam_wheel", optional(&j.CamWheel)},
		{"dowel", optional(&j.Dowel)},
		{"keyway", optional(&j.Keyway)},
		{"gears", optional(&j.Gears)},
		{"evidence", &j.Evidence},
	}
}

func (e *Engine) slots() []slot {
	return []slot{
		{"strokes", &e.Strokes},
		{"firing_order", &e.FiringOrder},
		{"firing_intervals_deg", &e.FiringIntervalsDeg},
		{"rotation", &e.Rotation},
		{"bore_mm", &e.BoreMM},
		{"stroke_mm", &e.StrokeMM},
		{"rod_mm", &e.RodMM},
		{"pin_offset_mm", &e.PinOffsetMM},
		{"compression_ratio", &e.CompressionRatio},
		{"polytropic_exponent", &e.PolytropicExponent},
		{"compression_gauge_bar", &e.CompressionGaugeBar},
		{"compression_gauge_rpm", &e.CompressionGaugeRPM},
		{"valves", optional(&e.Valves)},
	}
}

func (v *Valves) slots() []slot {
	return []slot{
		{"intake_opens_btdc_deg", &v.IntakeOpensBTDCDeg},
		{"intake_closes_abdc_deg", &v.IntakeClosesABDCDeg},
		{"exhaust_opens_bbdc_deg", &v.ExhaustOpensBBDCDeg},
		{"exhaust_closes_atdc_deg", &v.ExhaustClosesATDCDeg},
	}
}

func (i *Injection) slots() []slot {
	return []slot{
		{"start_btdc_deg", &i.StartBTDCDeg},
		{"cranking_rpm", &i.CrankingRPM},
		{"air_c", &i.AirC},
		{"air_kpa", &i.AirKPa},
		{"cetane", &i.Cetane},
	}
}

func (w *CrankWheel) slots() []slot {
	return []slot{
		{"positions", &w.Positions},
		{"missing", &w.Missing},
		{"first_tooth_btdc_deg", &w.FirstToothBTDCDeg},
		{"sensor", &w.Sensor},
	}
}

func (w *CamWheel) slots() []slot {
	return []slot{
		{"teeth_cam_deg", &w.TeethCamDeg},
		{"first_tooth_btdc_deg", &w.FirstToothBTDCDeg},
		{"sensor", &w.Sensor},
	}
}

func (f *Feature) slots() []slot {
	return []slot{
		{"seen_from", &f.SeenFrom},
		{"drawing", optional(&f.Drawing)},
		{"measured", optional(&f.Measured)},
	}
}

// slots lists the keys of all methods and of both sections; which of them belong
// together is for Check to say, in better words than "unknown key".
func (r *Reading) slots() []slot {
	return []slot{
		{"method", &r.Method},
		{"file", &r.File},
		{"angle_deg", repeated{&r.AngleDeg, &r.AngleAgainDeg}},
		{"throw_deg", repeated{&r.ThrowDeg, &r.ThrowAgainDeg}},
		{"keyway_deg", repeated{&r.KeywayDeg, &r.KeywayAgainDeg}},
		{"dowel_deg", repeated{&r.DowelDeg, &r.DowelAgainDeg}},
		{"counts", &r.Counts},
		{"over", &r.Over},
		{"on", &r.On},
		{"chord_mm", repeated{&r.ChordMM, &r.ChordAgainMM}},
		{"pin_mm", &r.PinMM},
		{"key_mm", &r.KeyMM},
		{"arc_mm", repeated{&r.ArcMM, &r.ArcAgainMM}},
		{"rim_radius_mm", &r.RimRadiusMM},
		{"throw_radius_mm", &r.ThrowRadiusMM},
		{"dowel_radius_mm", &r.DowelRadiusMM},
		{"keyway_radius_mm", &r.KeywayRadiusMM},
		{"centre", &r.Centre},
		{"throw", &r.Throw},
		{"keyway", &r.Keyway},
		{"dowel", &r.Dowel},
		{"rim", &r.Rim},
		{"bolts", &r.Bolts},
		{"seen_from", &r.SeenFrom},
		{"side", &r.Side},
		{"u_deg", &r.UDeg},
		{"u_mm", &r.UMM},
		{"u_radius_mm", &r.URadiusMM},
		{"u_size_mm", &r.USizeMM},
		{"u_px", &r.UPx},
	}
}

func (g *Gears) slots() []slot {
	return []slot{
		{"crank_teeth", &g.CrankTeeth},
		{"idler_teeth", &g.IdlerTeeth},
		{"cam_teeth", &g.CamTeeth},
		{"cam_teeth_out", &g.CamTeethOut},
		{"pump_teeth", &g.PumpTeeth},
		{"pump_driven_by", &g.PumpDrivenBy},
	}
}

func (e *Evidence) slots() []slot {
	return []slot{
		{"kind", &e.Kind},
		{"value", &e.Value},
		{"u", &e.U},
	}
}

// given tells whether the slot holds anything worth writing.
func (s slot) given() bool {
	switch v := s.to.(type) {
	case *string:
		return *v != ""
	case *int:
		return *v != 0
	case *formatNumber:
		return true
	case *Number:
		return v.Given
	case repeated:
		return v.first.Given
	case *[]int:
		return len(*v) > 0
	case *[]float64:
		return len(*v) > 0
	case *[]Point:
		return len(*v) > 0
	case *any:
		return *v != nil
	case *[]Evidence:
		return len(*v) > 0
	case section:
		return v.has()
	}
	panic("job: slot of unknown kind")
}
