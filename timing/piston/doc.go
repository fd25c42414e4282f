// Package piston is what one cylinder does: how far its piston stands below top
// dead centre at any crank angle, with or without a wrist-pin offset.
//
// Angles are a cylinder's own, 0 at the piston's real top dead centre; lengths
// are millimetres. Formulas: Heywood, Internal Combustion Engine Fundamentals,
// 1988, section 2.2, with the offset added to the rod triangle.
package piston
