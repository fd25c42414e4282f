package form

import (
	"strconv"

	"pinphase.org/pinphase/app/kit"
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/job"
)

// engineGroups are the engine's own fields.
func (f *Form) engineGroups() {
	f.group(tr("Engine"), true,
		f.strokes(),
		f.cylinders(), f.ordersInUse(),
		f.List("engine.firing_order", tr("Firing order"), tr("as in 1-3-4-2"),
			func(j job.Job) string { return timing.OrderText(j.Engine.FiringOrder) },
			func(j *job.Job, text string) error {
				list, err := ParseWholes(text)
				if err == nil {
					j.Engine.FiringOrder = list
				}
				return err
			}),
		f.List("engine.firing_intervals_deg", tr("Intervals"), tr("empty: even firing"),
			func(j job.Job) string { return kit.Describe(j.Engine.FiringIntervalsDeg) },
			func(j *job.Job, text string) error {
				list, err := ParseNumbers(text)
				if err == nil {
					j.Engine.FiringIntervalsDeg = list
				}
				return err
			}),
		f.choice("engine.rotation", tr("Rotation"),
			[]string{tr("clockwise, seen from the nose"), tr("anticlockwise, seen from the nose")}, []string{"clockwise", "anticlockwise"},
			func(j job.Job) string {
				if j.Engine.Rotation == "" {
					return "clockwise"
				}
				return j.Engine.Rotation
			},
			func(j *job.Job, v string) { j.Engine.Rotation = v }),
		f.number("engine.bore_mm", tr("Bore"), "mm", func(j *job.Job) *job.Number { return &j.Engine.BoreMM }),
		f.number("engine.stroke_mm", tr("Stroke"), "mm", func(j *job.Job) *job.Number { return &j.Engine.StrokeMM }),
		f.number("engine.rod_mm", tr("Rod length"), "mm", func(j *job.Job) *job.Number { return &j.Engine.RodMM }),
		f.number("engine.pin_offset_mm", tr("Piston-pin offset"), "mm", func(j *job.Job) *job.Number { return &j.Engine.PinOffsetMM }),
		f.number("engine.compression_ratio", tr("Compression ratio"), ": 1", func(j *job.Job) *job.Number { return &j.Engine.CompressionRatio }))
	f.group(tr("Valves"), false,
		f.number("engine.valves.intake_opens_btdc_deg", tr("Intake opens"), "° BTDC", func(j *job.Job) *job.Number { return &valves(j).IntakeOpensBTDCDeg }),
		f.number("engine.valves.intake_closes_abdc_deg", tr("Intake closes"), "° ABDC", func(j *job.Job) *job.Number { return &valves(j).IntakeClosesABDCDeg }),
		f.number("engine.valves.exhaust_opens_bbdc_deg", tr("Exhaust opens"), "° BBDC", func(j *job.Job) *job.Number { return &valves(j).ExhaustOpensBBDCDeg }),
		f.number("engine.valves.exhaust_closes_atdc_deg", tr("Exhaust closes"), "° ATDC", func(j *job.Job) *job.Number { return &valves(j).ExhaustClosesATDCDeg }))
}

// crankingGroup are the fields that only light-off rests on.
func (f *Form) crankingGroup() {
	f.group(tr("Cranking, for fuel ignition"), false,
		f.number("injection.cranking_rpm", tr("Cranking speed"), "rpm", func(j *job.Job) *job.Number { return &injection(j).CrankingRPM }),
		f.number("injection.air_c", tr("Air"), "°C", func(j *job.Job) *job.Number { return &injection(j).AirC }),
		f.number("injection.air_kpa", tr("Air pressure"), "kPa", func(j *job.Job) *job.Number { return &injection(j).AirKPa }),
		f.number("injection.cetane", tr("Cetane"), "", func(j *job.Job) *job.Number { return &injection(j).Cetane }),
		f.number("engine.polytropic_exponent", tr("Exponent"), "", func(j *job.Job) *job.Number { return &j.Engine.PolytropicExponent }),
		f.number("engine.compression_gauge_bar", tr("Gauge reading"), "bar", func(j *job.Job) *job.Number { return &j.Engine.CompressionGaugeBar }),
		f.number("engine.compression_gauge_rpm", tr("Gauge read at"), "rpm", func(j *job.Job) *job.Number { return &j.Engine.CompressionGaugeRPM }))
}

// cylinders picks the number of cylinders, and with it the commonest order of
// that number.
func (f *Form) cylinders() Row {
	var counts []string
	for n := 1; n <= timing.MaxCylinders; n++ {
		counts = append(counts, strconv.Itoa(n))
	}
	f.Order.Count = kit.NewSelect(counts, nil)
	f.Order.Count.OnChanged = func(string) {
		n := f.Order.Count.SelectedIndex() + 1
		f.edit("engine.firing_order", func(j *job.Job) {
			if n == len(j.Engine.FiringOrder) {
				return
			}
			j.Engine.FiringOrder = firstOrder(n)
			j.Engine.FiringIntervalsDeg = nil
		})
		f.sealUnlessLoading()
	}
	return Row{tr("Cylinders"), f.Order.Count}
}

// ordersInUse picks one of the orders in use for that number of cylinders.
func (f *Form) ordersInUse() Row {
	f.Order.Order = kit.NewSelect(nil, nil)
	f.Order.Order.PlaceHolder = tr("none of these")
	f.Order.Order.OnChanged = func(name string) {
		f.edit("engine.firing_order", func(j *job.Job) {
			if list, err := ParseWholes(name); err == nil && len(list) > 0 {
				j.Engine.FiringOrder = list
			}
		})
		f.sealUnlessLoading()
	}
	f.Inputs = append(f.Inputs, &f.Order)
	return Row{tr("Common orders"), f.Order.Order}
}

func (f *Form) sealUnlessLoading() {
	if !f.loading {
		f.U.Session.Seal()
	}
}

// firstOrder is the order to begin with for n cylinders: the commonest, or by
// number where none is common.
func firstOrder(n int) []int {
	if common := timing.CommonOrders(n); len(common) > 0 {
		return common[0]
	}
	list := make([]int, n)
	for i := range list {
		list[i] = i + 1
	}
	return list
}

// strokes picks how many strokes a cycle has; gears that went with the other number are
// asked about.
func (f *Form) strokes() Row {
	r := f.choice("engine.strokes", tr("Strokes"), []string{tr("four-stroke"), tr("two-stroke")}, []string{"4", "2"},
		func(j job.Job) string { return strconv.Itoa(j.Engine.Strokes) },
		func(j *job.Job, v string) { j.Engine.Strokes, _ = strconv.Atoi(v) }) // one of the two above
	list := f.Inputs[len(f.Inputs)-1].(*ChoiceInput).Sel
	chosen := list.OnChanged
	list.OnChanged = func(name string) {
		was := f.U.Session.Job()
		chosen(name)
		f.matchingGears(was)
	}
	return r
}
