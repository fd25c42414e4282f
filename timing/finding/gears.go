package finding

import (
	"math/big"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/gear"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/part"
	"pinphase.org/pinphase/timing/phrase"
)

// Gears is what a job's gear train comes to. Errors are crank degrees, positive
// where the cam is ahead.
type Gears struct {
	Ratio            float64   `json:"ratio"` // cam teeth over crank teeth
	CamTurnsPerCrank float64   `json:"cam_turns_per_crank"`
	CrankTurnsMarks  *big.Int  `json:"crank_turns_until_marks_meet"`
	CrankDegPerTooth float64   `json:"crank_deg_per_cam_tooth"`
	CamErrorDeg      float64   `json:"cam_error_deg"` // the short way round the cycle
	CamErrorUDeg     float64   `json:"cam_error_u_deg"`
	GearErrorDeg     float64   `json:"gear_error_deg"` // of the keyway; 0 when it was not measured
	TeethOut         int       `json:"cam_teeth_out"`
	TeethOutDeg      float64   `json:"cam_teeth_out_deg"`
	CrankTurnsCam    int       `json:"crank_turns_until_cam_mark"` // crank and cam gear alone
	Wheels           []Wheel   `json:"wheels"`                     // from the crank gear to the cam gear
	Meshes           []Mesh    `json:"meshes"`
	Pump             *PumpGear `json:"pump"` // nil: none

	Says  phrase.Sentence   `json:"-"`
	Notes []phrase.Sentence `json:"-"`
	Steps []phrase.Sentence `json:"-"`
}

// Wheel is one wheel of the train.
type Wheel struct {
	Name      string   `json:"name"` // "crank", "idler 1", .., "cam"
	Teeth     int      `json:"teeth"`
	WithCrank bool     `json:"turns_with_crank"`
	Turns     *big.Int `json:"turns_until_marks_meet"`
}

// PumpGear is the gear of an injection pump that hangs on a wheel of the train.
type PumpGear struct {
	Teeth         int      `json:"teeth"`
	DrivenBy      string   `json:"driven_by"` // the name of a wheel
	WithCrank     bool     `json:"turns_with_crank"`
	TurnsPerCrank float64  `json:"turns_per_crank"`
	Turns         *big.Int `json:"turns_until_marks_meet"`
	CrankTurns    int      `json:"crank_turns_until_pump_mark"` // crank gear and pump alone
}

// Mesh is two wheels that mesh.
type Mesh struct {
	Driver      int  `json:"driver_teeth"`
	Driven      int  `json:"driven_teeth"`
	Hunting     bool `json:"hunting"` // every tooth of one meets every tooth of the other
	Phases      int  `json:"assembly_phases"`
	DriverTurns int  `json:"driver_turns_until_pair_meets"`
}

// TrainOf returns the job's gear train. It needs [gears].
func TrainOf(j job.Job) (gear.Train, error) {
	if j.Gears == nil {
		return gear.Train{}, missing("gears", "is missing: give crank_teeth, idler_teeth and cam_teeth")
	}
	t, err := gear.NewTrain(j.Gears.CrankTeeth, j.Gears.IdlerTeeth, j.Gears.CamTeeth)
	if err != nil || j.Gears.PumpTeeth == 0 {
		return t, err
	}
	on, _ := j.Gears.PumpOn() // a sound job's
	return t.WithPump(gear.Pump{Teeth: j.Gears.PumpTeeth, On: on})
}

