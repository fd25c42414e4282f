package samples

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"pinphase.org/pinphase/timing/phrase"
)

// newVCD reads the declarations.
func newVCD(in io.Reader) (*vcd, error) {
	d := &vcd{words: newWords(in, vcdAhead), vars: map[string]*variable{}}
	var order []*variable
	for {
		key, err := d.words.next()
		if err != nil {
			return nil, d.broken(err)
		}
		if key[0] != '$' {
			return nil, d.strange(key)
		}
		name := string(key)
		body, err := d.section()
		if err != nil {
			return nil, err
		}
		if name == "$enddefinitions" {
			break
		}
		switch name {
		case "$timescale":
			if d.scale, err = timescale(body); err != nil {
				return nil, err
			}
		case "$var":
			if v, id := declared(body); v != nil && d.vars[id] == nil {
				if len(order) == mostVariables {
					return nil, phrase.Errorf("%v; this one has %d", ErrColumns, mostVariables)
				}
				d.vars[id] = v
				order = append(order, v)
			}
		}
	}
	if d.scale == 0 {
		return nil, ErrVCDScale
	}
	return d, d.choose(order)
}

// mostVariables bounds what is kept of the declarations.
const mostVariables = 4096

// declared reads what stands between $var and $end; nil for a variable that is not
// recorded.
func declared(body []string) (v *variable, id string) {
	if len(body) < 4 {
		return nil, ""
	}
	bits, err := strconv.Atoi(body[1])
	if err != nil || bits < 1 || bits > 1<<16 {
		return nil, ""
	}
	v = &variable{name: strings.Join(body[3:], ""), bits: bits, channel: -1}
	switch body[0] {
	case "real", "realtime":
		v.real = true
	case "parameter", "event", "string":
		return nil, ""
	}
	if bits > 1 && !v.real {
		v.name = body[3] // without its range, [7:0]
		if i := strings.IndexByte(v.name, '['); i > 0 {
			v.name = v.name[:i]
		}
		v.split = bits <= maxChannels
	}
	return v, body[2]
}

// channelsOf is how many channels a variable has.
func (v *variable) channelsOf() int {
	if v.split {
		return v.bits
	}
	return 1
}

// choose lays the variables into channels: all, or those that change near the beginning.
func (d *vcd) choose(order []*variable) error {
	count := func() (n int) {
		for _, v := range order {
			n += v.channelsOf()
		}
		return n
	}
	all := count()
	if all > maxChannels {
		moving := changing(d.words.ahead(), d.vars)
		order = slices.DeleteFunc(order, func(v *variable) bool { return !moving[v] })
	}
	if n := count(); n > maxChannels {
		return phrase.Errorf("%v; this one has %d", ErrColumns, n)
	}
	for _, v := range order {
		d.sampled = d.sampled || v.real
		for range v.channelsOf() {
			d.held = append(d.held, !v.real)
		}
		v.channel = len(d.list)
		if !v.split {
			d.list = append(d.list, Channel{Name: v.name})
			continue
		}
		for bit := range v.bits {
			d.list = append(d.list, Channel{Name: fmt.Sprintf("%s[%d]", v.name, bit)})
		}
	}
	if len(d.list) == 0 {
		if all > 0 {
			return phrase.Errorf("%v; this one has %d", ErrColumns, all)
		}
		return ErrVCDVariables
	}
	for range d.list {
		d.now = append(d.now, math.NaN())
	}
	return nil
}

// changing finds the variables that change in the beginning of the changes.
func changing(head []byte, vars map[string]*variable) map[*variable]bool {
	w := newWords(bytes.NewReader(head), vcdAhead)
	first, moving := map[*variable]string{}, map[*variable]bool{}
	for {
		word, err := w.next()
		if err != nil {
			return moving
		}
		value := string(word[:1])
		switch value {
		case "b", "B", "r", "R":
			value = string(word[1:])
			if word, err = w.next(); err != nil {
				return moving
			}
		case "0", "1", "x", "X", "z", "Z":
			word = word[1:]
		default:
			continue
		}
		if v := vars[string(word)]; v != nil {
			if before, seen := first[v]; seen && before != value {
				moving[v] = true
			} else if !seen {
				first[v] = value
			}
		}
	}
}

// timescale reads "1 ns", "10us".
func timescale(body []string) (seconds float64, err error) {
	text := strings.Join(body, "")
	number := strings.TrimRight(text, "fpnumsµ")
	unit := map[string]float64{"s": 1, "ms": 1e-3, "us": 1e-6, "µs": 1e-6, "ns": 1e-9, "ps": 1e-12, "fs": 1e-15}[text[len(number):]]
	n, err := strconv.ParseFloat(number, 64)
	if err != nil || !(n > 0) || n > 1e6 || unit == 0 {
		return 0, ErrVCDScale
	}
	return n * unit, nil
}

// section reads the words up to $end.
func (d *vcd) section() (body []string, err error) {
	for {
		word, err := d.words.next()
		if err != nil {
			return nil, d.broken(err)
		}
		if string(word) == "$end" {
			return body, nil
		}
		if len(body) < 16 { // a comment may be of any length
			body = append(body, string(word))
		}
	}
}

// broken is an error of a file that ends, or is damaged, where it should not.
func (d *vcd) broken(err error) error {
	if errors.Is(err, io.EOF) {
		return phrase.Errorf("line %d: the VCD file ends within its declarations", d.words.line)
	}
	return err
}

func (d *vcd) strange(word []byte) error {
	return phrase.Errorf("line %d: %q does not belong in a VCD file", d.words.line, word[:min(len(word), 20)])
}
