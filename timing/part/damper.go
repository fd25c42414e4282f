package part

import "pinphase.org/pinphase/timing"

// Damper is a round rim on which degrees are marked.
type Damper struct {
	DiameterMM float64 // above 0
	UDiameter  float64 // mm, standard uncertainty
}

// Mark is a degree laid off on a rim, from a mark that is already there.
type Mark struct {
	ArcMM, ChordMM float64 // along the rim, as with a tape; straight across, as with dividers
	// How surely the angle is then marked, where the length is laid off with the
	// standard uncertainty that was asked for.
	ArcU, ChordU timing.Deg
}

// Mark returns the lengths for an angle of 0 to 180 degrees, laid off with the
// standard uncertainty u in mm. It is an error for other angles, or no diameter.
func (d Damper) Mark(angle timing.Deg, u float64) (Mark, error) {
	r := d.DiameterMM / 2
	length, radius := Given{u, true}, Given{d.UDiameter / 2, true}
	m := Mark{ArcMM: ArcFor(angle, r), ChordMM: ChordFor(angle, r, r)}
	arc, err := Arc{ArcMM: m.ArcMM, RimRadiusMM: r, UArc: length, URadiusOwn: radius}.Measure(timing.View{})
	if err != nil {
		return Mark{}, err
	}
	chord, err := Chord{ChordMM: m.ChordMM, Radius1: r, UChord: length, URadiusOwn: radius}.Measure(timing.View{})
	if err != nil {
		return Mark{}, err
	}
	m.ArcU, m.ChordU = arc.U, chord.U
	return m, nil
}
