package lesson

import (
	"fmt"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

func solveGears(q Question) string {
	g := q.Job.Gears
	number := func(v float64) string { return phrase.Num{Value: v, Decimals: 2}.String() }
	tooth := 360 / float64(g.CrankTeeth)
	sided := func(early float64) string {
		switch {
		case early > 0:
			return number(early) + "° early"
		case early < 0:
			return number(-early) + "° late"
		}
		return "neither early nor late"
	}
	switch {
	case tells(q, "does a camshaft gear fitted one tooth out"):
		return number(tooth) + "°"
	case tells(q, "are all the marks aligned"):
		all := append(append([]int{g.CrankTeeth}, g.IdlerTeeth...), g.CamTeeth)
		for turns := 1; ; turns++ {
			back := true
			for _, z := range all {
				back = back && turns*g.CrankTeeth%z == 0
			}
			if back && turns == 1 {
				return "one turn"
			}
			if back {
				return fmt.Sprintf("%d turns", turns)
			}
		}
	case tells(q, "which way does the camshaft gear turn"):
		clockwise := q.Job.Engine.Rotation != "anticlockwise"
		for range len(g.IdlerTeeth) + 1 {
			clockwise = !clockwise
		}
		if clockwise {
			return "clockwise"
		}
		return "anticlockwise"
	case tells(q, "one tooth ahead"):
		return sided(tooth)
	case tells(q, "one tooth behind"):
		return sided(-tooth)
	case tells(q, "teeth ahead"):
		return sided(told(q, "K") * tooth)
	case tells(q, "teeth behind"):
		return sided(-told(q, "K") * tooth)
	}
	// Each of the two is said by its own sentence: the wheel's comes first.
	signed := func(s phrase.Sentence) float64 {
		v := s.Data["By"].(phrase.Num).Value
		if strings.Contains(string(s.Text), "behind") {
			return -v
		}
		return v
	}
	delta, gamma := signed(q.Given[0]), signed(q.Given[1])
	// A cam edge comes gamma early in true degrees; the controller's clock is delta fast.
	return sided(gamma - delta)
}
