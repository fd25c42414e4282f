// Package snap finds the edges of a photograph near where someone clicked: the rim of a
// shaft's end from three points of it, the edge next to a click, the other holes of a
// circle from one of them. What it finds is a proposal, for a person to look at: it knows
// grey levels and no crankshafts.
//
// An edge is where the grey level changes fastest along a line across it, found to a
// fraction of a pixel as the top of a parabola through the three largest slopes (a
// standard way, e.g. Steger, "An unbiased detector of curvilinear structures", IEEE
// PAMI 20, 1998, for lines; the parabola is our simplification). Positions are in pixels
// as package photo has them: the middle of the first pixel is at 0.5, 0.5.
//
// # Choices
//
// The slope is taken with a Gaussian's derivative, averaged along the edge over a few
// pixels: rust and grain are rough across and along, an edge only across. The rim's sign
// is held to one side all round, light inside or dark inside: glare and shadow make edges
// of either sign. A rim that fewer than half of its normals show is not proposed.
package snap
