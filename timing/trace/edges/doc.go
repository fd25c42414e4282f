// Package edges finds where a sensor's signal goes from one extreme to the next, and
// when: the edges of which the teeth of a wheel are made. It knows no wheel.
//
// Times are seconds, values are in the recording's own units. A signal is taken as a
// row of turning points, high and low in turn. Between two of them lies an edge; its
// time is that at which the signal passes the middle of its neighbourhood: the level
// midway between the extremes round it, which follows an offset that drifts, or, where
// the signal jumps elsewhere (a level whose mean the recorder took away), the middle of
// the jump.
//
// Nothing is decided while samples pass by that more samples could overturn: turning
// points that stand out of the noise are kept, with how far, and which of them are
// teeth is judged at the end ([Prune] and the reader of the wheel). Memory grows with
// the edges and not with the samples.
//
// # Choices
//
// Edges are sought in the samples and in means of 4, 16 and 64 (trace/edges);
// which serves is judged at the end, by how far and how evenly the teeth can be
// followed. Detection without means fails at a tenth of noise, detection with
// long means smears teeth that have few samples. Nothing is decided while
// samples pass by: turning points that stand out of the noise are kept with
// their size, an edge is placed at the middle of its neighbourhood (the median
// of the levels midway between extremes, so that a gap's large swing and a
// drifting offset move nothing), and small edges are pruned at the end against
// those round them.
package edges
