package job

import (
	"fmt"
	"math"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// crankWheel checks the wheel on the crankshaft and how it is numbered.
func (c *checker) crankWheel(w *CrankWheel) {
	const at = "crank_wheel."
	c.numbers("crank_wheel", w.slots())
	if w.Positions == 0 && !c.Has(at+"positions") {
		c.missing(at+"positions", "is missing: give how many teeth the wheel would have with none missing")
	}
	c.word(at+"sensor", w.Sensor)
	if !c.OK(at+"missing", at+"positions") {
		return
	}
	n := w.Positions
	gone := make([]bool, n+1) // by position
	listed := map[int]int{}
	wrong := 0
	for _, m := range w.Missing {
		listed[m]++
		switch {
		case listed[m] == 2:
			c.fault(at+"missing", "position %d is listed twice", m)
			wrong++
		case listed[m] > 2:
		case m < 1 || m > n:
			c.fault(at+"missing", "there is no position %d; the wheel has positions 1 to %d", m, n)
			wrong++
		default:
			gone[m] = true
		}
		if wrong > 20 {
			return
		}
	}
	switch {
	case wrong > 0 || len(w.Missing) == 0:
	case len(w.Missing) == n:
		c.fault(at+"missing", "every position is missing; a wheel has at least one tooth")
	default:
		c.numbering(w, gone)
	}
}

// numbering checks that position 1 carries the first tooth after a gap that no
// other exceeds, which is how the positions are counted. gone tells of each
// position whether it is missing, from index 1 on.
func (c *checker) numbering(w *CrankWheel, gone []bool) {
	n := len(gone) - 1
	// The length of the gap that ends just before each tooth, the wheel being round.
	gapBefore := func(tooth int) int {
		length := 0
		for p := tooth; ; length++ {
			if p--; p == 0 {
				p = n
			}
			if !gone[p] {
				return length
			}
		}
	}
	longest, first := 0, 1
	for p := 1; p <= n; p++ {
		if !gone[p] {
			if g := gapBefore(p); g > longest {
				longest, first = g, p
			}
		}
	}
	if !gone[1] && gapBefore(1) == longest {
		return
	}
	why := phrase.Of("position 1 is missing")
	switch {
	case gone[1]:
	case !gone[n]:
		why = phrase.Of("position %d is not missing", n)
	default:
		why = phrase.Of("the gap that ends at position %d is not the longest", n)
	}
	again := make([]string, 0, len(w.Missing))
	for p := first; p < first+n; p++ {
		if gone[(p-1)%n+1] {
			again = append(again, fmt.Sprint(p-first+1))
		}
	}
	list := strings.Join(again, ", ")
	if len(again) > 12 {
		list = strings.Join(again[:6], ", ") + ", ..., " + strings.Join(again[len(again)-3:], ", ")
	}
	advice := phrase.Of("first_tooth_btdc_deg is that of the new position 1")
	if b := w.FirstToothBTDCDeg; b.Given && c.OK("crank_wheel.first_tooth_btdc_deg") {
		// Tooth k passes (k-1) pitches after tooth 1, and again each turn.
		moved := math.Mod(b.Value-float64(first-1)*360/float64(n)+720, 360)
		advice = phrase.Of("first_tooth_btdc_deg = %s", figure(moved))
	}
	c.fault("crank_wheel.missing", "%s; position 1 is the first tooth after the longest gap. Count from what is now position %d: missing = [%s], and %s",
		why, first, list, advice)
}

// camWheel checks the wheel on the camshaft.
func (c *checker) camWheel(w *CamWheel, strokes int) {
	const teeth, first = "cam_wheel.teeth_cam_deg", "cam_wheel.first_tooth_btdc_deg"
	c.numbers("cam_wheel", w.slots())
	if b := w.FirstToothBTDCDeg; b.Given && strokes == 2 && b.Value > 360 && c.OK(first, "engine.strokes") {
		c.fault(first, "is %s; in a two-stroke, whose cycle is one turn, it must be at least 0 and at most 360°", figure(b.Value))
	}
	c.word("cam_wheel.sensor", w.Sensor)
	if len(w.TeethCamDeg) == 0 {
		if c.Has(teeth) && c.OK(teeth) {
			c.fault(teeth, "is empty; list the teeth in degrees of the cam sensor wheel from the first, as in [0, 90, 180]")
		} else if c.OK(teeth) {
			c.missing(teeth, "is missing: list the teeth in degrees of the cam sensor wheel from the first, as in [0, 90, 180]")
		}
		return
	}
	if !c.OK(teeth) {
		return
	}
	if len(w.TeethCamDeg) > 3600 {
		c.fault(teeth, "lists %d teeth; a wheel has at most 3600", len(w.TeethCamDeg))
		return
	}
	for i, a := range w.TeethCamDeg {
		switch {
		case math.IsNaN(a) || math.IsInf(a, 0):
			c.fault(teeth, "tooth %d is not a number", i+1)
			return
		case i == 0 && a != 0:
			c.fault(teeth, "the first tooth is at %s; the others are counted from it, so it must be at 0 and %s must be subtracted from each", figure(a), figure(a))
			return
		case i > 0 && a <= w.TeethCamDeg[i-1]:
			c.fault(teeth, "tooth %d at %s does not come after tooth %d at %s; list them rising, in the order in which they pass the sensor",
				i+1, figure(a), i, figure(w.TeethCamDeg[i-1]))
			return
		case a >= 360:
			c.fault(teeth, "tooth %d is at %s; a turn of the wheel ends below 360", i+1, figure(a))
			return
		}
	}
}
