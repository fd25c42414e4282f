// Package follow follows the edges of a crank channel through the teeth of a wheel: of
// all ways in which edges could be teeth, lost teeth lie between them and edges are too
// many, it takes the most probable one over the whole recording.
//
// Conventions: places count positions of the wheel on through the turns; a place modulo
// the wheel's positions is the position less 1. Costs are negative logarithms of
// probabilities. It is the Viterbi algorithm (A. Viterbi, IEEE Trans. Inf. Theory 13
// (1967) 260) over edges and teeth; the pitch is that of each survivor.
package follow
