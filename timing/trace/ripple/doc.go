// Package ripple finds top dead centre from how the speed of a crank rises and falls
// while its starter turns it, and from the pressure in a cylinder.
//
// The speed of a crank that its starter turns follows from the work done on it:
//
//	J w^2/2 = E0 + sum of the cylinders' gas work + (starter - friction) * angle
//
// with J the inertia of all that turns. The starter pulls less the faster it turns
// and friction grows with the speed, so their sum is taken as b0 + b1 w; without b1
// the ripple would seem to lag by degrees. Divided by J that is linear in 1/J, b0,
// b1 and E0, and the gas work depends on where top dead centre is. The speed comes
// from the times of the teeth; of every cycle E0 and b0 are left free, for batteries
// tire and engines warm.
//
// A real wheel's teeth are a little out of place, and what that does to the speed comes
// again every turn. So each tooth's place is an unknown too, with a variance learned
// from the recording, and the noise of single passings and of chance torques is learned
// from how the cycles differ: see wheelplay.go. What the gas may do otherwise than the
// model has it is allowed for in each harmonic of the firings. How far the fit had to
// leave what is known of engines widens what is stated, or refuses it.
//
// Angles are the controller's, in degrees: the true crank angle plus the wheel error.
//
// # Choices
//
// True TDC from the speed is a fit of energy over angle (trace/ripple). Top dead
// centre, leak, heat, the pistons' friction and the brake of the starter push
// the ripple's phase alike: each has a prior (leak and heat go with 1/rpm, brake
// and friction with displacement and flywheel). A wheel's teeth are out of place
// by up to a tenth of a degree, and that comes again every turn as the ripple of
// an even engine does: each tooth's place is an unknown whose variance is
// learned from the recording, the noise of passings and chance torques is
// learned from how cycles differ, and all is solved by generalised least squares
// on where teeth pass rather than on the speed (wheelplay.go, system.go). A
// small misfit of the gas is allowed in each harmonic.
//
// What pulls at what is known of engines widens the answer (bounds.go): the
// squares of the pulls, over what they are where the model holds, multiply u²
// (Birge). An inertia, leak or damping that no engine of the displacement has, a
// cylinder below half of the strongest, overtones that are weak without being
// away (compression released) refuse it; fewer than 4.5 pitches from firing to
// firing too, and u grows with the pitch. No answer far off is worth more than
// one more answer. Where the overtones are not compression's (shape.go) TDC only
// lies near where the crank is slowest, ± 3.5°, and a fault says so.
package ripple