// GearsOf returns what the train comes to. It needs [gears], and the drawing of a
// keyway that was measured.
func GearsOf(j job.Job) (Gears, error) {
	t, err := TrainOf(j)
	if err != nil {
		return Gears{}, err
	}
	e, err := EngineOf(j)
	if err != nil {
		return Gears{}, err
	}
	kappa, err := gearErrorOf(j)
	if err != nil {
		return Gears{}, err
	}
	out := j.Gears.CamTeethOut
	gamma := timing.WrapSigned(timing.Deg(round(float64(t.CamError(kappa.Value, out)))), e.Cycle())
	g := Gears{
		Ratio: round(t.Ratio()), CamTurnsPerCrank: round(t.CamPerCrank()),
		CrankTurnsMarks: t.TurnsUntilMarksMeet(0), CrankDegPerTooth: round(float64(t.CrankPerTooth())),
		CamErrorDeg: round(float64(gamma)), CamErrorUDeg: round(float64(kappa.U)), GearErrorDeg: round(float64(kappa.Value)),
		TeethOut: out, TeethOutDeg: round(float64(t.CamError(0, out))), CrankTurnsCam: t.CrankTurnsUntilCamMark(),
	}
	teeth := t.Teeth()
	for i, z := range teeth {
		name := "cam"
		switch {
		case i == 0:
			name = "crank"
		case i < len(teeth)-1:
			name = "idler " + phrase.Num{Value: float64(i)}.String()
		}
		g.Wheels = append(g.Wheels, Wheel{name, z, t.WithCrank(i), t.TurnsUntilMarksMeet(i)})
	}
	for _, m := range t.Meshes() {
		g.Meshes = append(g.Meshes, Mesh{m.Driver, m.Driven, m.Hunting(), m.Phases(), m.DriverTurns()})
	}
	if p, ok := t.Pump(); ok {
		g.Pump = &PumpGear{p.Teeth, g.Wheels[p.On].Name, t.PumpWithCrank(), round(t.PumpPerCrank()), t.PumpTurnsUntilMarksMeet(), t.CrankTurnsUntilPumpMark()}
	}
	g.Says = supposingSays(j, gearsSay(gamma, j.Keyway == nil || j.Keyway.Measured == nil), supposedTeeth)
	g.Notes = append(g.notes(), doubtful(j)...)
	g.Steps = g.steps(e.Strokes(), t.CamError(kappa.Value, out))
	return g, nil
}

// gearErrorOf is how far the keyway puts the crank gear ahead; 0 when it was not
// measured.
func gearErrorOf(j job.Job) (timing.Measured, error) {
	if j.Keyway == nil || j.Keyway.Measured == nil {
		return timing.Measured{}, nil
	}
	if j.Keyway.Drawing == nil {
		return timing.Measured{}, missing("keyway.drawing", "is missing: the keyway was measured, and must be compared with the drawing")
	}
	only := j
	only.Dowel = nil
	_, keyway, err := features(only)
	if err != nil {
		return timing.Measured{}, err
	}
	c := keyway.comparison()
	k := part.GearError(&c)
	k.Value = short(k.Value)
	return k, nil
}

