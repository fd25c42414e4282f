// Command pinphase is the desktop program. It takes a job file to open, or
// "demo", and a recording of its sensors if there is one; without a job it opens
// the one that was open last.
package main

import (
	"fmt"
	"io"
	"os"

	"pinphase.org/pinphase"
	"pinphase.org/pinphase/app"
	_ "pinphase.org/pinphase/app/early" // before the toolkit
	"pinphase.org/pinphase/timing/console"
)

// What is said of a file may have its name in it, and a terminal obeys what stands in
// a name.
func main() {
	out, errOut, end := outputs()
	code := run(os.Args[1:], out, console.NewWriter(errOut))
	end(code)
	os.Exit(code)
}

// The exit codes.
const (
	exitDone   = 0
	exitFailed = 1 // no window could open
	exitInput  = 2 // the command line is wrong
)

const usage = `Usage: pinphase [--] [JOB | demo [RECORDING]]
       pinphase [--] LESSON
       pinphase --version | --help

Opens the window on a job file, on "demo", the job it carries with it, or without
either on the job that was open last, and reads a recording of its sensors. A lesson
(.lesson) is opened beside the job that was open last.
`

// run carries the command line out and returns the exit code.
func run(args []string, out, errOut io.Writer) int {
	asked, err := parse(args)
	switch {
	case err != nil:
		fmt.Fprintf(errOut, "pinphase: %v\n", err)
		return exitInput
	case asked.help:
		_, err = fmt.Fprint(out, usage)
	case asked.version:
		_, err = fmt.Fprintf(out, "pinphase %s\n", pinphase.About().Version)
	default:
		err = app.Main(asked.job, asked.recording, reachDisplay)
	}
	if err != nil {
		fmt.Fprintf(errOut, "pinphase: %v\n", err)
		return exitFailed
	}
	return exitDone
}
