// Package cause finds which mistake explains what was seen on an engine, and
// which check would tell the rest apart for the least labour.
//
// A [Fault] is a forward model: it says what it does to the engine, as one or
// more [State] values, and where an angle is not known (a slipped wheel may stand
// anywhere) it is integrated over, not guessed. A [Kind] of evidence says how
// probable what was seen is in each state. [Rank] puts the two together by Bayes'
// rule over every single fault and every pair of faults; [Ranking.Next] asks
// which check is expected to tell most for its minutes, and [Ranking.Plan] goes on
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
//
// # Choices
//
// Causes are weighed by Bayes' rule, each fault as a forward model, unknown
// angles summed over a grid, pairs of faults with them. What is common practice
// stands in tables with that said beside it (cause.Kinds, fault.go, check.go),
// and the reader's own numbers replace it.
//
// What is misread is misread as people do it: a count is out by one, and what
// else is worth nothing is anything that somebody would take for a reading of
// this engine (Kind.Slip, Kind.span). Spread over every number that a kind
// takes, a mark miscounted by one tooth would be as rare as by forty, and the
// ranking too sure.
//
// A check's outcomes add up to 1 with what is not named. Bands of a number that
// mean the same are one outcome; where bands alternate (a wheel of another part
// number at every pitch, a slipped one between) they are put together as any
// other number.
//
// Evidence contradicts itself where nothing probable explains all of it and two
// pieces are less probable together than apart. A rare cause that explains
// everything is no contradiction.
package cause
