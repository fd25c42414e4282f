package samples

import (
	"bytes"
	"errors"
	"io"
	"math"

	"pinphase.org/pinphase/timing/phrase"
)

// Limits of what is read: a longer line is no recording, and so many rows that
// cannot be read are no accident.
const (
	bufferSize = 256 << 10
	maxBadRows = 100
)

// table reads a recording that is written as rows of numbers.
type table struct {
	format format
	in     io.Reader
	buf    *[bufferSize]byte
	at, to int // the unread part of buf
	eof    bool

	column  []int // of each column: its channel, -1 time, -2 none
	targets []target
	line    int
	row     int64
	last    float64 // time of the last sample
	bad     int
	firstAt int     // line of the first row that could not be read
	least   int     // power of ten of the finest digit of the block's times
	day     int     // of the first moment
	second  float64 // of the first moment
	unused  [BlockRows]float64
}

// newTable learns how the rows are written from the beginning of the file, which it has
// peeked at and which in goes on to deliver.
func newTable(in io.Reader, head []byte, o Options) (*table, error) {
	f, err := sniff(head, o)
	if err != nil {
		return nil, err
	}
	r := &table{format: f, in: in, buf: new([bufferSize]byte), last: math.Inf(-1)}
	r.column = make([]int, len(f.Names))
	r.targets = make([]target, len(f.Names))
	for i := range r.column {
		r.column[i] = -2
		r.targets[i].end = f.Delimiter
	}
	r.targets[len(r.targets)-1].end = '\n'
	if f.TimeColumn >= 0 {
		r.column[f.TimeColumn] = -1
	}
	for c, i := range f.Channels {
		r.column[i] = c
	}
	for r.line < f.FirstLine-1 {
		if _, err := r.next(); err != nil {
			return nil, err
		}
	}
	return r, nil
}

func (r *table) channels() []Channel {
	var list []Channel
	for _, i := range r.format.Channels {
		list = append(list, Channel{r.format.Names[i], r.format.Units[i]})
	}
	return list
}

func (r *table) notes() []Note {
	var list []Note
	if r.format.IntervalS == 0 && !r.format.UnitGiven {
		list = append(list, Note{Kind: TimeUnit, Value: r.format.TimeUnit})
	}
	if r.bad > 0 {
		list = append(list, Note{Kind: BadRows, N: r.bad, Of: r.firstAt})
	}
	return list
}

// next returns the next line without its end. It is [io.EOF] after the last.
func (r *table) next() ([]byte, error) {
	scanned := r.at
	for {
		if i := bytes.IndexByte(r.buf[scanned:r.to], '\n'); i >= 0 {
			line := r.buf[r.at : scanned+i]
			r.at = scanned + i + 1
			r.line++
			return line, nil
		}
		scanned = r.to
		if r.eof {
			if r.at == r.to {
				return nil, io.EOF
			}
			line := r.buf[r.at:r.to]
			r.at = r.to
			r.line++
			return line, nil
		}
		if r.at == 0 && r.to == len(r.buf) {
			return nil, phrase.Errorf("line %d is longer than %d characters: %v", r.line+1, len(r.buf), ErrBinary)
		}
		copy(r.buf[:], r.buf[r.at:r.to])
		scanned -= r.at
		r.to -= r.at
		r.at = 0
		n, err := r.in.Read(r.buf[r.to:])
		r.to += n
		if err != nil {
			r.eof = true
			if !errors.Is(err, io.EOF) {
				return nil, phrase.Errorf("line %d: %v", r.line+1, err)
			}
		}
	}
}

func (r *table) read(b *Block) error {
	b.make(len(r.format.Channels))
	for i, c := range r.column {
		switch {
		case c >= 0:
			r.targets[i].values = (*[BlockRows]float64)(b.Values[c])
		case c == -1:
			r.targets[i].values = (*[BlockRows]float64)(b.Time)
		default:
			r.targets[i].values = &r.unused
		}
	}
	r.least = 0
	b.Steps = r.format.Steps
	n := 0
	for n < BlockRows {
		if r.format.Moments < 0 {
			n += r.quick(b, n)
		}
		if n == BlockRows {
			break
		}
		line, err := r.next()
		if err == io.EOF {
			break
		}
		if err != nil {
			return err
		}
		t, ok := r.parse(line, b, n)
		if !ok {
			if isComment(line) {
				continue
			}
			if r.bad++; r.bad == 1 {
				r.firstAt = r.line
			}
			if r.bad > maxBadRows {
				return phrase.Errorf("line %d: this and %d other rows are not numbers, or not as many as the first rows have", r.line, r.bad-1)
			}
			continue
		}
		if r.format.IntervalS > 0 {
			t = float64(r.row) * r.format.IntervalS
		}
		if t < r.last {
			return phrase.Errorf("line %d: %v", r.line, ErrBackward)
		}
		r.last = t
		b.Time[n] = t
		r.row++
		n++
	}
	b.cut(n)
	if n == 0 {
		return io.EOF
	}
	if r.format.IntervalS == 0 && !b.Steps {
		r.even(b.Time)
	}
	return nil
}
