// Command pinphase is the desktop program. It takes a job file to open, or
// "demo", and a recording of its sensors if there is one; without a job it opens
// the one that was open last.
package main

import (
	"fmt"
	"os"

	"pinphase.org/pinphase/app"
)

func main() {
	if len(os.Args) > 3 {
		fmt.Fprintln(os.Stderr, "pinphase: takes one job file, or demo, and one recording at the most")
		os.Exit(2)
	}
	given := append(os.Args[1:], "", "")
	app.Main(given[0], given[1])
}
