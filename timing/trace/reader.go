package trace

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"math"

	"pinphase/timing/phrase"
)

// Options are what a file need not say.
type Options struct {
	IntervalS float64 // seconds between samples; 0: the file says it
}

// Block is a run of samples.
type Block struct {
	Time   []float64   // seconds, never falling
	Values [][]float64 // by channel; NaN where a cell is empty or out of range
}

// blockRows is how many samples a block holds.
const blockRows = 4096

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

// counting counts the bytes that are read from the file itself, for progress.
type counting struct {
	r io.Reader
	n int64
}

func (c *counting) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n += int64(n)
	return n, err
}

// A packed recording of scopes and loggers is a fifth to a twentieth of its text,
// one of nothing but the same row a thousandth at the least. What unpacks to more
// than maxUnpacked bytes and more than maxRatio times what was read of it would keep
// the reader busy for hours for a file of no size.
const (
	maxUnpacked = 64 << 20
	maxRatio    = 200
)

// unpacking counts what comes out of a packed file and stops where that is more
// than a recording can be.
type unpacking struct {
	z      io.Reader
	packed *counting
	n      int64
}

func (u *unpacking) Read(p []byte) (int, error) {
	if u.n > maxUnpacked && u.n > maxRatio*u.packed.n {
		return 0, ErrBomb
	}
	n, err := u.z.Read(p)
	u.n += int64(n)
	return n, err
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

// Names returns the channels' names, "" where the file gives none.
func (r *Reader) Names() []string {
	var list []string
	for _, i := range r.format.Channels {
		list = append(list, r.format.Names[i])
	}
	return list
}

// Bytes returns how many bytes of the file have been read, for progress.
func (r *Reader) Bytes() int64 { return r.counts.n }

// BadRows returns how many rows could not be read, and the line of the first.
func (r *Reader) BadRows() (rows, firstLine int) { return r.bad, r.firstAt }

// Faults are what must be said of the reading, once it is done.
func (r *Reader) Faults() []Fault {
	var list []Fault
	if r.format.IntervalS == 0 && !r.format.UnitGiven {
		list = append(list, Fault{Kind: TimeUnit, Value: r.format.TimeUnit})
	}
	if r.bad > 0 {
		list = append(list, Fault{Kind: BadRows, N: r.bad, Of: r.firstAt})
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

// parse reads a row into place n of the block and returns its time.
func (r *Reader) parse(line []byte, b *Block, n int) (t float64, ok bool) {
	delimiter, point := r.format.Delimiter, r.format.point()
	i, last := 0, len(r.column)-1
	for c, to := range r.column {
		var v float64
		if delimiter == ' ' {
			for i < len(line) && (line[i] == ' ' || line[i] == '\t') {
				i++
			}
		}
		v, next, exp, ok := plain(line, i, point)
		if ok && next < len(line) && line[next] != delimiter && !(c == last && line[next] == '\r' && next == len(line)-1) {
			ok = false
		}
		if !ok {
			if i > len(line) {
				return 0, false
			}
			next = cellEnd(line, i, delimiter)
			if v, exp, ok = cell(line[i:next], point); !ok || c < last && next == len(line) {
				return 0, false
			}
		}
		if c == last && next < len(line) && len(bytes.TrimSpace(bytes.Trim(line[next:], string(delimiter)))) > 0 {
			return 0, false // more cells than the first rows have
		}
		if c < last && next >= len(line) {
			return 0, false
		}
		switch {
		case to >= 0:
			b.Values[to][n] = v
		case to == -1:
			if v != v {
				return 0, false // a row without its time is of no use
			}
			t = v * r.format.TimeUnit
			r.least = min(r.least, exp)
		}
		i = next + 1
	}
	return t, true
}

// cellEnd is where the cell that begins at i ends.
func cellEnd(line []byte, i int, delimiter byte) int {
	quoted := false
	for ; i < len(line); i++ {
		if line[i] == '"' {
			quoted = !quoted
		}
		if line[i] == delimiter && !quoted {
			break
		}
	}
	return i
}

// even replaces times that lie on a straight line but for the rounding of their
// last digit by that line: a time written too coarsely would make the teeth look
// uneven. Times that are truly uneven stay as they are.
func (r *Reader) even(t []float64) {
	n := len(t)
	if n < 8 {
		return
	}
	mean, slope := line(t)
	step := math.Pow10(r.least) * r.format.TimeUnit
	start := mean - slope*float64(n-1)/2
	most := 0.6*step + 1e-12*math.Abs(mean)
	for i, x := range t {
		if math.Abs(x-(start+slope*float64(i))) > most {
			return
		}
	}
	for i := range t {
		t[i] = start + slope*float64(i)
	}
}

// line fits a straight line to values at 0, 1, 2, ... and returns its value in
// the middle and its slope. Sums are taken of the values less the first, so that they
// lose nothing, and of every second one apart, so that one addition need not wait for
// the other.
func line(v []float64) (mean, slope float64) {
	n, zero := float64(len(v)), v[0]
	var sum, moment [2]float64
	at := 0.0
	for ; len(v) >= 2; v = v[2:] {
		x, y := v[0]-zero, v[1]-zero
		sum[0] += x
		sum[1] += y
		moment[0] += at * x
		moment[1] += (at + 1) * y
		at += 2
	}
	if len(v) > 0 {
		sum[0] += v[0] - zero
		moment[0] += at * (v[0] - zero)
	}
	total := sum[0] + sum[1]
	return zero + total/n, (moment[0] + moment[1] - total*(n-1)/2) * 12 / (n * (n*n - 1))
}
