//go:build e2e && race

package main

// slowness is how many times as long the window may stand still. The race detector
// makes the same work take 2 to 20 times as long (go.dev/doc/articles/race_detector,
// "Runtime Overhead"). Most of what the window does longest, text, is built without it.
const slowness = 5
