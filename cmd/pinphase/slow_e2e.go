//go:build e2e && !race

package main

// slowness is how many times as long the window may stand still.
const slowness = 1
