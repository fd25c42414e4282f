package main

import (
	"strings"
	"testing"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		args  string
		want  asked
		fault string
	}{
		{"", asked{}, ""},
		{"demo", asked{job: "demo"}, ""},
		{"a.toml b.csv", asked{job: "a.toml", recording: "b.csv"}, ""},
		{"-- --version", asked{job: "--version"}, ""},
		{"a.toml -- -h", asked{job: "a.toml", recording: "-h"}, ""},
		{"-- --", asked{job: "--"}, ""},
		{"--help", asked{help: true}, ""},
		{"-h a.toml", asked{help: true, job: "a.toml"}, ""},
		{"--version", asked{version: true}, ""},
		{"--versions", asked{}, `no option "--versions"`},
		{"a.toml -x", asked{}, `no option "-x"`},
		{"-", asked{}, "standard input"},
		{"a b c", asked{}, "3 names"},
	} {
		got, err := parse(strings.Fields(c.args))
		if err == nil {
			if c.fault != "" || got != c.want {
				t.Errorf("pinphase %s: %+v, want %+v and %q", c.args, got, c.want, c.fault)
			}
		} else if c.fault == "" || !strings.Contains(err.Error(), c.fault) {
			t.Errorf("pinphase %s: %v, want %q", c.args, err, c.fault)
		}
	}
}
