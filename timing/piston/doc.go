// Package piston is what one cylinder does: how far its piston stands below top
// dead centre at any crank angle, with or without a wrist-pin offset, how warm
// and how compressed its charge is there, and whether fuel injected into that
// charge can light.
//
// Angles are a cylinder's own, 0 at the piston's real top dead centre, negative
// before it; lengths are millimetres, volumes cubic centimetres, temperatures
// kelvins, pressures bar absolute, times milliseconds. Formulas of the crank
// drive: Heywood, Internal Combustion Engine Fundamentals, 1988, section 2.2,
// with the offset added to the rod triangle.
//
// The way from a cylinder to an answer: a [Cylinder] has volumes; a [Charge] is
// the air closed into it, and [Charge.Path] its state over the whole closed
// part of the cycle; a [Correlation] says how long fuel waits at one state; and
// [Path.Integral] adds that up (Livengood and Wu 1955) for every start of
// injection at once. [Uncertain] repeats it over what is not known exactly.
// Everything here estimates: it compares timings and promises no start.
//
// # Choices
//
// The light-off estimate follows one correlation and shows the others beside it;
// constants that were not seen in print say "from memory" where they stand.
package piston
