// Package samples reads what a file of a recording holds: channels with their names
// and units, and what they showed, block by block.
//
// Conventions: times are seconds and never fall; values are in the file's own units,
// NaN where the file has none. A block holds either samples, between which a signal
// goes on from one value to the next, or, with [Block.Steps], changes of level: what a
// row says holds until the next row, and the edge is at the row's time. A recording is
// all of one kind.
//
// Memory does not grow with the recording. What must be said of the reading is a [Note].
package samples
