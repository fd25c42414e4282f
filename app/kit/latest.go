package kit

import (
	"context"
	"sync"
	"time"

	"fyne.io/fyne/v2"
)

// Latest works on the newest of what it is given, one thing at a time, on another
// goroutine: what is given while it works waits, and only the newest of that is kept.
// What it is given, it must be free to read at any time.
type Latest[T any] struct {
	// work does the work and returns what is then to be shown on the main goroutine,
	// or nil. It gives up when ctx is done, and touches no widget.
	work   func(ctx context.Context, item T) (show func())
	inTurn *bool        // it works on the caller's goroutine, as in tests
	main   func(func()) // runs something on the main goroutine

	mu     sync.Mutex
	idle   sync.Cond          // it may have become idle
	next   *given[T]          // what waits; nil for nothing
	cancel context.CancelFunc // of the work under way; nil for none
	called int                // how often it was called off: what was begun before is not shown
	paused bool
	ended  bool
}

// given is something to work on once nothing newer has come for a pause.
type given[T any] struct {
	item  T
	pause time.Duration
}

func NewLatest[T any](inTurn *bool, work func(ctx context.Context, item T) (show func())) *Latest[T] {
	l := &Latest[T]{work: work, inTurn: inTurn, main: fyne.Do}
	l.idle.L = &l.mu
	return l
}

// Give hands over something to work on, in place of what was waiting.
func (l *Latest[T]) Give(item T) { l.GiveAfter(0, item) }

// GiveAfter is Give for what is taken up only when nothing else was given for a pause,
// as while somebody is typing.
func (l *Latest[T]) GiveAfter(pause time.Duration, item T) {
	l.mu.Lock()
	if l.ended {
		l.mu.Unlock()
		return
	}
	l.next = &given[T]{item, pause}
	if !*l.inTurn || l.paused {
		l.begin()
		l.mu.Unlock()
		return
	}
	l.next = nil
	l.mu.Unlock()
	if show := l.work(context.Background(), item); show != nil {
		show()
	}
}

// begin takes up what waits unless there is work under way. mu is held.
func (l *Latest[T]) begin() {
	if l.next == nil || l.cancel != nil || l.paused || l.ended {
		return
	}
	first := *l.next
	ctx, cancel := context.WithCancel(context.Background())
	l.next, l.cancel = nil, cancel
	called := l.called
	go func() {
		var show func()
		if item := l.rested(ctx, first); ctx.Err() == nil {
			show = l.work(ctx, item)
		}
		cancel()
		if show != nil {
			l.main(func() {
				if l.current(called) {
					show()
				}
			})
		}
		l.mu.Lock()
		defer l.mu.Unlock()
		l.cancel = nil
		l.begin()
		l.idle.Broadcast()
	}()
}

// rested waits until nothing newer has come for the pause of the newest, and returns
// that; at once when ctx is done.
func (l *Latest[T]) rested(ctx context.Context, newest given[T]) T {
	for newest.pause > 0 {
		select {
		case <-ctx.Done():
			return newest.item
		case <-time.After(newest.pause):
		}
		l.mu.Lock()
		newer := l.next
		if ctx.Err() == nil { // else it is for who begins next
			l.next = nil
		}
		l.mu.Unlock()
		if newer == nil || ctx.Err() != nil {
			return newest.item
		}
		newest = *newer
	}
	return newest.item
}

func (l *Latest[T]) current(called int) bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return called == l.called
}

// CallOff drops what waits and the result of what is under way, which is told to give
// up.
func (l *Latest[T]) CallOff() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.next = nil
	l.called++
	if l.cancel != nil {
		l.cancel()
	}
}

// pause takes up nothing more until told to go on; what is under way is finished.
func (l *Latest[T]) pause(on bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.paused = on
	l.begin()
}

// Settle returns when nothing is under way and nothing waits. The main goroutine must
// not wait for it.
func (l *Latest[T]) Settle() {
	l.mu.Lock()
	defer l.mu.Unlock()
	for l.cancel != nil || l.next != nil && !l.paused && !l.ended {
		l.idle.Wait()
	}
}

// End calls off everything and takes nothing any more.
func (l *Latest[T]) End() {
	l.CallOff()
	l.mu.Lock()
	defer l.mu.Unlock()
	l.ended = true
}
