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
	stallLimit = 200 * time.Millisecond * slowness
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
		fyne.Do(func() { busy(d) })
	}
	for {
		signOfLife()
		time.Sleep(10 * time.Millisecond)
	}
}

// busy works for a time on a processor, or as long by the clock where the kernel does
// not tell how long it was given one.
func busy(d time.Duration) {
	began, first := time.Now(), timesNow().worked
	for timesNow().worked-first < d && (first > 0 || time.Since(began) < d) {
	}
}

// signOfLife asks once and writes down when it takes too long.
//
// Not all the time that passes is the program's: a machine that is busy with other
// things keeps everybody waiting. What the main thread worked counts. What it could
// have worked and was given no processor does not. Nor does what it slept inside a
// call to the display, to show a picture or to make a window the one that is drawn in:
// how long that takes is up to the display, which others use too, and where there is
// no graphics card to the threads that draw in its place; nor what it worked there to
// make a window, which can be done nowhere else and not in parts. What it slept elsewhere,
// waiting for a disk or a lock, counts less the time in which somebody on the machine
// waited for a processor, since that may be whom it waited for. On a machine that does
// nothing else all of that counts.
func signOfLife() {
	ran := make(chan struct{})
	began, first := time.Now(), timesNow()
	fyne.Do(func() { close(ran) })
	var stack []byte
	var worked, made, slept, shown, pressed, late time.Duration // late: this goroutine was woken, as when the whole program is stopped
	const tick = 10 * time.Millisecond
	asleep, last := began, first
	for alive := false; !alive; {
		timer := time.NewTimer(tick)
		select {
		case <-ran:
			alive = true
		case <-timer.C:
		}
		timer.Stop()
		display, making := false, false
		if !alive && time.Since(began) > stallLimit/4 {
			now := mainStack()
			if display = inDisplay(now); !display || stack == nil {
				stack = now
			}
			making = display && bytes.Contains(now, []byte("._Cfunc_glfwCreateWindow("))
		}
		woken, now := time.Now(), timesNow()
		took, did := woken.Sub(asleep), now.worked-last.worked
		if making {
			made += did
		} else {
			worked += did
		}
		rest := took - did - (now.queued - last.queued)
		if display {
			shown += rest
		} else {
			slept += rest
			pressed += now.pressed - last.pressed
			late += max(0, took-tick)
		}
		asleep, last = woken, now
	}
	took := time.Since(began)
	if counts := worked + max(0, slept-max(pressed, late)); counts > stallLimit {
		fmt.Fprintf(os.Stderr, "%s%d ms: of %d ms it worked %d and %d to make a window, slept %d and %d for the display, and waited %d for a processor, others %d\n%s\n%s\n", stallBegin, counts.Milliseconds(),
			took.Milliseconds(), worked.Milliseconds(), made.Milliseconds(), slept.Milliseconds(), shown.Milliseconds(), (last.queued - first.queued).Milliseconds(), pressed.Milliseconds(), bytes.TrimSpace(stack), stallEnd)
	}
}

// inDisplay tells whether a goroutine is inside a call to the display's libraries, and
// not in what they call back.
func inDisplay(stack []byte) bool {
	_, frames, _ := bytes.Cut(stack, []byte("\n"))
	innermost, _, _ := bytes.Cut(frames, []byte("\n"))
	return bytes.HasPrefix(innermost, []byte("github.com/go-gl/")) && bytes.Contains(innermost, []byte("._Cfunc_"))
}

// times are sums since some beginning.
type times struct {
	worked, queued time.Duration // of the main thread: on a processor, and ready for one
	pressed        time.Duration // of the machine: somebody was ready and had no processor
}

// timesNow asks the kernel: proc(5), schedstat of a thread, in nanoseconds, and
// Documentation/accounting/psi.rst, "some ... total" in microseconds. What is not
// told is 0, and the time counts.
func timesNow() (t times) {
	pid := strconv.Itoa(os.Getpid()) // the main thread has the process's number
	number := func(s string, unit time.Duration) time.Duration {
		n, _ := strconv.ParseInt(s, 10, 64) // 0 on an error
		return time.Duration(n) * unit
	}
	if data, err := os.ReadFile("/proc/" + pid + "/task/" + pid + "/schedstat"); err == nil {
		if f := strings.Fields(string(data)); len(f) > 1 {
			t.worked, t.queued = number(f[0], time.Nanosecond), number(f[1], time.Nanosecond)
		}
	}
	if data, err := os.ReadFile("/proc/pressure/cpu"); err == nil {
		some, _, _ := strings.Cut(string(data), "\n")
		if _, total, ok := strings.Cut(some, "total="); ok {
			t.pressed = number(total, time.Microsecond)
		}
	}
	return t
}

// mainStack is where the window's goroutine is now: it is the first.
func mainStack() []byte {
	all := stacks[:runtime.Stack(stacks, true)]
	for one := range bytes.SplitSeq(all, []byte("\n\n")) {
		if bytes.HasPrefix(one, []byte("goroutine 1 ")) {
			return bytes.Clone(one)
		}
	}
	return bytes.Clone(all)
}

// stacks is where the watchdog writes all stacks, again and again: memory asked for each
// time anew would be cleared and collected at the cost of what is watched.
var stacks = make([]byte, 1<<20)
