package samples

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"math"

	"pinphase.org/pinphase/timing/phrase"
)

// Options are what a file need not say.
type Options struct {
	IntervalS float64 // seconds between samples; 0: the file says it
}

// Block is a run of samples, or of changes of level.
type Block struct {
	Time   []float64   // seconds, never falling
	Values [][]float64 // by channel; NaN where a cell is empty or out of range
	Steps  bool        // each row's values hold until the next row
}

// Channel is what the file calls a channel, and the unit of its values; "" where it does
// not say.
type Channel struct{ Name, Unit string }

// BlockRows is how many rows a block holds at most.
const BlockRows = 4096

const blockRows = BlockRows

// Limits of what is read: a longer line is no recording, and so many rows that
// cannot be read are no accident.
const (
	bufferSize = 256 << 10
	aheadSize  = 128 << 10 // less than half, so that most is read without a copy on the way
	maxBadRows = 100
)

// Reader reads a recording block by block, however long it is, in constant
// memory. Build one with [NewReader].
type Reader struct {
	format Format
	in     io.Reader
	counts *counting
	buf    *[bufferSize]byte
	at, to int // the unread part of buf
	eof    bool

	column  []int // of each column: its channel, -1 time, -2 none
	targets []target
	line    int
	row     int64
	last    float64 // time of the last sample
	bad     int
	firstAt int // line of the first row that could not be read
	least   int // power of ten of the finest digit of the block's times
	unused  [blockRows]float64
}

// NewReader learns how a recording is written from its beginning. It unpacks
// gzip by itself.
func NewReader(r io.Reader, o Options) (*Reader, error) {
	counts := &counting{r: r}
	in := bufio.NewReaderSize(counts, aheadSize)
	packed := false
	if magic, _ := in.Peek(2); len(magic) == 2 && magic[0] == 0x1f && magic[1] == 0x8b {
		z, err := gzip.NewReader(in)
		if err != nil {
			return nil, phrase.Errorf("unpacking: %v", err)
		}
		in, packed = bufio.NewReaderSize(&unpacking{z: z, packed: counts}, aheadSize), true
	}
	head, err := in.Peek(sniffLength)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	if bytes.HasPrefix(head, []byte("\xef\xbb\xbf")) {
		if _, err := in.Discard(3); err != nil {
			return nil, err
		}
		head = head[3:]
	}
	f, err := sniff(head, o)
	if err != nil {
		return nil, err
	}
	f.Gzip = packed
	rd := &Reader{format: f, in: in, counts: counts, buf: new([bufferSize]byte), last: math.Inf(-1)}
	rd.column = make([]int, len(f.Names))
	rd.targets = make([]target, len(f.Names))
	for i := range rd.column {
		rd.column[i] = -2
		rd.targets[i].end = f.Delimiter
	}
	rd.targets[len(rd.targets)-1].end = '\n'
	if f.TimeColumn >= 0 {
		rd.column[f.TimeColumn] = -1
	}
	for c, i := range f.Channels {
		rd.column[i] = c
	}
	for rd.line < f.FirstLine-1 {
		if _, err := rd.next(); err != nil {
			return nil, err
		}
	}
	return rd, nil
}

// Format returns how the recording is written.
func (r *Reader) Format() Format { return r.format }

// Channels are those of the blocks, in their order.
func (r *Reader) Channels() []Channel {
	var list []Channel
	for _, i := range r.format.Channels {
		list = append(list, Channel{r.format.Names[i], r.format.Units[i]})
	}
	return list
}

// Names returns the channels' names, "" where the file gives none.
func (r *Reader) Names() []string {
	var list []string
	for _, c := range r.Channels() {
		list = append(list, c.Name)
	}
	return list
}

// Bytes returns how many bytes of the file have been read, for progress.
func (r *Reader) Bytes() int64 { return r.counts.n }

// BadRows returns how many rows could not be read, and the line of the first.
func (r *Reader) BadRows() (rows, firstLine int) { return r.bad, r.firstAt }

// Notes are what must be said of the reading, once it is done.
func (r *Reader) Notes() []Note {
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
func (r *Reader) next() ([]byte, error) {
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

// Read fills the block with the next samples. It is [io.EOF] when there are none
// left.
func (r *Reader) Read(b *Block) error {
	if len(b.Values) != len(r.format.Channels) {
		b.Values = make([][]float64, len(r.format.Channels))
	}
	if cap(b.Time) < blockRows {
		b.Time = make([]float64, 0, blockRows)
		for c := range b.Values {
			b.Values[c] = make([]float64, 0, blockRows)
		}
	}
	b.Time = b.Time[:blockRows]
	for c := range b.Values {
		b.Values[c] = b.Values[c][:blockRows]
	}
	for i, c := range r.column {
		switch {
		case c >= 0:
			r.targets[i].values = (*[blockRows]float64)(b.Values[c])
		case c == -1:
			r.targets[i].values = (*[blockRows]float64)(b.Time)
		default:
			r.targets[i].values = &r.unused
		}
	}
	r.least = 0
	n := 0
	for n < blockRows {
		if n += r.quick(b, n); n == blockRows {
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
				return phrase.Errorf("line %d: this and %d other rows are no numbers, or not as many as the first rows have", r.line, r.bad-1)
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
	b.Time = b.Time[:n]
	for c := range b.Values {
		b.Values[c] = b.Values[c][:n]
	}
	if n == 0 {
		return io.EOF
	}
	if r.format.IntervalS == 0 {
		r.even(b.Time)
	}
	return nil
}
