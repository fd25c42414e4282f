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
package trace
