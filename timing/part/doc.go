// Package part is what is measured on a crankshaft: the angle from one feature
// to another (keyway to dowel, throw to keyway), by which method and how surely,
// and what the measured angle says about the part.
//
// A [Reading] is as its user took it: lengths in millimetres, once or several
// times, angles with a side, seen from an end. [Reading.Measure] turns it into an
// angle on the part, positive in the direction of rotation, with its standard
// uncertainty and what each length contributes to that: by the law of propagation
// (JCGM 100:2008, eq. 10), or by Monte Carlo (JCGM 101:2008) where the formula
// bends too much for it. The engine for both is in the folder uncertainty. Angles
// on a part are in (-180, 180].
//
// [Judge] weighs what was measured of dowel and keyway: as drawn, mirrored, keyway
// wrong or something else; [Verdict.Next] finds the reading that would tell more.
//
// [Stop], [Drop] and [Damper] are for true top dead centre: by a positive stop or
// an equal drop, with the wrist-pin offset taken out, and marked on a rim. [Keys],
// [Woodruffs] and [Dowels] are the standard sizes.
//
// # Choices
//
// A reading whose formula is far from straight (a chord nearly in line with the
// centre) has no useful slope: where the bend moves an end of the 95 % interval
// by more than half a standard uncertainty, the angle is drawn by Monte Carlo
// instead (JCGM 101).
//
// A drawing without an uncertainty is exact; a measurement without one takes its
// method's default, which the answer names.
package part
