package main

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"pinphase.org/pinphase/timing/console"
	"pinphase.org/pinphase/timing/store"
)

// output is the file that a command writes: -o, and --format where its name does
// not say what kind of file it is.
type output struct {
	file   string
	format word // "" unless given
}

// outputFlag adds -o, and --format where there is more than one. The formats are
// as file names end, without the dot.
func outputFlag(cmd *cobra.Command, usage string, formats ...string) *output {
	o := &output{format: word{of: formats}}
	cmd.Flags().StringVarP(&o.file, "output", "o", "", usage+": "+o.endings("or")+`; "-" is standard output`)
	if len(formats) > 1 {
		cmd.Flags().Var(&o.format, "format", "what kind of file, where its name does not say so")
		complete(cmd, "format", formats)
	}
	return o
}

func (o *output) endings(last string) string {
	of := make([]string, len(o.format.of))
	for i, f := range o.format.of {
		of[i] = "." + f
	}
	return listed(of, last)
}

// listed writes a list: "a, b or c".
func listed(list []string, last string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return strings.Join(list[:len(list)-1], ", ") + " " + last + " " + list[len(list)-1]
}

// ending is the format that a name says, "" for none.
func (o *output) ending(name string) string {
	for _, f := range o.format.of {
		if strings.HasSuffix(strings.ToLower(name), "."+f) {
			return f
		}
	}
	return ""
}

// kind is the format of a file of that name.
func (o *output) kind(name string) string {
	if f := o.ending(name); f != "" && name != standard {
		return f
	}
	if o.format.value == "" && len(o.format.of) == 1 {
		return o.format.of[0]
	}
	return o.format.value
}

// needed says that a command cannot do without a file to write.
func (o *output) needed() error {
	files := make([]string, len(o.format.of))
	for i, f := range o.format.of {
		files[i] = "FILE." + f
	}
	return fmt.Errorf("say where to: -o %s", listed(files, "or"))
}

// check judges the names of the files to be written, "" for none.
func (o *output) check(s *shell, names ...string) error {
	used := false // whether --format says something
	for _, name := range names {
		switch {
		case name == "":
			continue
		case name == standard && s.outIsTerminal:
			return errTerminal
		case name == standard || o.ending(name) == "" && o.format.value != "":
			used = true
		}
		if o.kind(name) != "" && (name == standard || o.ending(name) != "" || o.format.value != "") {
			continue
		}
		if name == standard {
			return fmt.Errorf("say what kind of file goes to standard output: --format %s", listed(o.format.of, "or"))
		}
		return fmt.Errorf("%s: the file must end in %s", name, o.endings("or"))
	}
	if o.format.value != "" && !used {
		if len(names) == 0 || names[0] == "" {
			return noEffect("format", "without -o")
		}
		return fmt.Errorf("--format %s: the name of %s says that already; leave it out", o.format.value, names[0])
	}
	return nil
}

// write writes a file, or replaces it once the new one is whole; or it writes to
// standard output. What the new one could not keep of the old one is said on standard
// error.
func (s *shell) write(name string, data []byte) error {
	if name == standard {
		_, err := s.out.Write(data)
		return printed(err)
	}
	lost, err := store.Replace(files, name, data, 0o666)
	if err != nil {
		return failure{fmt.Errorf("%s: %w", name, reason(err))}
	}
	for _, l := range lost {
		fmt.Fprintln(s.told, console.Line(fmt.Sprintf("%s: %s", name, l)))
	}
	return nil
}

// files are the system's, but in tests of what happens when they fail.
var files = store.System

var errBothOut = errors.New("--json prints to standard output, and so does -o -: leave one of them out")
