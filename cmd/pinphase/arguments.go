package main

import (
	"errors"
	"fmt"
	"strings"
)

// asked is what a command line asks for. Without a name, or with an empty one, job and
// recording are "".
type asked struct {
	help, version  bool
	job, recording string
}

// parse reads a command line. After "--" everything is a name, also what begins with a dash.
func parse(args []string) (asked, error) {
	var a asked
	var names []string
	for i, arg := range args {
		if arg == "--" {
			names = append(names, args[i+1:]...)
			break
		}
		switch {
		case arg == "--help" || arg == "-h":
			a.help = true
		case arg == "--version":
			a.version = true
		case arg == "-":
			return a, errors.New("the window does not read standard input: name a file")
		case strings.HasPrefix(arg, "-"):
			return a, fmt.Errorf("there is no option %q; see pinphase --help", arg)
		default:
			names = append(names, arg)
		}
	}
	if len(names) > 2 {
		return a, fmt.Errorf("%d names are given; one job file, or demo, and one recording are the most", len(names))
	}
	names = append(names, "", "")
	a.job, a.recording = names[0], names[1]
	return a, nil
}
