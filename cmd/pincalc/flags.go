package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/quantity"
)

// number is an option that takes any finite number, typed as people do.
type number struct {
	v    *float64
	unit string // what it counts: "degrees"
	arg  string // how the help calls it: "DEG"
}

func (n number) String() string {
	if n.v == nil {
		return "0" // what the help takes for no default
	}
	return strconv.FormatFloat(*n.v, 'g', -1, 64)
}

func (n number) Type() string { return n.arg }

func (n number) Set(s string) error {
	v, err := finding.ParseNumber(s)
	if err != nil {
		if bare, ok := quantity.WithoutUnit(s); ok {
			return fmt.Errorf("%q: leave the unit out, %s", s, bare)
		}
		return fmt.Errorf("%q is not a number of %s", s, n.unit)
	}
	*n.v = v
	return nil
}

// count is an option that takes a whole number.
type count struct {
	v    *int
	what string
	arg  string
}

func (c count) String() string {
	if c.v == nil {
		return "0"
	}
	return strconv.Itoa(*c.v)
}

func (c count) Type() string { return c.arg }

func (c count) Set(s string) error {
	v, err := strconv.Atoi(s)
	if err != nil {
		return fmt.Errorf("%q is not a number of %s", s, c.what)
	}
	*c.v = v
	return nil
}

// seed is an option that takes the number of a throw of the dice.
type seed uint64

func (n *seed) String() string { return strconv.FormatUint(uint64(*n), 10) }
func (n *seed) Type() string   { return "N" }

func (n *seed) Set(s string) error {
	v, err := strconv.ParseUint(s, 10, 64)
	if err != nil {
		return fmt.Errorf("%q is not a whole number from 0 on", s)
	}
	*n = seed(v)
	return nil
}

// word is an option that takes one of a few words.
type word struct {
	value string
	of    []string
}

func (w *word) String() string { return w.value }
func (w *word) Type() string   { return strings.Join(w.of, "|") }

func (w *word) Set(s string) error {
	if !slices.Contains(w.of, s) {
		return fmt.Errorf("%q is not one of %s", s, strings.Join(w.of, ", "))
	}
	w.value = s
	return nil
}

// day is an option that takes a date.
type day time.Time

func (d *day) String() string { return "" }
func (d *day) Type() string   { return "YYYY-MM-DD" }

func (d *day) Set(s string) error {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil || t.Year() < 1900 {
		return fmt.Errorf("%q is not a date such as 2026-03-31", s)
	}
	*d = day(t)
	return nil
}

// repeatable are the options that may be given more than once.
var repeatable = []string{"sweep", "prior", "minutes"}

// once is an option that is refused the second time, when the first would be
// without effect.
type once struct {
	pflag.Value
	given bool
}

func (o *once) Set(s string) error {
	if o.given {
		return errTwice
	}
	o.given = true
	return o.Value.Set(s)
}

var errTwice = errors.New("is given twice")

// onlyOnce refuses options that are given twice.
func onlyOnce(flags *pflag.FlagSet) {
	flags.VisitAll(func(f *pflag.Flag) {
		if _, is := f.Value.(*once); !is && !slices.Contains(repeatable, f.Name) {
			f.Value = &once{Value: f.Value}
		}
	})
}

// flagError says what is wrong with an option, by its name.
func flagError(cmd *cobra.Command, err error) error {
	var none *pflag.NotExistError
	var bare *pflag.ValueRequiredError
	var wrong *pflag.InvalidValueError
	switch {
	case errors.As(err, &none):
		return fmt.Errorf("there is no option %s; see %s --help", dashed(none.GetSpecifiedName()), cmd.CommandPath())
	case errors.As(err, &bare):
		return fmt.Errorf("%s: its value is missing", dashed(bare.GetSpecifiedName()))
	case errors.As(err, &wrong) && wrong.GetFlag().Value.Type() == "bool" && !errors.Is(err, errTwice):
		return fmt.Errorf("--%s takes no value", wrong.GetFlag().Name)
	case errors.As(err, &wrong):
		return fmt.Errorf("--%s: %w", wrong.GetFlag().Name, wrong.Unwrap())
	}
	return err
}

// dashed writes an option's name as it is typed.
func dashed(name string) string {
	if len(name) == 1 {
		return "-" + name
	}
	return "--" + name
}
