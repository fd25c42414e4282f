package trace

import (
	"slices"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/wheel"
)

// Role is what a channel shows.
type Role string

// The roles.
const (
	Unknown          Role = ""
	CrankSensor      Role = "crank"
	CamSensor        Role = "cam"
	StarterCurrent   Role = "starter current"
	CylinderPressure Role = "cylinder pressure"
)

// Text is the role as a term.
func (r Role) Text() phrase.Text {
	switch r {
	case CrankSensor:
		return "crankshaft"
	case CamSensor:
		return "camshaft"
	case StarterCurrent:
		return "starter current"
	case CylinderPressure:
		return "cylinder pressure"
	}
	return ""
}

// Channel is a channel and what was found in it.
type Channel struct {
	Name     string
	Role     Role
	ByName   Role         // what its name says; Unknown: nothing
	Sensor   wheel.Sensor // of crank and cam
	Hall     float64      // probability that it is a Hall sensor, by its signal and, of the crank's, the job's word
	Rising   bool         // a tooth passes at a rising edge
	Flat     bool
	Cylinder int // of a cylinder's pressure; 0: not said
	Lost     int64
}

// isAmperes tells whether a word, in small letters, is that unit.
func isAmperes(word string) bool {
	switch strings.Trim(word, "()[]") {
	case "a", "amp", "amps", "ampere", "amperes":
		return true
	}
	return false
}

// nameRole reads a channel's name and unit. A letter in a name is none: "Channel A".
func nameRole(name, unit string) (r Role, cylinder int) {
	low := strings.ToLower(name)
	has := func(words ...string) bool {
		return slices.ContainsFunc(words, func(w string) bool { return strings.Contains(low, w) })
	}
	pressureUnit := map[string]bool{"bar": true, "kpa": true, "mpa": true, "psi": true}[strings.ToLower(unit)]
	switch {
	case has("crank", "ckp", "crk", "flywheel", "engine speed", "kurbel", "cigüeñal", "vilebrequin"):
		return CrankSensor, 0
	case has("cam", "cmp", "phase", "cyl id", "nocken", "levas"):
		return CamSensor, 0
	case has("pressure", "in-cylinder", "compression") || pressureUnit:
		for _, f := range strings.FieldsFunc(low, func(r rune) bool { return r < '0' || r > '9' }) {
			if n := int(f[0] - '0'); len(f) == 1 && n > 0 {
				cylinder = n
			}
		}
		return CylinderPressure, cylinder
	case has("current", "starter", "clamp") || slices.ContainsFunc(strings.Fields(low), func(w string) bool { return len(w) > 2 && isAmperes(w) }) || isAmperes(strings.ToLower(unit)):
		return StarterCurrent, 0
	}
	return Unknown, 0
}
