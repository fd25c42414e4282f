package timing

// ValveTimes are the four events of one cylinder, each counted from the dead
// centre the trade counts it from. Nil pairs are not known. In a two-stroke the
// intake is the scavenge port, and its opening "before top dead centre" is
// usually a negative number or one beyond 180.
type ValveTimes struct {
	Intake  *ValvePair // opens before TDC, closes after BDC
	Exhaust *ValvePair // opens before BDC, closes after TDC
}

// ValvePair is one valve's opening and closing, in degrees from its dead centre.
type ValvePair struct {
	Opens, Closes Deg
}

// IntakeSpan returns when the intake is open, in a cylinder's own angle.
func (s Scheme) IntakeSpan(p ValvePair) Span {
	tdc, bdc := s.Cycle()-Turn, s.Cycle()-180 // gas-exchange dead centres of a four-stroke: 360, 540
	if s.strokes == 2 {
		tdc, bdc = s.Cycle(), 180
	}
	return s.span(tdc-p.Opens, bdc+p.Closes)
}

// ExhaustSpan returns when the exhaust is open, in a cylinder's own angle.
func (s Scheme) ExhaustSpan(p ValvePair) Span {
	tdc := s.Cycle() - Turn // in a two-stroke this is firing TDC itself
	return s.span(180-p.Opens, tdc+p.Closes)
}

func (s Scheme) span(from, to Deg) Span {
	f := Wrap(from, s.Cycle())
	return Span{f, f + Wrap(to-from, s.Cycle())}
}

// Holds tells whether a cylinder's own angle lies in the span, half-open, with
// the span taken round the cycle.
func (s Span) Holds(alpha, cycle Deg) bool {
	return Wrap(alpha-s.From, cycle) < s.To-s.From
}

// Meet returns where two spans of a cycle overlap; ok is false where they do not. Spans
// that meet twice, as can be when both are long, give the longer piece.
func (s Span) Meet(o Span, cycle Deg) (both Span, ok bool) {
	for _, turn := range []Deg{-cycle, 0, cycle} {
		from := Wrap(s.From, cycle)
		other := Wrap(o.From, cycle) + turn
		piece := Span{max(from, other), min(from+s.To-s.From, other+o.To-o.From)}
		if piece.To > piece.From && piece.To-piece.From > both.To-both.From {
			both, ok = piece, true
		}
	}
	return both, ok
}
