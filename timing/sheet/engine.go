package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/quantity"
)

// The words of the engine's data.
const (
	wordCylinders    = "Cylinders"
	wordCycle        = "Cycle"
	wordFour         = "four-stroke"
	wordTwo          = "two-stroke"
	wordOrder        = "Firing order"
	wordIntervals    = "Firing intervals"
	wordEven         = "even, {{.Value}}°"
	wordList         = "{{.List}}°"
	wordRotation     = "Rotation"
	wordSeenFromNose = "{{.Sense}}, seen from the nose"
	wordBore         = "Bore"
	wordPistonStroke = "Stroke"
	wordRod          = "Rod, between centres"
	wordOffset       = "Wrist-pin offset"
	wordRatio        = "Compression ratio"
	wordToOne        = "{{.Value}} to 1"
	wordExponent     = "Polytropic exponent"
	wordGauge        = "Compression gauge"
	wordGaugeAt      = "Compression gauge read at"
	wordIntakeOpens  = "Intake opens before TDC"
	wordIntakeShuts  = "Intake closes after BDC"
	wordExhaustOpens = "Exhaust opens before BDC"
	wordExhaustShuts = "Exhaust closes after TDC"
	wordStart        = "Injection asked for"
	wordCranking     = "Cranking speed"
	wordAir          = "Air"
	wordAirPressure  = "Air pressure"
	wordCetane       = "Cetane number"
	wordCrankWheel   = "Crank wheel"
	wordPositions    = "{{.N}} positions, missing: {{.List}}"
	wordAllThere     = "{{.N}} positions, none missing"
	wordFirstCrank   = "First tooth before TDC"
	wordCrankSensor  = "Crank sensor"
	wordCamWheel     = "Cam wheel, teeth at"
	wordFirstCam     = "First cam tooth before TDC"
	wordCamSensor    = "Cam sensor"
	wordInductive    = "inductive"
	wordHall         = "hall"
	wordTrain        = "Gear teeth, crank to cam"
	wordTeethOut     = "Cam gear out by, in teeth"
)

var engineTexts = []string{
	wordCylinders, wordCycle, wordFour, wordTwo, wordOrder, wordIntervals, wordEven, wordList, wordRotation, wordSeenFromNose, wordBore,
	wordPistonStroke, wordRod, wordOffset, wordRatio, wordToOne, wordExponent, wordGauge, wordGaugeAt, wordIntakeOpens, wordIntakeShuts,
	wordExhaustOpens, wordExhaustShuts, wordStart, wordCranking, wordAir, wordAirPressure, wordCetane, wordCrankWheel, wordPositions,
	wordAllThere, wordFirstCrank, wordCrankSensor, wordCamWheel, wordFirstCam, wordCamSensor, wordInductive, wordHall, wordTrain, wordTeethOut,
}

// pairing collects the pairs that the job has.
type pairing struct {
	maker
	list Pairs
}

func (p *pairing) put(name, value string) {
	p.list.Items = append(p.list.Items, [2]string{p.text(name), value})
}

// number adds a number that is given.
func (p *pairing) number(name, text string, n job.Number) {
	if n.Given {
		p.put(name, p.num(text, n.Value, 3))
	}
}

// amount adds a value that is given, in the reader's unit.
func (p *pairing) amount(name string, of func(v float64, decimals int) quantity.Amount, n job.Number) {
	if n.Given {
		p.put(name, p.maker.amount(of(n.Value, 3)))
	}
}

// engine is what the job says of the engine.
func (m maker) engine() Pairs {
	p := &pairing{maker: m}
	e := m.Job.Engine
	p.put(wordCylinders, strconv.Itoa(len(e.FiringOrder)))
	p.put(wordCycle, m.text(map[int]string{2: wordTwo, 4: wordFour}[e.Strokes]))
	p.put(wordOrder, whole(e.FiringOrder, " – "))
	if len(e.FiringIntervalsDeg) == 0 {
		p.put(wordIntervals, m.num(wordEven, float64(timing.CycleOf(e.Strokes))/float64(len(e.FiringOrder)), 2))
	} else {
		p.put(wordIntervals, m.with(wordList, map[string]any{"List": m.numbers(e.FiringIntervalsDeg)}))
	}
	p.put(wordRotation, m.with(wordSeenFromNose, map[string]any{"Sense": finding.Term(finding.ViewOf(m.Job, "").Rotates().String())}))
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
	sensor := func(name, kind string) {
		if kind != "" {
			p.put(name, p.text(map[string]string{"inductive": wordInductive, "hall": wordHall}[kind]))
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
