// Command pinphase is the desktop program. It takes a job file to open, or
// "demo"; without one it opens the job that was open last.
package main

import (
	"fmt"
	"os"

	"pinphase/app"
)

func main() {
	name := ""
	switch len(os.Args) {
	case 1:
	case 2:
		name = os.Args[1]
	default:
		fmt.Fprintln(os.Stderr, "pinphase: takes one job file, or demo")
		os.Exit(2)
	}
	app.Main(name)
}
