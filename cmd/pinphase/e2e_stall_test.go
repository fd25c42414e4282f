//go:build e2e

package main

import (
	"strings"
	"syscall"
	"testing"
	"time"
)

// A window that stands still is noticed, with where; a program that is given no
// processor, as on a busy machine, is not blamed for it.
func TestStallsAreNoticed(t *testing.T) {
	binary := build(t)
	t.Setenv(stallOf, "400ms")
	w := start(t, binary, newHomes(t))
	w.mayStall = true
	w.until("the stall to be noticed", func() bool { return strings.Contains(w.log.String(), stallEnd) })
	list := stalls(w.log.String())
	if len(list) != 1 || !strings.Contains(list[0], "goroutine 1 ") || !strings.Contains(list[0], "main.busy") {
		t.Errorf("what is said of it: %q", list)
	}

	t.Setenv(stallOf, "")
	w = start(t, binary, newHomes(t))
	w.usable()
	w.cmd.Process.Signal(syscall.SIGSTOP)
	time.Sleep(600 * time.Millisecond)
	w.cmd.Process.Signal(syscall.SIGCONT)
	w.usable()
}
