// Package finding is what a job comes to: the phase of every cylinder at a
// crank angle, where a displaced wheel puts every injection, what the measured
// part is, each as numbers, as a sentence and as the steps that lead there.
//
// It joins a [job.Job] to the arithmetic of timing, wheel, part and piston. The
// command line prints its results, the window shows them, paper repeats them.
// Everything is a function of the job alone. What a job lacks for a result is
// reported as [job.Faults].
//
// # Choices
//
// No dowel measured means a wheel error of 0 that the answer calls assumed, also
// when the keyway was measured and is off; a note then says that a dowel placed
// from that keyway carries the wheel off with it.
//
// What a recording cannot show is null, with the reason. A cam that is half a
// turn out makes the same recording on an engine whose firings repeat after a
// turn: the correlation is then known up to 360° and says so. Where the firing
// order or a numbered cylinder's pressure can tell, a half-turned cam's
// correlation is delta − 360, within half a cycle. Where a sensor is not of the
// job's kind, or made levels by a circuit, where on a tooth its edges lie is
// taken halfway between what the job's number can mean, with that as
// uncertainty.
//
// A wrapped pair is never a fact (finding/tracebranch.go): TDC is known up to
// the firing interval, the cam often up to a turn. The answer lists every pair
// of wheel and cam error that agrees, with the probability that the table of
// faults gives it (cause.Placements: alone and in pairs, with how their angles
// are spread); the sentence states one where it holds 0.95, or all but a
// half-turned cam, which it then names.
package finding
