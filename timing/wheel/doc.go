// Package wheel is the sensor wheels on crankshaft and camshaft: which tooth
// passes its sensor at which crank angle, on wheels that sit right and on ones
// that are displaced, and the signals the sensors make of it.
//
// Positions of the crank wheel are numbered from 1 in the order in which they pass
// the sensor; position 1 carries the first tooth after the (longest) gap. On a
// correct engine tooth k passes the sensor at theta = -B + (k-1)*360/N, B being the
// degrees before cylinder 1's top dead centre at which tooth 1 passes. A wheel
// displaced by delta in the direction of rotation brings every tooth delta
// earlier, and the controller believes theta + delta.
//
// Cam tooth j, at a_j on the cam, passes at theta = -F + 2*a_j in a four-stroke and
// -F + a_j in a two-stroke, gamma earlier when the cam is gamma crank degrees ahead.
// Against the crank teeth a cam edge is then seen delta - gamma late.
//
// # Choices
//
// A half-turned cam shows in no signal: the crank wheel looks the same in both
// turns of a cycle, so the page and pincalc signal say what does tell it rather
// than a difference in the traces.
package wheel
