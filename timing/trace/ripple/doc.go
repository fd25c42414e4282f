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
// Angles are the controller's, in degrees: the true crank angle plus the wheel error.
package ripple
