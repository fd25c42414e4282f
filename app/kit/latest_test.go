package kit

import (
	"context"
	"slices"
	"sync"
	"testing"
	"time"
)

// latestBench is a latest whose work waits to be let go, and whose main goroutine is the
// test's.
type latestBench struct {
	*Latest[int]
	begun chan int
	let   chan bool
	todo  chan func()
}

func newLatestBench() latestBench {
	b := latestBench{begun: make(chan int), let: make(chan bool), todo: make(chan func(), 100)}
	inTurn := false
	b.Latest = NewLatest(&inTurn, func(ctx context.Context, n int) func() {
		b.begun <- n
		select {
		case <-b.let:
		case <-ctx.Done():
			n = -n
		}
		return func() { shownNumbers = append(shownNumbers, n) }
	})
	b.main = func(f func()) { b.todo <- f }
	shownNumbers = nil
	return b
}

var shownNumbers []int // touched by the test's goroutine alone

// show does what was sent to the main goroutine.
func (b latestBench) show(t *testing.T, want ...int) {
	t.Helper()
	b.Settle()
	for len(b.todo) > 0 {
		(<-b.todo)()
	}
	if !slices.Equal(shownNumbers, want) {
		t.Errorf("shown was %v, want %v", shownNumbers, want)
	}
}

func TestLatestKeepsTheNewestOnly(t *testing.T) {
	b := newLatestBench()
	b.Give(1)
	if n := <-b.begun; n != 1 {
		t.Fatalf("it works on %d", n)
	}
	for n := 2; n <= 9; n++ {
		b.Give(n)
	}
	b.let <- true
	if n := <-b.begun; n != 9 {
		t.Errorf("after 1 it works on %d, want the newest", n)
	}
	b.let <- true
	b.show(t, 1, 9)
}

func TestLatestIsCalledOff(t *testing.T) {
	b := newLatestBench()
	b.Give(1)
	<-b.begun
	b.Give(2)
	b.CallOff() // 1 gives up, 2 is never begun
	b.Settle()
	b.Give(3)
	if n := <-b.begun; n != 3 {
		t.Errorf("it works on %d", n)
	}
	b.let <- true
	b.show(t, 3)
}

// What was finished but not yet shown is not shown either.
func TestLatestDropsWhatIsStale(t *testing.T) {
	b := newLatestBench()
	b.Give(1)
	<-b.begun
	b.let <- true
	b.Settle()
	b.CallOff()
	b.show(t)
}

func TestLatestPauses(t *testing.T) {
	b := newLatestBench()
	b.pause(true)
	b.Give(1)
	b.Give(2)
	b.Settle()
	b.pause(false)
	if n := <-b.begun; n != 2 {
		t.Errorf("it works on %d", n)
	}
	b.let <- true
	b.show(t, 2)
}

// While somebody types nothing is begun; the last is, once, and what is called off
// meanwhile is not.
func TestLatestWaitsForAPause(t *testing.T) {
	b := newLatestBench()
	for n := 1; n <= 3; n++ {
		b.GiveAfter(50*time.Millisecond, n)
	}
	if n := <-b.begun; n != 3 {
		t.Errorf("it works on %d", n)
	}
	b.let <- true
	b.show(t, 3)
	b.GiveAfter(time.Hour, 4)
	b.CallOff()
	b.show(t, 3)
	b.GiveAfter(time.Hour, 5)
	b.CallOff()
	b.Give(6)
	if n := <-b.begun; n != 6 {
		t.Errorf("it works on %d", n)
	}
	b.let <- true
	b.show(t, 3, 6)
}

func TestLatestEnds(t *testing.T) {
	b := newLatestBench()
	b.Give(1)
	<-b.begun
	b.Give(2)
	b.End()
	b.Give(3)
	b.show(t)
}

func TestLatestWorksInTurn(t *testing.T) {
	inTurn, sum := true, 0
	l := NewLatest(&inTurn, func(_ context.Context, n int) func() { return func() { sum += n } })
	l.Give(3)
	l.Give(4)
	if sum != 7 {
		t.Errorf("the sum is %d", sum)
	}
}

// Many goroutines' worth of it leaves nothing running, and the last thing given is
// always worked on.
func TestLatestAlwaysDoesTheLast(t *testing.T) {
	var mu sync.Mutex
	var last int
	inTurn := false
	l := NewLatest(&inTurn, func(_ context.Context, n int) func() {
		mu.Lock()
		defer mu.Unlock()
		last = n
		return nil
	})
	for n := range 1000 {
		l.Give(n)
		if n%97 == 0 {
			l.Settle()
			mu.Lock()
			if last != n {
				t.Errorf("settled, the last was %d, want %d", last, n)
			}
			mu.Unlock()
		}
	}
}
