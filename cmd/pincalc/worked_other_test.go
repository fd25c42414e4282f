//go:build !unix

package main

import "time"

var began = time.Now()

// worked is the time that has gone by, for want of what the processor worked.
func worked() time.Duration { return time.Since(began) }
