package samples

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"errors"
	"io"

	"pinphase.org/pinphase/timing/phrase"
)

// Options are what a file need not say.
type Options struct {
	IntervalS float64 // seconds between samples; 0: the file says it; [ErrTimed] where both do
}

// Channel is what the file calls a channel, and the unit of its values; "" where it does
// not say.
type Channel struct{ Name, Unit string }

// Reader reads a recording block by block, however long it is, in constant
// memory. Build one with [NewReader].
type Reader struct {
	source
	counts *counting
}

// source is a file that is written in one of the ways that are read.
type source interface {
	channels() []Channel
	read(b *Block) error // io.EOF when there is nothing left
	notes() []Note       // once it is read
}

// Each is written in its own way.
var (
	_ source = (*table)(nil)
	_ source = (*wave)(nil)
	_ source = (*vcd)(nil)
)

// aheadSize is how much of a file is read ahead: less than half of what a table holds,
// so that most is read without a copy on the way.
const aheadSize = 128 << 10

// NewReader learns how a recording is written from its beginning, not from its name. It
// unpacks gzip by itself.
func NewReader(r io.Reader, o Options) (*Reader, error) {
	counts := &counting{r: r}
	in := bufio.NewReaderSize(counts, aheadSize)
	if magic, _ := in.Peek(2); bytes.Equal(magic, []byte("\x1f\x8b")) {
		z, err := gzip.NewReader(in)
		if err != nil {
			return nil, phrase.Errorf("unpacking: %v", err)
		}
		in = bufio.NewReaderSize(&unpacking{z: z, packed: counts}, aheadSize)
	}
	head, err := in.Peek(sniffLength)
	if err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	s, err := open(in, head, o)
	if err != nil {
		return nil, err
	}
	return &Reader{s, counts}, nil
}

// open picks the way the file is written in by its first bytes.
func open(in *bufio.Reader, head []byte, o Options) (source, error) {
	if bytes.HasPrefix(head, []byte("\xef\xbb\xbf")) {
		if _, err := in.Discard(3); err != nil {
			return nil, err
		}
		head = head[3:]
	}
	switch {
	case o.IntervalS > 0 && (isWave(head) || isVCD(head)):
		return nil, ErrTimed
	case isWave(head):
		return newWave(in)
	case isVCD(head):
		return newVCD(in)
	}
	if err := refusal(head); err != nil {
		return nil, err
	}
	if onlyReturns(head) {
		return newTable(lineEnds{in}, bytes.ReplaceAll(head, []byte("\r"), []byte("\n")), o)
	}
	return newTable(in, head, o)
}

// Channels are those of the blocks, in their order.
func (r *Reader) Channels() []Channel { return r.channels() }

// Names returns the channels' names, "" where the file gives none.
func (r *Reader) Names() []string {
	var list []string
	for _, c := range r.channels() {
		list = append(list, c.Name)
	}
	return list
}

// Bytes returns how many bytes of the file have been read, for progress.
func (r *Reader) Bytes() int64 { return r.counts.n }

// Notes are what must be said of the reading, once it is done.
func (r *Reader) Notes() []Note { return r.notes() }

// Read fills the block with the next rows. It is [io.EOF] when there are none left.
func (r *Reader) Read(b *Block) error { return r.read(b) }
