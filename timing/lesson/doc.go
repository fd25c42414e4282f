// Package lesson is practice for those who learn the trade: questions about an
// engine's phasing with one right answer each, the steps that lead there, how an
// answer is judged, and which question comes next.
//
// A question is a function of an engine, a [Kind], a level from 1 to [Levels] and
// a seed, the same on every machine. What is asked is worked out by the packages
// that work it out for a job: timing, wheel, gear, part and finding; nothing is
// calculated twice. Angles follow the conventions of timing: crank degrees, and
// answers before top dead centre count positive.
package lesson
