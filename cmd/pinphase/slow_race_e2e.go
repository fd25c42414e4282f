//go:build e2e && race

package main

// slowness is how many times as long the window may stand still. The race detector
// makes the same work take 2 to 20 times as long (go.dev/doc/articles/race_detector,
// "Runtime Overhead"): to lay everything out anew for another size of text, which takes
// the window longest, 11 times as long, with the letters built without it.
const slowness = 10
