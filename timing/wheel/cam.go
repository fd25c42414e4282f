package wheel

import (
	"math"

	"pinphase.org/pinphase/timing"
)

// Cam is a cam sensor wheel. Its fields are as in the job file and taken to be
// checked: Teeth begins with 0, rises and stays below 360.
type Cam struct {
	Teeth          []timing.CamDeg // in the order in which they pass the sensor
	FirstToothBTDC timing.Deg      // where tooth 1 passes it, in crank degrees
	Cycle          timing.Deg      // of the engine
}

// PassesAt returns the crank angle, in [0, cycle), at which a tooth (1, 2, ...)
// passes the sensor when the cam is gamma crank degrees ahead of where it
// belongs: a cam ahead brings every tooth earlier.
func (c Cam) PassesAt(tooth int, gamma timing.Deg) timing.Deg {
	return timing.Wrap(-c.FirstToothBTDC+c.Teeth[tooth-1].Crank(c.Cycle)-gamma, c.Cycle)
}

// Narrowest returns the smallest way from one tooth to the next; a whole turn on
// a wheel with one tooth.
func (c Cam) Narrowest() timing.CamDeg {
	least := timing.CamDeg(timing.Turn)
	for i, a := range c.Teeth {
		next := c.Teeth[0] + timing.CamDeg(timing.Turn)
		if i+1 < len(c.Teeth) {
			next = c.Teeth[i+1]
		}
		least = min(least, next-a)
	}
	return least
}

// Repeats returns how many times a turn of the wheel looks the same: 1 for a
// wheel that tells where it stands, 4 for four teeth evenly spaced. A tooth
// counts as in its place within half a cam degree.
func (c Cam) Repeats() int {
	return repeats(len(c.Teeth), func(i int) float64 { return float64(c.Teeth[i]) }, 0.5)
}

// Repeats returns how many times a turn of the wheel looks the same: 1 for a
// wheel with one gap, 3 for one with three gaps that are alike and evenly spread.
func (c Crank) Repeats() int {
	var teeth []float64
	for p := 1; p <= c.Positions; p++ {
		if !c.IsMissing(p) {
			teeth = append(teeth, 360*float64(p-1)/float64(c.Positions))
		}
	}
	return repeats(len(teeth), func(i int) float64 { return teeth[i] }, 1e-6)
}

// repeats counts in how many ways n marks on a circle, rising, coincide with
// themselves when turned.
func repeats(n int, at func(int) float64, slack float64) int {
	for k := n; k > 1; k-- {
		if n%k != 0 {
			continue
		}
		same := true
		for i := 0; i < n && same; i++ {
			j := i + n/k
			turned := at(j%n) + 360*float64(j/n) - at(i)
			same = math.Abs(turned-360/float64(k)) <= slack
		}
		if same {
			return k
		}
	}
	return 1
}
