// Package gear is the train of gears from the crankshaft to the camshaft: its
// ratio, when its marks meet again, and what a gear that was put in some teeth
// out does to the camshaft.
//
// Marks are taken to meet when the crank stands at 0. While the crank turns,
// every wheel of a train passes as many teeth as every other, because the teeth
// of two that mesh pass together: a wheel of z teeth has its mark back where it
// was after every z teeth, and all marks are back together after the least
// common multiple of all the tooth numbers. An idler changes nothing in the
// ratio, but its teeth count there.
//
// Angles are positive in the direction in which the crankshaft turns. A wheel
// that is driven turns against its driver.
package gear
