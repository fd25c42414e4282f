// Package class is an exercise for a class and what came of it, as short codes that
// can be written on a board, read out and typed: computers without a network get the
// same questions, and the instructor gets the results.
//
// A code is written with the digits and the capital letters without I, L, O and U, in
// groups of four. Small letters, spaces and hyphens make no difference; I and L are
// read as 1 and O as 0. The last sign is a check letter: it finds every single wrong
// letter and every two neighbours that have changed places, whatever the length.
//
// # Choices
//
// The code carries what decides how an engine fires and turns. Sensor wheels, gears and
// valves would make it several times as long; where a question needs them they are made
// up from the seed, as for an engine that has none.
//
// The check is a sum over the field of 32 elements, each sign weighted by the next power
// of a primitive element: weights are never 0 and neighbours' weights differ, which is
// all that the two promises need (the idea is in Verhoeff, Error Detecting Decimal
// Codes, 1969; from memory). Decimal check digits of the usual kind miss some swaps.
package class