// The texts of the gears.
const (
	gearsRight   phrase.Text = "The camshaft is correctly timed."
	gearsAssumed phrase.Text = "If the keyway is correct, the camshaft is correctly timed: the keyway was not measured, and is taken as drawn."
	gearsAhead   phrase.Text = "The camshaft is {{.By}} crank degrees ahead: every valve opens and closes that much early, and the camshaft sensor's edges come that much early."
	gearsBehind  phrase.Text = "The camshaft is {{.By}} crank degrees behind: every valve opens and closes that much late, and the camshaft sensor's edges come that much late."

	gearsMeetSoon  phrase.Text = "All marks are aligned again every {{.Turns}} crankshaft turns."
	gearsMeetOne   phrase.Text = "All marks are aligned again at every crankshaft turn."
	gearsMeetLate  phrase.Text = "All marks are aligned again only after {{.Turns}} crankshaft turns. Crankshaft and camshaft gear are back every {{.Cam}} turns, but an idler gear's mark is then elsewhere: that is no fault."
	gearsLateOne   phrase.Text = "All marks are aligned again only after {{.Turns}} crankshaft turns. Crankshaft and camshaft gear are back at every turn, but an idler gear's mark is then elsewhere: that is no fault."
	gearsLatePump  phrase.Text = "All marks are aligned again only after {{.Turns}} crankshaft turns. Crankshaft and camshaft gear are back sooner, but the pump's mark is then elsewhere: that is no fault."
	gearsHunts     phrase.Text = "The meshing tooth counts {{.Driver}} and {{.Driven}} have no common factor above 1: every tooth of one meets every tooth of the other, and they wear evenly."
	gearsPhases    phrase.Text = "The meshing tooth counts {{.Driver}} and {{.Driven}} have the common factor {{.Phases}}: the same teeth meet again after {{.Turns}} turns of the first. Refit used gears in the same teeth as before."
	gearsTooth     phrase.Text = "One tooth out, at any mesh, moves the camshaft by {{.Tooth}} crank degrees."
	gearsToothCam  phrase.Text = "One tooth out, at any mesh from crankshaft to camshaft, moves the camshaft by {{.Tooth}} crank degrees."
	gearsPump      phrase.Text = "The pump turns {{.Turns}} times as fast as the crankshaft. Fitted one tooth out, it is {{.Tooth}} crank degrees out; the camshaft is not affected."
	gearsPumpMark  phrase.Text = "The pump's mark is back every {{.Turns}} crankshaft turns."
	gearsPumpOne   phrase.Text = "The pump's mark is back at every crankshaft turn."
	gearsStepRatio phrase.Text = "Camshaft gear teeth over crankshaft gear teeth: {{.CamTeeth}} / {{.CrankTeeth}} = {{.Ratio}} crankshaft turns for one camshaft turn. Idler gears do not change it."
	gearsStepTooth phrase.Text = "A tooth of the crankshaft gear is 360 / {{.CrankTeeth}} = {{.Tooth}} crank degrees."
	gearsStepMeet  phrase.Text = "Least common multiple of the tooth counts: {{.Steps}} teeth, which is {{.Turns}} crankshaft turns."
	gearsStepIdler phrase.Text = "While the camshaft turns once, {{.Passed}} teeth pass at every mesh: {{.Whole}} × {{.Idler}} + {{.On}}. The mark of the idler gear with {{.Idler}} teeth is then {{.On}} of them beyond its place."
	gearsStepPump  phrase.Text = "Crankshaft gear teeth over pump gear teeth: {{.CrankTeeth}} / {{.PumpTeeth}} = {{.Turns}} pump turns for one crankshaft turn."
	gearsStepError phrase.Text = "Camshaft error = gear error + teeth out × one tooth = {{.Gear}} + {{.Out}} × {{.Tooth}} = {{.Error}}°."
	gearsStepRound phrase.Text = "Camshaft error = gear error + teeth out × one tooth = {{.Gear}} + {{.Out}} × {{.Tooth}} = {{.Sum}}°, the short way round the cycle {{.Error}}°."
)

func gearsSay(gamma timing.Deg, assumed bool) phrase.Sentence {
	data := map[string]any{"By": deg(size(gamma))}
	switch {
	case deg(gamma).String() == "0" && assumed:
		return phrase.Sentence{Text: gearsAssumed}
	case deg(gamma).String() == "0":
		return phrase.Sentence{Text: gearsRight}
	case gamma < 0:
		return phrase.Sentence{Text: gearsBehind, Data: data}
	}
	return phrase.Sentence{Text: gearsAhead, Data: data}
}

func (g Gears) notes() []phrase.Sentence {
	tooth := map[string]any{"Tooth": phrase.Num{Value: g.CrankDegPerTooth, Decimals: 2}}
	list := []phrase.Sentence{g.meetSay(), {Text: gearsTooth, Data: tooth}}
	if p := g.Pump; p != nil {
		list[1].Text = gearsToothCam
		list = append(list, phrase.Sentence{Text: gearsPump, Data: map[string]any{"Turns": phrase.Num{Value: p.TurnsPerCrank, Decimals: 3}, "Tooth": tooth["Tooth"]}},
			phrase.Sentence{Text: gearsPumpMark, Data: map[string]any{"Turns": p.CrankTurns}})
		if p.CrankTurns == 1 {
			list[3] = phrase.Sentence{Text: gearsPumpOne}
		}
	}
	for _, m := range g.Meshes {
		if m.Hunting {
			list = append(list, phrase.Sentence{Text: gearsHunts, Data: map[string]any{"Driver": m.Driver, "Driven": m.Driven}})
			continue
		}
		list = append(list, phrase.Sentence{Text: gearsPhases, Data: map[string]any{"Driver": m.Driver, "Driven": m.Driven, "Phases": m.Phases, "Turns": m.DriverTurns}})
	}
	return list
}

