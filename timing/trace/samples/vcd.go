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

// Errors of a VCD file.
var (
	ErrVCDScale     = phrase.Errorf("the VCD file does not say what its times are worth: $timescale is missing, such as $timescale 1 us $end")
	ErrVCDVariables = phrase.Errorf("the VCD file names no wire, register or real variable that is recorded")
)

// vcd reads a value change dump, as logic analysers export it: a row for each time at
// which something changes. Bits are 0 and 1, NaN where x or z; a vector of up to eight
// bits is as many channels, a longer one a number. With real values the rows are samples. Of more variables than a recording can
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

	sampled bool // there are real values: samples, each written where it differs from the one before
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
	return phrase.Errorf("line %d: %q is nothing that stands in a VCD file", d.words.line, word[:min(len(word), 20)])
}

func (d *vcd) channels() []Channel { return d.list }

func (d *vcd) notes() []Note { return nil }

func (d *vcd) read(b *Block) error {
	b.make(len(d.list))
	b.Steps = !d.sampled
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

// words cuts a text at blanks and counts its lines.
type words struct {
	in     io.Reader
	buf    []byte
	at, to int // the unread part of buf
	ended  error
	line   int
}

// newWords reads words up to half as long as what is held of the text.
func newWords(in io.Reader, held int) words { return words{in: in, buf: make([]byte, held), line: 1} }

// next returns the next word, of one character at least; it holds until the next is read.
// It is [io.EOF] after the last.
func (w *words) next() ([]byte, error) {
	for {
		for w.at < w.to && w.buf[w.at] <= ' ' {
			if w.buf[w.at] == '\n' {
				w.line++
			}
			w.at++
		}
		for i := w.at; i < w.to; i++ {
			if w.buf[i] <= ' ' {
				word := w.buf[w.at:i]
				w.at = i
				return word, nil
			}
		}
		if w.to-w.at > len(w.buf)/2 {
			return nil, phrase.Errorf("line %d is longer than %d characters: %v", w.line, len(w.buf)/2, ErrBinary)
		}
		if w.ended != nil {
			if word := w.buf[w.at:w.to]; len(word) > 0 && errors.Is(w.ended, io.EOF) {
				w.at = w.to
				return word, nil
			}
			return nil, w.ended
		}
		w.fill()
	}
}

// fill reads more of the text behind what is unread.
func (w *words) fill() {
	w.to = copy(w.buf, w.buf[w.at:w.to])
	w.at = 0
	n := 0
	if n, w.ended = w.in.Read(w.buf[w.to:]); n > 0 {
		w.to += n
	}
}

// ahead is the text that follows, as much as is held at a time.
func (w *words) ahead() []byte {
	for w.ended == nil && (w.at > 0 || w.to < len(w.buf)) {
		w.fill()
	}
	return w.buf[w.at:w.to]
}
