// Package cause finds which mistake explains what was seen on an engine, and
// which check would tell the rest apart for the least labour.
//
// A [Fault] is a forward model: it says what it does to the engine, as one or
// more [State] values, and where an angle is not known (a slipped wheel may stand
// anywhere) it is integrated over, not guessed. A [Kind] of evidence says how
// probable what was seen is in each state. [Rank] puts the two together by Bayes'
// rule over every single fault and every pair of faults; [Ranking.Next] asks
// which check is expected to tell most in a minute, and [Ranking.Plan] goes on
// until one cause is sure enough.
//
// Angles are crank degrees, positive where the part in question is ahead in the
// direction of rotation:
//
//	wheel error       delta = keyway + dowel + wheel on its seat
//	cam error         gamma = keyway + slipped key + teeth out + cam wheel on its shaft
//	valve timing      keyway + slipped key + teeth out
//	correlation error delta - gamma, known within one turn
//	TDC offset        delta, known within the firing interval
//
// Probabilities of the trade (how often a fault comes, how often a check misses
// it) are common practice and have no source; they stand in the tables faults,
// Kinds, parts and Checks, and can be replaced by the reader's own.
package cause
