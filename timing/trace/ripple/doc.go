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
package ripple
