package samples

import (
	"bytes"
	"errors"
	"io"
	"math"
	"strconv"

	"pinphase.org/pinphase/timing/phrase"
)

// Errors of a VCD file.
var (
	ErrVCDScale     = phrase.Errorf("the VCD file does not say what its times are worth: $timescale is missing, such as $timescale 1 us $end")
	ErrVCDVariables = phrase.Errorf("the VCD file names no wire, register or real variable that is recorded")
)

// vcd reads a value change dump, as logic analysers export it: a row for each time at
// which something changes. Bits are 0 and 1, NaN where x or z; a vector of up to eight
// bits is as many channels, a longer one a number. Real values are samples, and beside them
// the others still hold until they change. Of more variables than a recording can
// have those are read that change near the beginning.
//
// Source: IEEE Std 1364-2005, clause 18 (value change dump files). From memory.
type vcd struct {
	words words
	scale float64 // seconds
	vars  map[string]*variable
	list  []Channel
	now   []float64 // values of the channels
	value []byte    // of a vector or a real, until its variable is read
	time  uint64
	begun bool // a time was given
	moved bool // since the last row
	ended bool

	sampled bool   // there are real values: samples, each written where it differs from the one before
	held    []bool // of each channel, where there are: that it holds no real values
}

// variable is what an identifier stands for.
type variable struct {
	name    string
	bits    int
	real    bool
	channel int // the first of its channels; -1: not read
	split   bool
}

// vcdAhead is how far is looked for what changes.
const vcdAhead = 1 << 20

// isVCD tells whether a file begins as a value change dump does: with a declaration.
func isVCD(head []byte) bool {
	word := head[len(head)-len(bytes.TrimLeft(head, " \t\r\n")):]
	for _, key := range []string{"$date", "$version", "$comment", "$timescale", "$scope", "$var", "$enddefinitions"} {
		if bytes.HasPrefix(word, []byte(key)) {
			return true
		}
	}
	return false
}

func (d *vcd) channels() []Channel { return d.list }

func (d *vcd) notes() []Note { return nil }

func (d *vcd) read(b *Block) error {
	b.make(len(d.list))
	if b.Steps = !d.sampled; d.sampled {
		b.Held = d.held
	}
	n := 0
	row := func() {
		b.Time[n] = float64(d.time) * d.scale
		for c, v := range d.now {
			b.Values[c][n] = v
		}
		n++
		d.moved = false
	}
	for n < BlockRows && !d.ended {
		word, err := d.words.next()
		if errors.Is(err, io.EOF) {
			d.ended = true
			if d.begun {
				row() // the recording lasts until the last time that is given
			}
			break
		}
		if err != nil {
			return err
		}
		if word[0] != '#' {
			if err := d.change(word); err != nil {
				return err
			}
			continue
		}
		t, ok := whole(word[1:])
		switch {
		case !ok:
			return d.strange(word)
		case t < d.time:
			return phrase.Errorf("line %d: %v", d.words.line, ErrBackward)
		case t > d.time && d.moved:
			row()
		}
		d.time, d.begun = t, true
	}
	b.cut(n)
	if n == 0 {
		return io.EOF
	}
	return nil
}

// whole reads a whole number of up to 19 digits.
func whole(b []byte) (n uint64, ok bool) {
	for _, c := range b {
		if c < '0' || c > '9' {
			return 0, false
		}
		n = 10*n + uint64(c-'0')
	}
	return n, len(b) > 0 && len(b) <= maxDigits
}

// change takes a change of value, or a key word among them.
func (d *vcd) change(word []byte) error {
	switch word[0] {
	case '0', '1', 'x', 'X', 'z', 'Z':
		if v := d.vars[string(word[1:])]; v != nil && v.channel >= 0 {
			return d.take(v, word[:1])
		}
		return nil
	case 'b', 'B', 'r', 'R', 's', 'S':
		d.value = append(d.value[:0], word[1:]...)
		id, err := d.words.next()
		if err != nil {
			return d.broken(err)
		}
		if v := d.vars[string(id)]; v != nil && v.channel >= 0 {
			return d.take(v, d.value)
		}
		return nil
	case '$':
		if string(word) == "$comment" {
			_, err := d.section()
			return err
		}
		return nil // $dumpvars and the like stand round changes
	}
	return d.strange(word)
}

// take takes the value of a variable that is read.
func (d *vcd) take(v *variable, value []byte) error {
	switch {
	case v.real:
		x, err := strconv.ParseFloat(string(value), 64)
		if err != nil {
			return d.strange(value)
		}
		d.set(v.channel, finite(x))
	case v.split:
		for bit := range v.bits {
			d.set(v.channel+bit, bitOf(value, bit))
		}
	default:
		x := 0.0
		for bit := len(value) - 1; bit >= 0; bit-- {
			x = 2*x + bitOf(value, bit)
		}
		d.set(v.channel, finite(x))
	}
	return nil
}

// set takes a channel's new value.
func (d *vcd) set(channel int, v float64) {
	if now := &d.now[channel]; *now != v && (v == v || *now == *now) {
		*now, d.moved = v, true
	}
}

// bitOf is a bit of a value that is written with its highest bit first. Bits that are not
// written are 0, or what is not known where the first is not (IEEE Std 1364-2005, table 18-1).
func bitOf(value []byte, bit int) float64 {
	sign := byte('0')
	if i := len(value) - 1 - bit; i >= 0 {
		sign = value[i]
	} else if len(value) > 0 && value[0] != '1' {
		sign = value[0]
	}
	switch sign {
	case '0':
		return 0
	case '1':
		return 1
	}
	return math.NaN()
}