// meetSay says when all marks meet again, and why that takes longer than crank and
// cam gear do: a wheel that is not back with them.
func (g Gears) meetSay() phrase.Sentence {
	data := map[string]any{"Turns": whole(g.CrankTurnsMarks), "Cam": g.CrankTurnsCam}
	switch _, idler := g.late(); {
	case idler && g.CrankTurnsCam == 1:
		return phrase.Sentence{Text: gearsLateOne, Data: data}
	case idler:
		return phrase.Sentence{Text: gearsMeetLate, Data: data}
	case g.CrankTurnsMarks.Cmp(big.NewInt(int64(g.CrankTurnsCam))) > 0:
		return phrase.Sentence{Text: gearsLatePump, Data: data}
	case g.CrankTurnsMarks.Cmp(big.NewInt(1)) == 0:
		return phrase.Sentence{Text: gearsMeetOne}
	}
	return phrase.Sentence{Text: gearsMeetSoon, Data: data}
}

// passed is how many teeth pass at every mesh until crank and cam gear are back.
func (g Gears) passed() int { return g.CrankTurnsCam * g.Wheels[0].Teeth }

// late returns the first idler whose mark is not back with crank and cam gear.
func (g Gears) late() (Wheel, bool) {
	for _, w := range g.Wheels[1 : len(g.Wheels)-1] {
		if g.passed()%w.Teeth != 0 {
			return w, true
		}
	}
	return Wheel{}, false
}

// whole writes a count that may have hundreds of digits.
func whole(n *big.Int) string {
	s := n.String()
	if len(s) <= 12 {
		return s
	}
	return "about " + s[:1] + "." + s[1:2] + " × 10^" + phrase.Num{Value: float64(len(s) - 1)}.String()
}

func (g Gears) steps(strokes int, sum timing.Deg) []phrase.Sentence {
	crank, cam := g.Wheels[0], g.Wheels[len(g.Wheels)-1]
	tooth := phrase.Num{Value: g.CrankDegPerTooth, Decimals: 2}
	teeth := new(big.Int).Mul(g.CrankTurnsMarks, big.NewInt(int64(crank.Teeth)))
	last := phrase.Sentence{Text: gearsStepError, Data: map[string]any{"Gear": fine(timing.Deg(g.GearErrorDeg)), "Out": phrase.Operand(phrase.Num{Value: float64(g.TeethOut)}), "Tooth": tooth,
		"Error": fine(timing.Deg(g.CamErrorDeg)), "Sum": fine(sum)}}
	if size(sum-timing.Deg(g.CamErrorDeg)) > timing.CycleOf(strokes)/2 {
		last.Text = gearsStepRound
	}
	list := []phrase.Sentence{
		{Text: gearsStepRatio, Data: map[string]any{"CamTeeth": cam.Teeth, "CrankTeeth": crank.Teeth, "Ratio": phrase.Num{Value: g.Ratio, Decimals: 3}}},
		{Text: gearsStepTooth, Data: map[string]any{"CrankTeeth": crank.Teeth, "Tooth": tooth}},
	}
	if p := g.Pump; p != nil {
		list = append(list, phrase.Sentence{Text: gearsStepPump, Data: map[string]any{"CrankTeeth": crank.Teeth, "PumpTeeth": p.Teeth, "Turns": phrase.Num{Value: p.TurnsPerCrank, Decimals: 3}}})
	}
	if w, ok := g.late(); ok {
		list = append(list, phrase.Sentence{Text: gearsStepIdler, Data: map[string]any{"Passed": g.passed(), "Whole": g.passed() / w.Teeth, "Idler": w.Teeth, "On": g.passed() % w.Teeth}})
	}
	return append(list, phrase.Sentence{Text: gearsStepMeet, Data: map[string]any{"Steps": whole(teeth), "Turns": whole(g.CrankTurnsMarks)}}, last)
}
