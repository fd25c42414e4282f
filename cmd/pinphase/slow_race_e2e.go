//go:build e2e && race

package main

// slowness is how many times as long the window may stand still. The race detector
// makes the same work take 2 to 20 times as long (go.dev/doc/articles/race_detector,
// "Runtime Overhead"). What the window does longest is to paint: the benchmarks of
// timing/figure took 5, 8, 9, 9, 12 and 16 times as long with it.
const slowness = 10
