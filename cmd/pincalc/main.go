// Command pincalc does Pinphase's work without a window: it reads a job and
// prints or draws what follows from it. It builds without cgo.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }
