// Package part is what is measured on a crankshaft: the angle from one feature
// to another (keyway to dowel, throw to keyway), by which method and how surely,
// and what the measured angle says about the part.
//
// A reading is as its user took it: lengths in millimetres, angles with a side,
// seen from an end. [Reading.Measure] turns it into an angle on the part,
// positive in the direction of rotation, with its standard uncertainty by the
// law of propagation (JCGM 100:2008, eq. 10). Angles on a part are in
// (-180, 180].
package part
