// Package trace reads recordings of the crank and cam sensors and tells what they
// prove about an engine: how far the cam's edges lie from where they belong among
// the crank wheel's teeth, and where top dead centre really is in the controller's
// crank angle.
//
// Conventions, those of timing and wheel:
//
//   - The controller's angle is the true crank angle plus delta, the wheel error:
//     a wheel displaced in the direction of rotation brings its teeth early. With
//     B the first tooth's degrees before top dead centre, tooth k passes when the
//     controller's angle is -B + (k-1)*360/N, whatever delta is.
//   - The correlation error is delta - gamma, gamma being the cam error: cam edges
//     seen late in the controller's angle are positive.
//   - The TDC offset is the controller's angle at true top dead centre, delta, known
//     modulo the firing interval.
//   - A tooth passes an inductive sensor at the zero crossing at its centre, a Hall
//     sensor at its leading edge.
//
// The way of a recording: a [samples.Reader] reads its file in blocks; a [Collector] takes
// the blocks and keeps only the edges of each channel and a thinned copy; [Collector.Analyse]
// finds which channel is which, follows the teeth, places the cam's edges and fits
// the speed ripple. Memory does not grow with the sampling rate.
//
// [Collect] alone starts a goroutine, which reads ahead while what was read is kept: a
// long recording is parsed and kept at the same time on two processors. The goroutine has
// nothing but the reader and the blocks on the way, and ends with the recording.
//
// What cannot be known is left out with its reason, a [Fault].
//
// # Choices
//
// What sensor it is, its signal says (trace/sensor.go, camHall): flanks, where
// in a gap the way back lies, how far the signal swings there, whether it grows
// with the speed. An inductive signal's gap has no rest: its swing there is
// three to four times a tooth's, and the teeth beside it are drawn outwards by a
// tenth of a pitch, alike in every turn, which straighten takes back. A
// converter that wraps at its range's end is mended (edges/unwrap.go); levels
// are told from it by never being between.
//
// Which slope of an inductive sensor's signal is the middle of a tooth, the mean course
// through the gap says (trace/gapshape.go): about the middle between the teeth beside the
// gap it is its own reverse, turned over. That holds also of a signal that is cut off at
// one end, whose way back through the gap passes its middle just beside a tooth. Where it
// leaves both slopes open the angle is taken where it is on average, and the uncertainty
// holds both. Of a cam's pulse, which stands alone, the extremes of the middle lie near
// each other. The job's word for a sensor counts as one witness. Levels that a comparator
// makes of an inductive signal look as a Hall sensor's do: the uncertainty of a tooth's
// place then spans the tooth. Where the job says Hall a doubt is left, which counts in the
// uncertainty: of a cam's levels their widths lessen it, for a comparator's grow with the speed
// (trace/camlevels.go). On a wheel without a gap nothing tells tooth from space, for both
// may be the narrower one.
//
// A capacitor before the recorder moves the middle of a cam's pulse by degrees. How fast it
// takes away what is steady the end of the pulse shows, and what it took is given back
// (trace/uncouple.go).
//
// A tooth lost in most turns is broken, if only one way to lay the wheel on what
// was seen is nearly as good (trace/broken.go). Where it leaves a gap like the wheel's
// own, what stands on the wheel's place is not told. A wheel found without the job is
// stated only where it explains the edges better than the job's and was seen twice
// whole, and never with more positions missing than there are teeth or with gaps of many
// lengths. Where the job's with broken teeth explains them as well, both are told with their
// probabilities. A wheel that
// looks the same n times in a turn is laid where the cam says, with the least
// correlation error there is.
//
// A fourth kind of test: flux_test.go makes recordings that take other things
// for granted than the simulator and the crude maker (teeth whose flux overlaps,
// clipping, coupling, low passes, comparators, converters); laws_test.go holds
// what needs no maker.
//
// Reading and keeping go on at the same time (trace/ahead.go): one goroutine
// parses, the caller's keeps. A picture can be glimpsed while it grows: first
// after a tenth of a second, then whenever as much time has passed again.
package trace
