package edges

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// pulseTrain are the changes of a wheel of so many positions with some missing, tooth after
// tooth high for a share of its pitch, turned from a rest to a speed that ripples.
func pulseTrain(positions, missing int, duty float64, turns int) (list []Edge) {
	at := 3.0
	for i := range positions * turns {
		pitch := 0.2 / float64(positions) * (1 + 0.2*math.Sin(float64(i)/float64(positions)*4*math.Pi)) * (1 + 1/(1+float64(i)/8))
		if i%positions < positions-missing {
			list = append(list, Edge{At: at, From: 0, To: 1}, Edge{At: at + duty*pitch, From: 1, To: 0})
		}
		at += pitch
	}
	return list
}

// spoil puts glitches into pulses: so many, each so long as a share of the shortest pulse.
func spoil(list []Edge, n int, share float64, dice *rand.Rand) (spoiled []Edge) {
	shortest := math.Inf(1)
	for i := 1; i < len(list); i++ {
		shortest = min(shortest, list[i].At-list[i-1].At)
	}
	in := map[int]bool{}
	for len(in) < n {
		in[dice.IntN(len(list)-1)] = true
	}
	for i, e := range list {
		spoiled = append(spoiled, e)
		if in[i] {
			at := e.At + (list[i+1].At-e.At)*(0.2+0.6*dice.Float64())
			spoiled = append(spoiled, Edge{At: at, From: e.To, To: e.From}, Edge{At: at + share*shortest, From: e.From, To: e.To})
		}
	}
	return spoiled
}

// Pulses too short for a tooth are taken out and counted; those of a wheel stay, whatever
// their width.
func TestDeglitch(t *testing.T) {
	for _, w := range []struct {
		positions, missing int
		duty               float64
	}{{60, 2, 0.5}, {36, 1, 0.3}, {36, 2, 0.7}, {12, 3, 0.5}, {4, 1, 0.1}, {60, 2, 0.05}, {24, 0, 0.9}, {1, 0, 0.015}, {1, 0, 0.985}, {2, 0, 0.01}} {
		clean := pulseTrain(w.positions, w.missing, w.duty, 12)
		if kept, taken := Deglitch(clean); taken != 0 || len(kept) != len(clean) {
			t.Errorf("%v: %d pulses taken of a clean wheel", w, taken)
		}
		for _, n := range []int{1, 5, len(clean) / 10} {
			if n >= len(clean) {
				continue
			}
			kept, taken := Deglitch(spoil(clean, n, 0.05, rand.New(rand.NewPCG(uint64(n), 7))))
			if taken != n || fmt.Sprint(kept) != fmt.Sprint(clean) {
				t.Errorf("%v, %d glitches: %d taken, %d of %d edges kept", w, n, taken, len(kept), len(clean))
			}
		}
	}
}

// Uneven wheels have narrow teeth beside wide ones: they are teeth.
func TestDeglitchLeavesUnevenTeeth(t *testing.T) {
	var list []Edge
	at := 0.0
	for range 12 { // a cam wheel of wide and narrow teeth, 10 to 1
		for _, wide := range []float64{0.1, 0.02, 0.05, 0.01} {
			list = append(list, Edge{At: at, To: 1}, Edge{At: at + wide, From: 1})
			at += 0.15
		}
	}
	if kept, taken := Deglitch(list); taken != 0 || len(kept) != len(list) {
		t.Errorf("%d taken", taken)
	}
}

// Two teeth of a cam stand near each other in every turn: the short space between them is
// theirs, wherever in the recording it is, and while the engine gathers speed.
func TestDeglitchLeavesNearTeeth(t *testing.T) {
	for _, teeth := range [][]float64{{0, 120, 240, 255}, {0, 90, 180, 270, 285}, {0, 60, 120, 180, 240, 300, 315}} {
		for _, flip := range []float32{0, 1} {
			var list []Edge
			for turn := range 6 {
				for _, a := range teeth {
					for i, at := range []float64{a, a + 8} {
						x := float64(turn) + at/360
						up := (float32(i) + flip) - 2*flip*float32(i)
						list = append(list, Edge{At: math.Sqrt(x + 0.3), From: up, To: 1 - up})
					}
				}
			}
			if kept, taken := Deglitch(list); taken != 0 || len(kept) != len(list) {
				t.Errorf("%v, flip %g: %d taken of %d", teeth, flip, taken, len(list))
			}
		}
	}
}

// A few changes tell nothing, and none is no fault.
func TestDeglitchOfLittle(t *testing.T) {
	for n := range 12 {
		list := make([]Edge, n)
		for i := range list {
			list[i] = Edge{At: float64(i * i), To: float32(1 - i%2), From: float32(i % 2)}
		}
		if kept, taken := Deglitch(list); taken != 0 || len(kept) != n {
			t.Errorf("%d of %d taken", taken, n)
		}
	}
}
