package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	pictures "pinphase.org/pinphase/timing/part/photo/hostile"
)

// marked is a job whose dowel was measured on a picture.
const marked = `engine = { strokes = 4, firing_order = [1, 5, 3, 6, 2, 4] }
[injection]
start_btdc_deg = 9
[dowel]
drawing = { angle_deg = 12.5, side = "clockwise", u_deg = 0.1 }
[dowel.measured]
method = "photo"
file = %q
rim = [[1072.4, 525.9], [1027.2, 711.6], [902.4, 793.1], [834.2, 801.6], [691.6, 743.1], [624.4, 639.5], [626.9, 496.2], [746.9, 362.6], [925.7, 353.6], [1031.6, 433.7]]
keyway = [[783.5, 348.1], [837.8, 340.6]]
dowel = [[812, 439.4], [799.3, 453.5], [787.6, 454.9], [773, 440.7], [783.5, 419.5], [797.7, 416.5]]
centre = [[842.3, 567.6]]
`

// A sheet of a job with any picture is written within 300 MiB and 10 seconds, with
// the picture or with why it is not there; the angle stands all the same.
func TestHostilePicturesOnASheet(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct {
		name string
		data []byte
		says string // "": it is shown
	}{
		{"large.jpg", pictures.JPEG(8000, 6000, true, false, 0), ""},
		{"scans.jpg", pictures.JPEG(5000, 5000, false, true, 98), ""},
		{"interlaced.png", pictures.PNG(4000, 3500, 8, true, true), ""},
		{"many-scans.jpg", pictures.JPEG(8000, 8000, false, true, 5000), "is built up in more than 100 scans"},
		{"progressive.jpg", pictures.JPEG(11904, 10000, true, true, 10), "or as a JPEG that is not progressive"},
		{"deep.png", pictures.PNG(11900, 10000, 16, true, false), "or with 8 bits a channel"},
		{"wide.png", pictures.PNG(11900, 10000, 8, false, false), "MiB to decode, and at most 240 are used; save it smaller"},
		{"trees.webp", pictures.WebP(2000, 1500, 1<<16), "is a damaged WebP picture"},
	} {
		if err := os.WriteFile(filepath.Join(dir, c.name), c.data, 0o644); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "job.toml"), fmt.Appendf(nil, marked, c.name), 0o644); err != nil {
			t.Fatal(err)
		}
		out := filepath.Join(dir, "claim.html")
		if err := os.RemoveAll(out); err != nil {
			t.Fatal(err)
		}
		peak, took, said := measured(t, dir, "sheet", "job.toml", "--claim", "-o", "claim.html")
		t.Logf("%s: %d MiB, %.1f s %s", c.name, peak>>20, took.Seconds(), said)
		if peak > 300<<20 {
			t.Errorf("%s: took %d MiB", c.name, peak>>20)
		}
		if took > 10*time.Second {
			t.Errorf("%s: took %v", c.name, took)
		}
		if c.says != "" && strings.Contains(said, c.says) {
			continue // refused by what the header says, before anything was begun
		}
		html, err := os.ReadFile(out)
		if err != nil {
			t.Errorf("%s: %v; %s", c.name, err, said)
			continue
		}
		shown := strings.Contains(string(html), "data:image/")
		if shown != (c.says == "") || c.says != "" && !strings.Contains(string(html), c.says) || !strings.Contains(string(html), "12.5") {
			t.Errorf("%s: shown %v, want %q on the sheet", c.name, shown, c.says)
		}
	}
}

// measured runs pincalc in a folder and returns the most memory it had, how long it
// computed (which does not hang on what else the machine does) and what it said on standard error.
func measured(t *testing.T, dir string, args ...string) (peak int64, took time.Duration, said string) {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	var errOut strings.Builder
	cmd := &exec.Cmd{Path: self, Args: append([]string{"pincalc"}, args...), Dir: dir, Stderr: &errOut}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	done := make(chan error, 1)
	go func() { done <- cmd.Wait() }()
	high := regexp.MustCompile(`VmHWM:\s+(\d+) kB`) // proc(5): the peak of the memory it holds
	for {
		select {
		case <-done:
			return peak, cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime(), errOut.String()
		case <-time.After(5 * time.Millisecond):
			status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", cmd.Process.Pid))
			if m := high.FindSubmatch(status); err == nil && m != nil {
				kb, err := strconv.ParseInt(string(m[1]), 10, 64)
				if err != nil {
					t.Fatal(err)
				}
				peak = max(peak, kb<<10)
			}
		}
	}
}
