// Package sample gives tests the jobs they work on: of a text, of testdata, and the
// one the program carries with it.
package sample

import (
	"testing"

	"pinphase.org/pinphase/assets"
	"pinphase.org/pinphase/timing/job"
)

// Read returns the job of a text, which must be sound.
func Read(t testing.TB, text string) job.Job {
	t.Helper()
	d, err := job.Read("job.toml", []byte(text))
	if err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	return d.Job()
}

// File returns one of the sample jobs, for the tests of a package in timing.
func File(t testing.TB, name string) job.Job {
	t.Helper()
	d, err := job.ReadFile("../../testdata/jobs/" + name + ".toml")
	if err != nil {
		t.Fatal(err)
	}
	return d.Job()
}

// Demo returns the demo job.
func Demo(t testing.TB) job.Job { return Read(t, string(assets.DemoJob)) }
