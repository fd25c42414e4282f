// Package follow follows the edges of a crank channel through the teeth of a wheel: of
// all ways in which edges could be teeth, lost teeth lie between them and edges are too
// many, it takes the most probable one over the whole recording.
//
// Conventions: places count positions of the wheel on through the turns; a place modulo
// the wheel's positions is the position less 1. Costs are negative logarithms of
// probabilities. It is the Viterbi algorithm (A. Viterbi, IEEE Trans. Inf. Theory 13
// (1967) 260) over edges and teeth; the pitch is that of each survivor.
//
// # Choices
//
// Teeth are followed by the most probable path (trace/follow, Viterbi over edges
// and teeth, the pitch of each survivor beside it): lost teeth, extra edges, and
// not following at all have their costs. The pitch expected is what it was, or
// goes on changing as it did, or lies between: an engine that comes up from rest
// or nearly stalls at a dead centre changes it by a third from tooth to tooth. A
// survivor that begins anew is kept beside the best way to the same tooth, or a
// wrong first interval would win. Costs have heavy tails, but not too heavy:
// with t-like tails of 2 a wheel that is not there was followed without a slip.
package follow
