// Command pincalc does Pinphase's work without a window: it reads a job and
// prints or draws what follows from it. It builds without cgo.
package main

import (
	"os"

	"golang.org/x/term"
)

func main() {
	os.Exit(run(os.Args[1:], streams{
		in: os.Stdin, out: os.Stdout, errOut: os.Stderr,
		outIsTerminal: term.IsTerminal(int(os.Stdout.Fd())),
		errIsTerminal: term.IsTerminal(int(os.Stderr.Fd())),
	}))
}
