package trace

import (
	"context"

	"pinphase.org/pinphase/timing/trace/samples"
)

// aheadBlocks are on the way between the reading and what is kept of it.
const aheadBlocks = 4

// ahead reads a recording and hands each block on, with the bytes read so far, while the
// next is being read on a goroutine of its own: to parse and to keep take about as long.
// It ends with the reader's error, io.EOF after the last block, or at once with the
// context's, also while the reader waits for bytes that do not come; the reader must then
// not be used any more. A block is used again once take returns.
func ahead(ctx context.Context, r *samples.Reader, take func(b *samples.Block, bytes int64)) error {
	type read struct {
		block *samples.Block
		bytes int64
		err   error
	}
	free, filled := make(chan *samples.Block, aheadBlocks), make(chan read, aheadBlocks) // both have room for all: nobody waits to hand one on
	defer close(free)
	go func() {
		for b := range free {
			err := r.Read(b)
			filled <- read{b, r.Bytes(), err}
			if err != nil {
				return
			}
		}
	}()
	for range aheadBlocks {
		free <- new(samples.Block)
	}
	for {
		select {
		case <-ctx.Done():
			return ctx.Err()
		case got := <-filled:
			if err := ctx.Err(); err != nil {
				return err
			}
			if got.err != nil {
				return got.err
			}
			take(got.block, got.bytes)
			free <- got.block
		}
	}
}
