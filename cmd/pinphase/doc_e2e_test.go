//go:build e2e

// The tests of the real window (tag e2e) want a display; scripts/with-xvfb gives
// them one. They work the real mouse and keys, and find things by their names:
// the program they drive is built with the tag too and then tells on a socket
// what it shows and where (tell_e2e.go; nothing of it is in a release). It
// answers once it has taken in what mouse and keys did before. It finds no other
// program, as on a machine fresh from its installation. A file that does not
// come is made with a lease (fcntl), which holds up whoever opens it.
//
// Every step of the two walks waits for what it brings about, and fails when
// that is there before (e2e_effect_test.go); a test reads the walks for steps
// without an effect. -sizes 1024x640,1920x1080 walks at other sizes.
//
// A watchdog (stall_e2e.go) asks the window's goroutine for a sign of life a
// hundred times a second. One that takes over 200 ms is written to the standard
// error with the goroutine's stack, and fails the test; five times as long is
// allowed to the build with the race detector. All that the main thread worked
// counts; what it waited for a processor or inside a call to the display does
// not; what it slept elsewhere counts less the time in which anything on the
// machine waited for a processor.
package main
