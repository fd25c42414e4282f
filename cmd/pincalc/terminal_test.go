package main

import (
	"bytes"
	"os"
	"strings"
	"testing"
	"time"
)

// Files go to standard output only where no person looks at it.
func TestNoFileGoesToATerminal(t *testing.T) {
	for _, args := range [][]string{
		{"draw", "demo", "--figure", "cycle", "-o", "-", "--format", "svg"}, {"sheet", "demo", "-o", "-", "--format", "pdf"},
		{"signal", "demo", "-o", "-", "--format", "csv"}, {"tape", "-o", "-", "--diameter-mm", "100"}, {"exercise", "demo", "-o", "-", "--format", "html"},
		{"exercise", "demo", "-o", "never.pdf", "--answers", "-", "--format", "html"},
	} {
		var out, errOut bytes.Buffer
		code := run(args, streams{out: &out, errOut: &errOut, outIsTerminal: true})
		if code != exitInput || out.Len() > 0 || errOut.String() != "pincalc: "+errTerminal.Error()+"\n" {
			t.Errorf("%q: %d, %d bytes, %s", args, code, out.Len(), errOut.String())
		}
		if _, err := os.Stat("never.pdf"); err == nil {
			t.Error("a file was written all the same")
			os.Remove("never.pdf")
		}
	}
}

// The reading of a long recording tells on a terminal how far it is, on one line that
// it takes away; never elsewhere, and not when it is to be quiet.
func TestProgress(t *testing.T) {
	clock := time.Date(2026, 1, 1, 0, 0, 0, 0, time.UTC)
	told := func(terminal, quiet bool, size int64) string {
		var b bytes.Buffer
		s := newShell(streams{errOut: &b, errIsTerminal: terminal})
		s.quiet, s.now = quiet, func() time.Time { return clock }
		read, done := s.progress(size)
		for i := int64(1); i <= 4; i++ {
			if read != nil {
				read(i * 50e6)
			}
			clock = clock.Add(200 * time.Millisecond)
		}
		done()
		return b.String()
	}
	if got := told(true, false, 200e6); got != "\rreading: 75 %\r\rreading: 100 %\r\r"+strings.Repeat(" ", 14)+"\r" {
		t.Errorf("%q", got)
	}
	if got := told(true, false, 0); got != "\rreading: 150 MB\r\rreading: 200 MB\r\r"+strings.Repeat(" ", 15)+"\r" {
		t.Errorf("%q", got)
	}
	if told(false, false, 200e6) != "" || told(true, true, 200e6) != "" {
		t.Error("it tells where nobody looks, or is not quiet")
	}
	// A short one is read before there is anything to tell.
	var out, errOut bytes.Buffer
	if code := run([]string{"trace", "demo", "../../testdata/recordings/gravel-barge.csv.gz", "--quiet"}, streams{out: &out, errOut: &errOut, errIsTerminal: true}); code != exitDone || errOut.Len() > 0 {
		t.Errorf("%d, %q", code, errOut.String())
	}
}

// The README's table of commands names every command.
func TestReadmeNamesEveryCommand(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range newShell(streams{}).commands() {
		if c.Name() != "man" && !strings.Contains(string(text), "\n    pincalc "+c.Name()+" ") {
			t.Errorf("the README has no line for pincalc %s", c.Name())
		}
		if !strings.Contains(c.Example, "pincalc "+c.Name()) {
			t.Errorf("the help of %s has no example", c.Name())
		}
	}
}
