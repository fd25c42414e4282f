package samples

import (
	"bufio"
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

// Errors of a VCD file.
var (
	ErrVCDScale     = phrase.Errorf("the VCD file does not say what its times are worth: $timescale is missing, such as $timescale 1 us $end")
	ErrVCDVariables = phrase.Errorf("the VCD file names no wire, register or real variable that is recorded")
)

// vcd reads a value change dump, as logic analysers export it: a row for each time at
// which something changes. Bits are 0 and 1, NaN where x or z; a vector of up to eight
// bits is as many channels, a longer one a number. Of more variables than a recording can
// have those are read that change near the beginning.
//
// Source: IEEE Std 1364-2005, clause 18 (value change dump files). From memory.
type vcd struct {
	words words
	scale float64 // seconds
	vars  map[string]*variable
	list  []Channel
	now   []float64 // values of the channels
	time  uint64
	begun bool // a time was given
	moved bool // since the last row
	ended bool
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

// newVCD reads the declarations.
func newVCD(in *bufio.Reader) (*vcd, error) {
	ahead := bufio.NewReaderSize(in, vcdAhead)
	d := &vcd{words: words{in: ahead, line: 1}, vars: map[string]*variable{}}
	var order []*variable
	for {
		key, err := d.words.next()
		if err != nil {
			return nil, d.broken(err)
		}
		if key == "$enddefinitions" {
			_, err = d.section()
			if err != nil {
				return nil, err
			}
			break
		}
		if key[0] != '$' {
			return nil, d.strange(key)
		}
		body, err := d.section()
		if err != nil {
			return nil, err
		}
		switch key {
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
	return d, d.choose(order, ahead)
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
func (d *vcd) choose(order []*variable, ahead *bufio.Reader) error {
	count := func() (n int) {
		for _, v := range order {
			n += v.channelsOf()
		}
		return n
	}
	all := count()
	if all > maxChannels {
		head, err := ahead.Peek(vcdAhead)
		if err != nil && !errors.Is(err, io.EOF) {
			return err
		}
		moving := changing(head, d.vars)
		order = slices.DeleteFunc(order, func(v *variable) bool { return !moving[v] })
	}
	if n := count(); n > maxChannels {
		return phrase.Errorf("%v; this one has %d", ErrColumns, n)
	}
	for _, v := range order {
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
	w := words{in: bufio.NewReader(bytes.NewReader(head))}
	first, moving := map[*variable]string{}, map[*variable]bool{}
	for {
		word, err := w.next()
		if err != nil {
			return moving
		}
		value, id := word[:1], word[1:]
		switch value {
		case "b", "B", "r", "R":
			value = word[1:]
			if id, err = w.next(); err != nil {
				return moving
			}
		case "0", "1", "x", "X", "z", "Z":
		default:
			continue
		}
		if v := vars[id]; v != nil {
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
		if word == "$end" {
			return body, nil
		}
		if len(body) < 16 { // a comment may be of any length
			body = append(body, word)
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

func (d *vcd) strange(word string) error {
	return phrase.Errorf("line %d: %q is nothing that stands in a VCD file", d.words.line, word[:min(len(word), 20)])
}

func (d *vcd) channels() []Channel { return d.list }

func (d *vcd) notes() []Note { return nil }

func (d *vcd) read(b *Block) error {
	b.make(len(d.list))
	b.Steps = true
	n := 0
	row := func() {
		b.Time[n] = float64(d.time) * d.scale
		for c, v := range d.now {
			b.Values[c][n] = v
		}
		n++
		d.moved = false
	}
	for n < blockRows && !d.ended {
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
		t, err := strconv.ParseUint(word[1:], 10, 64)
		switch {
		case err != nil:
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

// change takes a change of value, or a key word among them.
func (d *vcd) change(word string) error {
	value, id := word[1:], ""
	switch word[0] {
	case '$':
		if word == "$comment" {
			_, err := d.section()
			return err
		}
		return nil // $dumpvars and the like stand round changes
	case '0', '1', 'x', 'X', 'z', 'Z':
		value, id = word[:1], word[1:]
	case 'b', 'B', 'r', 'R', 's', 'S':
		var err error
		if id, err = d.words.next(); err != nil {
			return d.broken(err)
		}
	default:
		return d.strange(word)
	}
	v := d.vars[id]
	if v == nil || v.channel < 0 {
		return nil
	}
	switch {
	case v.real:
		x, err := strconv.ParseFloat(value, 64)
		if err != nil {
			return d.strange(word)
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
func bitOf(value string, bit int) float64 {
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

// words cuts a text at blanks and counts its lines.
type words struct {
	in   *bufio.Reader
	line int
	buf  []byte
}

// longestWord is the longest that is read: that of a vector of 64 thousand bits.
const longestWord = 1<<16 + 8

// next returns the next word, of one character at least. It is [io.EOF] after the last.
func (w *words) next() (string, error) {
	w.buf = w.buf[:0]
	for {
		c, err := w.in.ReadByte()
		if err != nil {
			if len(w.buf) > 0 && errors.Is(err, io.EOF) {
				return string(w.buf), nil
			}
			return "", err
		}
		blank := c <= ' '
		if c == '\n' && len(w.buf) == 0 {
			w.line++
		}
		switch {
		case blank && len(w.buf) > 0:
			if c == '\n' {
				if err := w.in.UnreadByte(); err != nil {
					return "", err
				}
			}
			return string(w.buf), nil
		case !blank:
			if w.buf = append(w.buf, c); len(w.buf) > longestWord {
				return "", phrase.Errorf("line %d is longer than %d characters: %v", w.line, longestWord, ErrBinary)
			}
		}
	}
}
