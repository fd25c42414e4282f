package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// The words of the engine's data.
const (
	wordCylinders    phrase.Text = "Cylinders"
	wordCycle        phrase.Text = "Cycle"
	wordFour         phrase.Text = "four-stroke"
	wordTwo          phrase.Text = "two-stroke"
	wordOrder        phrase.Text = "Firing order"
	wordIntervals    phrase.Text = "Firing intervals"
	wordEven         phrase.Text = "even, {{.Value}}°"
	wordList         phrase.Text = "{{.List}}°"
	wordRotation     phrase.Text = "Rotation"
	wordSeenFromNose phrase.Text = "{{.Sense}}, seen from the nose"
	wordBore         phrase.Text = "Bore"
	wordPistonStroke phrase.Text = "Stroke"
	wordRod          phrase.Text = "Connecting rod, between centres"
	wordOffset       phrase.Text = "Piston-pin offset"
	wordRatio        phrase.Text = "Compression ratio"
	wordToOne        phrase.Text = "{{.Value}} to 1"
	wordExponent     phrase.Text = "Polytropic exponent"
	wordGauge        phrase.Text = "Compression gauge"
	wordGaugeAt      phrase.Text = "Compression gauge read at"
	wordIntakeOpens  phrase.Text = "Intake opens before TDC"
	wordIntakeShuts  phrase.Text = "Intake closes after BDC"
	wordExhaustOpens phrase.Text = "Exhaust opens before BDC"
	wordExhaustShuts phrase.Text = "Exhaust closes after TDC"
	wordStart        phrase.Text = "Injection commanded"
	wordCranking     phrase.Text = "Cranking speed"
	wordAir          phrase.Text = "Air"
	wordAirPressure  phrase.Text = "Air pressure"
	wordCetane       phrase.Text = "Cetane number"
	wordCrankWheel   phrase.Text = "Crank sensor wheel"
	wordPositions    phrase.Text = "{{.N}} positions, missing: {{.List}}"
	wordAllThere     phrase.Text = "{{.N}} positions, none missing"
	wordFirstCrank   phrase.Text = "First tooth before TDC"
	wordCrankSensor  phrase.Text = "Crankshaft sensor"
	wordCamWheel     phrase.Text = "Cam sensor wheel, teeth at"
	wordFirstCam     phrase.Text = "First tooth of the cam sensor wheel before TDC"
	wordCamSensor    phrase.Text = "Camshaft sensor"
	wordInductive    phrase.Text = "inductive"
	wordHall         phrase.Text = "hall"
	wordTrain        phrase.Text = "Gear teeth, crankshaft to camshaft"
	wordTeethOut     phrase.Text = "Camshaft gear offset, teeth"
)

// pairing collects the pairs that the job has.
type pairing struct {
	maker
	list Pairs
}

func (p *pairing) put(name phrase.Text, value string) {
	p.list.Items = append(p.list.Items, [2]string{p.text(name), value})
}

// number adds a number that is given.
func (p *pairing) number(name, text phrase.Text, n job.Number) {
	if n.Given {
		p.put(name, p.num(text, n.Value, 3))
	}
}

// amount adds a value that is given, in the reader's unit.
func (p *pairing) amount(name phrase.Text, of func(v float64, decimals int) quantity.Amount, n job.Number) {
	if n.Given {
		p.put(name, p.maker.amount(of(n.Value, 3)))
	}
}

// engine is what the job says of the engine.
func (m maker) engine() Pairs {
	p := &pairing{maker: m}
	e := m.Job.Engine
	p.put(wordCylinders, strconv.Itoa(len(e.FiringOrder)))
	p.put(wordCycle, m.text(map[int]phrase.Text{2: wordTwo, 4: wordFour}[e.Strokes]))
	p.put(wordOrder, whole(e.FiringOrder, " – "))
	if len(e.FiringIntervalsDeg) == 0 {
		p.put(wordIntervals, m.num(wordEven, float64(timing.CycleOf(e.Strokes))/float64(len(e.FiringOrder)), 2))
	} else {
		p.put(wordIntervals, m.with(wordList, map[string]any{"List": m.numbers(e.FiringIntervalsDeg)}))
	}
	p.put(wordRotation, m.with(wordSeenFromNose, map[string]any{"Sense": finding.ViewOf(m.Job, "").Rotates().Text()}))
	p.amount(wordBore, quantity.Length, e.BoreMM)
	p.amount(wordPistonStroke, quantity.Length, e.StrokeMM)
	p.amount(wordRod, quantity.Length, e.RodMM)
	p.amount(wordOffset, quantity.Length, e.PinOffsetMM)
	p.number(wordRatio, wordToOne, e.CompressionRatio)
	p.number(wordExponent, wordPlain, e.PolytropicExponent)
	p.amount(wordGauge, quantity.Pressure, e.CompressionGaugeBar)
	p.number(wordGaugeAt, wordRPM, e.CompressionGaugeRPM)
	if v := e.Valves; v != nil {
		p.number(wordIntakeOpens, wordDegrees, v.IntakeOpensBTDCDeg)
		p.number(wordIntakeShuts, wordDegrees, v.IntakeClosesABDCDeg)
		p.number(wordExhaustOpens, wordDegrees, v.ExhaustOpensBBDCDeg)
		p.number(wordExhaustShuts, wordDegrees, v.ExhaustClosesATDCDeg)
	}
	if i := m.Job.Injection; i != nil {
		if i.StartBTDCDeg.Given {
			p.put(wordStart, m.Say.BTDC(i.StartBTDCDeg.Value))
		}
		p.number(wordCranking, wordRPM, i.CrankingRPM)
		p.amount(wordAir, quantity.Temperature, i.AirC)
		p.amount(wordAirPressure, quantity.Air, i.AirKPa)
		p.number(wordCetane, wordPlain, i.Cetane)
	}
	p.wheels()
	return p.list
}

func (p *pairing) wheels() {
	j := p.Job
	sensor := func(name phrase.Text, kind string) {
		if kind != "" {
			p.put(name, p.text(map[string]phrase.Text{"inductive": wordInductive, "hall": wordHall}[kind]))
		}
	}
	if w := j.CrankWheel; w != nil {
		text := wordPositions
		if len(w.Missing) == 0 {
			text = wordAllThere
		}
		p.put(wordCrankWheel, p.with(text, map[string]any{"N": w.Positions, "List": whole(w.Missing, ", ")}))
		p.number(wordFirstCrank, wordDegrees, w.FirstToothBTDCDeg)
		sensor(wordCrankSensor, w.Sensor)
	}
	if w := j.CamWheel; w != nil {
		p.put(wordCamWheel, p.with(wordList, map[string]any{"List": p.numbers(w.TeethCamDeg)}))
		p.number(wordFirstCam, wordDegrees, w.FirstToothBTDCDeg)
		sensor(wordCamSensor, w.Sensor)
	}
	if g := j.Gears; g != nil {
		p.put(wordTrain, whole(append(append([]int{g.CrankTeeth}, g.IdlerTeeth...), g.CamTeeth), " – "))
		if g.CamTeethOut != 0 {
			p.put(wordTeethOut, p.num(wordPlain, float64(g.CamTeethOut), 0))
		}
	}
}

// numbers writes numbers one after the other.
func (m maker) numbers(list []float64) string {
	words := make([]string, len(list))
	for i, v := range list {
		words[i] = m.num(wordPlain, v, 2)
	}
	return strings.Join(words, "; ")
}

// whole writes whole numbers one after the other.
func whole(list []int, between string) string {
	return strings.Join(strings.Fields(strings.Trim(fmt.Sprint(list), "[]")), between)
}
