package chart

import (
	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/gear"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/phrase"
)

// GearsOptions are the reader's choices for the gear figure.
type GearsOptions struct {
	At   timing.Deg // crank angle, any number of cycles on: marks turn on with every cycle
	From timing.End // the end it is seen from
	Say  Say
}

// The words of the gear figure.
const (
	wordGears         phrase.Text = "Gears of {{.Title}}"
	wordGearsUntitled phrase.Text = "The gear train"
	wordGearsDesc     phrase.Text = "The gears from crankshaft to camshaft with their marks, crankshaft at {{.At}}°."
	wordGearCrank     phrase.Text = "crankshaft"
	wordGearIdler     phrase.Text = "idler gear"
	wordGearIdlerN    phrase.Text = "idler gear {{.N}}"
	wordGearCam       phrase.Text = "camshaft"
	wordGearPump      phrase.Text = "pump"
	wordGearTeeth     phrase.Text = "{{.Name}}, {{.Teeth}} teeth"
	wordGearMark      phrase.Text = "mark"
	wordGearRight     phrase.Text = "mark in its place"
	wordGearsNose     phrase.Text = "Seen from the nose, where the crankshaft turns {{.Sense}}."
	wordGearsFlywheel phrase.Text = "Seen from the flywheel, where the crankshaft turns {{.Sense}}."
	wordGearsAtChoice phrase.Text = "The gears are drawn in a row, and the marks where they are aligned at 0°: this is an assumption and does not affect any angle."
)

// Gears returns the gear figure's input for a job. It needs [gears].
func Gears(j job.Job, o GearsOptions) (figure.GearsInput, error) {
	t, err := NewTurningGears(j, o.From, o.Say)
	if err != nil {
		return figure.GearsInput{}, err
	}
	return t.At(o.At), nil
}

// TurningGears is the gear figure of one job at many crank angles.
type TurningGears struct {
	in    figure.GearsInput
	gears finding.Gears
	train gear.Train
	cycle timing.Deg
	say   Say
}

// NewTurningGears returns the gears of a job, seen from an end.
func NewTurningGears(j job.Job, from timing.End, say Say) (TurningGears, error) {
	g, err := finding.GearsOf(j)
	if err != nil {
		return TurningGears{}, err
	}
	train, err := finding.TrainOf(j)
	if err != nil {
		return TurningGears{}, err
	}
	e, err := finding.EngineOf(j)
	if err != nil {
		return TurningGears{}, err
	}
	view := finding.ViewOf(j, from.String())
	seen := wordGearsNose
	if from == timing.Flywheel {
		seen = wordGearsFlywheel
	}
	in := figure.GearsInput{View: view, Heading: j.Title, Title: say.title(wordGears, wordGearsUntitled, j.Title),
		Words: figure.GearsWords{Mark: say.text(wordGearMark), Right: say.text(wordGearRight), Throw: say.text(wordThrow)}}
	in.Caption = []string{say.with(seen, map[string]any{"Sense": view.Rotates().Text()}) + " " + say.text(wordGearsAtChoice),
		say.Sentence(g.Says)}
	for _, s := range g.Notes[:2] { // when the marks meet, and what a tooth is
		in.Caption = append(in.Caption, say.Sentence(s))
	}
	last := len(g.Wheels) - 1
	for i, w := range g.Wheels {
		name := say.text(wordGearIdler)
		switch {
		case i == 0:
			name = say.text(wordGearCrank)
		case i == last:
			name = say.text(wordGearCam)
		case last > 2:
			name = say.with(wordGearIdlerN, map[string]any{"N": i})
		}
		in.Wheels = append(in.Wheels, figure.GearWheel{Name: name, Teeth: w.Teeth, Count: say.with(wordGearTeeth, map[string]any{"Name": name, "Teeth": w.Teeth})})
	}
	// A cam gear put in teeth ahead stands further the way it turns itself.
	in.Wheels[last].Out = train.Angle(last, train.CamError(0, g.TeethOut))
	if p, ok := train.Pump(); ok {
		name := say.text(wordGearPump)
		in.Pump = &figure.PumpWheel{On: p.On, GearWheel: figure.GearWheel{Name: name, Teeth: p.Teeth,
			Count: say.with(wordGearTeeth, map[string]any{"Name": name, "Teeth": p.Teeth})}}
	}
	return TurningGears{in, g, train, e.Cycle(), say}, nil
}

// At returns the figure's input at a crank angle, any number of cycles away. A
// keyway that is ahead carries the whole train with it.
func (t TurningGears) At(theta timing.Deg) figure.GearsInput {
	in := t.in
	in.Wheels = append([]figure.GearWheel(nil), in.Wheels...)
	for i := range in.Wheels {
		in.Wheels[i].Turned = t.train.Angle(i, theta+timing.Deg(t.gears.GearErrorDeg))
	}
	if in.Pump != nil {
		pump := *in.Pump
		pump.Turned = t.train.PumpAngle(theta + timing.Deg(t.gears.GearErrorDeg))
		in.Pump = &pump
	}
	throw := timing.Wrap(theta, timing.Turn)
	in.Throw = &throw
	in.Desc = t.say.with(wordGearsDesc, map[string]any{"At": phrase.Num{Value: float64(theta), Decimals: 1}}) + " " + t.say.Sentence(t.gears.Says)
	return in
}
