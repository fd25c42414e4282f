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
//
// # Choices
//
// A recording is told by its content (trace/samples): WAV and VCD by how they
// begin, all else is a table. A samples.Block holds samples or, with Steps,
// changes of level (samples/changes.go tells them by their times and values);
// levels are never expanded into samples: edges.Finder takes each change as an
// edge, Picture draws what is held before it. Behind a capacitor levels are
// found by their jumps (edges/coupled.go): between two jumps the signal must run
// back to rest by one exponential law, or the channel is not taken for one.
//
// Rows are read quickly or carefully (trace/samples/quick.go,
// trace/samples/row.go): the quick way takes rows of plain numbers, eight
// characters at a time, and leaves every other row untouched for the careful
// one. A property and a fuzz target hold both to the same bits, line numbers and
// errors; numbers are correctly rounded without strconv up to 19 digits
// (trace/samples/decimal.go).
//
// A recording may have any length, 8 channels, lines of 256 KiB, 100 bad rows,
// words of a VCD of 512 KiB and 4096 variables, a header of a WAV of 4 KiB
// whatever size it promises; packed, at most 200 times its size once 64 MiB have
// been unpacked.
package samples
