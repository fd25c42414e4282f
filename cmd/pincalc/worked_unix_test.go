//go:build unix

package main

import (
	"syscall"
	"time"
)

// worked is how long the processor has worked for this process: what a busy machine
// leaves to others is not in it.
func worked() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		panic(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
