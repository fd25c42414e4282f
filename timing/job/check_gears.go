package job

import (
	"fmt"

	"pinphase.org/pinphase/timing/phrase"
)

// gears checks the train from crank to cam: idlers change nothing in its ratio.
func (c *checker) gears(g *Gears, strokes int) {
	const crank, idlers, cam, out = "gears.crank_teeth", "gears.idler_teeth", "gears.cam_teeth", "gears.cam_teeth_out"
	c.numbers("gears", g.slots())
	if g.CrankTeeth == 0 && !c.Has(crank) {
		c.missing(crank, "is missing: count the teeth of the crankshaft gear")
	}
	if len(g.IdlerTeeth) > 100 && c.OK(idlers) {
		c.fault(idlers, "lists %d idler gears; at most 100 are accepted", len(g.IdlerTeeth))
	}
	for i, n := range g.IdlerTeeth {
		if (n < 1 || n > 10000) && i < 100 {
			c.fault(idlers, "idler gear %d has %d teeth; a gear has 1 to 10000", i+1, n)
		}
	}
	if g.CamTeeth == 0 && !c.Has(cam) {
		c.missing(cam, "is missing: count the teeth of the camshaft gear")
	}
	c.pump(g)
	if !c.OK(crank, cam) {
		return
	}
	turns := 2 // of the crank in one of the cam
	says := phrase.Text("is %d; a four-stroke's camshaft turns once in two crankshaft turns, so a crankshaft gear of %d teeth goes with %d: these gears are impossible")
	if strokes == 2 {
		turns, says = 1, "is %d; a two-stroke's camshaft turns with the crankshaft, so a crankshaft gear of %d teeth goes with %d: these gears are impossible"
	}
	if (strokes == 2 || strokes == 4) && c.OK("engine.strokes") && g.CamTeeth != turns*g.CrankTeeth {
		c.fault(cam, says, g.CamTeeth, g.CrankTeeth, turns*g.CrankTeeth)
		return
	}
	if n := g.CamTeethOut; (n > g.CamTeeth || n < -g.CamTeeth) && c.OK(out) {
		c.fault(out, "is %d; the camshaft gear has %d teeth, so no more than that either way", n, g.CamTeeth)
	}
}

// pump checks the pump's gear and the wheel it hangs on.
func (c *checker) pump(g *Gears) {
	const teeth, by = "gears.pump_teeth", "gears.pump_driven_by"
	if g.PumpDrivenBy == "" {
		return
	}
	if g.PumpTeeth == 0 && !c.Has(teeth) {
		c.missing(teeth, "is missing: count the teeth of the pump's gear, or leave pump_driven_by out")
	}
	wheels := g.Wheels()
	if _, ok := g.PumpOn(); !ok && c.OK(by, "gears.idler_teeth") {
		c.oneOf(by, g.PumpDrivenBy, wheels)
	}
}

// Wheels returns the names of the wheels of the train: "crank", "idler 1", .., "cam".
func (g *Gears) Wheels() []string {
	list := []string{"crank"}
	for i := range g.IdlerTeeth {
		list = append(list, fmt.Sprintf("idler %d", i+1))
	}
	return append(list, "cam")
}

// PumpOn returns which wheel drives the pump's gear, counted from 0 at the crank
// gear; ok is false for a name that no wheel of the train has.
func (g *Gears) PumpOn() (wheel int, ok bool) {
	if g.PumpDrivenBy == "" {
		return len(g.IdlerTeeth), true
	}
	for i, name := range g.Wheels() {
		if name == g.PumpDrivenBy || g.PumpDrivenBy == "idler" && len(g.IdlerTeeth) == 1 && i == 1 {
			return i, true
		}
	}
	return 0, false
}
