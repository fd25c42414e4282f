package samples

// Block is a run of samples, or of changes of level.
type Block struct {
	Time   []float64   // seconds, never falling
	Values [][]float64 // by channel; NaN where a cell is empty or out of range
	Steps  bool        // each row's values hold until the next row
	Held   []bool      // of channels whose values hold though those of others do not; nil: none
}

// Holds tells whether a channel's values hold until the next row.
func (b *Block) Holds(channel int) bool {
	return b.Steps || channel < len(b.Held) && b.Held[channel]
}

// BlockRows is how many rows a block holds at most.
const BlockRows = 4096

// make gives the block room for as many channels and as many rows as it holds at most.
func (b *Block) make(channels int) {
	if len(b.Values) != channels {
		b.Values = make([][]float64, channels)
	}
	if cap(b.Time) < BlockRows {
		b.Time = make([]float64, BlockRows)
	}
	b.Time = b.Time[:BlockRows]
	for c := range b.Values {
		if cap(b.Values[c]) < BlockRows {
			b.Values[c] = make([]float64, BlockRows)
		}
		b.Values[c] = b.Values[c][:BlockRows]
	}
}

// cut leaves the first rows.
func (b *Block) cut(rows int) {
	b.Time = b.Time[:rows]
	for c := range b.Values {
		b.Values[c] = b.Values[c][:rows]
	}
}
