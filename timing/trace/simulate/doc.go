// Package simulate makes recordings of engines that were never built, to try the
// reading of recordings on: an engine turned by its starter from first principles,
// two sensor wheels, and a recorder with its faults.
//
// It shares no formula with the packages it tries. Piston and torque come from the
// triangle of crank and rod; the gas from the first law step by step, with heat to
// the walls, a leak and valves; the crank turns by the sum of all torques. Angles
// are degrees at its border and radians within; all else is in SI units.
//
// [Second] and [Third] are engines by makers who take other things for granted. [Edges]
// gives the times of teeth alone, without the samples of a recording.
//
// # Choices
//
// The simulator shares no formula with the fit; a cruder maker in the tests
// (crude_test.go, crudelaw_test.go) prescribes the speed or a torque law of few
// terms, with sensors of other shapes. simulate.Third is a maker on which
// nothing was tuned.
package simulate
