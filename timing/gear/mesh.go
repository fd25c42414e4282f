package gear

// Mesh is two wheels of a train that mesh.
type Mesh struct {
	Driver, Driven int // their tooth numbers
}

// Meshes returns the meshes from the crank gear to the cam gear, then the pump's.
func (t Train) Meshes() []Mesh {
	list := make([]Mesh, 0, len(t.teeth))
	for i := range len(t.teeth) - 1 {
		list = append(list, Mesh{t.teeth[i], t.teeth[i+1]})
	}
	if t.pump != nil {
		list = append(list, Mesh{t.teeth[t.pump.On], t.pump.Teeth})
	}
	return list
}

// Hunting tells whether every tooth of one wheel comes to mesh with every tooth
// of the other, which spreads wear: their tooth numbers have no common divisor.
func (m Mesh) Hunting() bool { return m.Phases() == 1 }

// Phases returns in how many ways the two can be put together that never share a
// pair of teeth: the greatest common divisor of the tooth numbers (Foiles, Gear
// Frequencies Using the Euclidean Algorithm).
func (m Mesh) Phases() int { return gcd(m.Driver, m.Driven) }

// DriverTurns returns after how many turns of the driver the same pair of teeth
// meets again.
func (m Mesh) DriverTurns() int { return m.Driven / m.Phases() }
