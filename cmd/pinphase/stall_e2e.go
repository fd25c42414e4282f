//go:build e2e

package main

import (
	"bytes"
	"fmt"
	"os"
	"runtime"
	"strconv"
	"strings"
	"sync"
	"time"

	"fyne.io/fyne/v2"
)

// The watchdog of the window's goroutine, on which everything is done that the
// window does. Whatever that goroutine waits for, the user waits for too. A stall
// is written to the standard error, where the end-to-end tests look for it.

const (
	// stallLimit is how long the goroutine may be kept from what is asked of it.
	stallLimit = 200 * time.Millisecond
	stallBegin = "pinphase: the window stood still for "
	stallEnd   = "pinphase: that was where it stood"
)

// stallOf is how long a test wants the window to stand still once, to see that it is
// noticed.
const stallOf = "PINPHASE_STALL"

// watchOnce starts the watchdog with the first question that the program answers:
// before, there is no loop to be held up.
var watchOnce sync.Once

// watchStalls asks the window's goroutine for a sign of life, again and again.
func watchStalls() {
	if d, err := time.ParseDuration(os.Getenv(stallOf)); err == nil {
		signOfLife()
		fyne.Do(func() { time.Sleep(d) })
	}
	for {
		signOfLife()
		time.Sleep(10 * time.Millisecond)
	}
}

// signOfLife asks once and writes down when it takes too long.
func signOfLife() {
	ran := make(chan struct{})
	began, waited := time.Now(), mainWaited()
	fyne.Do(func() { close(ran) })
	var stack []byte
	var late time.Duration // by which this goroutine, which has nothing to do, was woken too late
	const tick = 10 * time.Millisecond
	for alive := false; !alive; {
		slept := time.Now()
		timer := time.NewTimer(tick)
		select {
		case <-ran:
			alive = true
		case <-timer.C:
			late += max(0, time.Since(slept)-tick)
		}
		timer.Stop()
		if !alive && stack == nil && time.Since(began) > stallLimit/2 {
			stack = mainStack()
		}
	}
	// A machine that is busy with other things keeps everybody waiting: the time in
	// which the thread could have run but was given no processor is not the
	// program's.
	took := time.Since(began)
	starved := max(late, mainWaited()-waited)
	if took-starved > stallLimit {
		fmt.Fprintf(os.Stderr, "%s%d ms, and %d ms for want of a processor\n%s\n%s\n", stallBegin,
			(took - starved).Milliseconds(), starved.Milliseconds(), bytes.TrimSpace(stack), stallEnd)
	}
}

// mainWaited is how long the main thread has waited for a processor in all, as the
// kernel counts (proc(5), schedstat, the second number); 0 where it does not tell.
func mainWaited() time.Duration {
	pid := strconv.Itoa(os.Getpid()) // the main thread has the process's number
	data, err := os.ReadFile("/proc/" + pid + "/task/" + pid + "/schedstat")
	if f := strings.Fields(string(data)); err == nil && len(f) > 1 {
		ns, _ := strconv.ParseInt(f[1], 10, 64) // 0 on an error
		return time.Duration(ns)
	}
	return 0
}

// mainStack is where the window's goroutine is now: it is the first.
func mainStack() []byte {
	all := make([]byte, 1<<20)
	all = all[:runtime.Stack(all, true)]
	for _, one := range bytes.Split(all, []byte("\n\n")) {
		if bytes.HasPrefix(one, []byte("goroutine 1 ")) || bytes.HasPrefix(one, []byte("goroutine 1\t")) {
			return one
		}
	}
	return all
}
