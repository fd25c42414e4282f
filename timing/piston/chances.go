package piston

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// Chances makes draws on all processors and returns their tally. The same seed
// gives the same tally on any machine, however many processors share the work:
// every chunk of draws has a stream of its own, and counts add up the same in
// any order. It ends early with the context's error when that is done, and
// leaves no goroutine behind. draws below 1 make one.
//
// Of the arithmetic only this, and reading a recording ahead, starts goroutines: a
// hundred thousand draws are more than a frame of the screen, and the chunks are
// independent.
func (s Sampler) Chances(ctx context.Context, draws int, seed uint64) (Tally, error) {
	draws = max(draws, 1)
	chunks := (draws + ChunkSize - 1) / ChunkSize
	tallies := make([]Tally, chunks)
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), chunks) {
		wg.Go(func() {
			for ctx.Err() == nil {
				k := int(next.Add(1)) - 1
				if k >= chunks {
					return
				}
				tallies[k] = s.Chunk(seed, k, min(ChunkSize, draws-k*ChunkSize))
			}
		})
	}
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return Tally{}, err
	}
	var sum Tally
	for _, t := range tallies {
		sum.Add(t)
	}
	return sum, nil
}
