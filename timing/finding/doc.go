// Package finding is what a job comes to: the phase of every cylinder at a
// crank angle, where a displaced wheel puts every injection, what the measured
// part is, each as numbers, as a sentence and as the steps that lead there.
//
// It joins a [job.Job] to the arithmetic of timing, wheel, part and piston. The
// command line prints its results, the window shows them, paper repeats them.
// Everything is a function of the job alone. What a job lacks for a result is
// reported as [job.Faults].
package finding
