// Package wheel is the sensor wheel on the crankshaft: which tooth passes the
// sensor at which crank angle, on a wheel that sits right and on one that is
// displaced.
//
// Positions are numbered from 1 in the order in which they pass the sensor;
// position 1 carries the first tooth after the (longest) gap. On a correct
// engine tooth k passes the sensor at theta = -B + (k-1)*360/N, B being the
// degrees before cylinder 1's top dead centre at which tooth 1 passes. A wheel
// displaced by delta in the direction of rotation brings every tooth delta
// earlier, and the controller believes theta + delta.
package wheel
