package samples

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"math"

	"pinphase.org/pinphase/timing/phrase"
)

// Errors of a WAV file.
var (
	ErrWaveCoding = phrase.Errorf("the WAV file holds compressed sound: record it as PCM, 8 to 32 bits")
	ErrWaveCut    = phrase.Errorf("the WAV file ends before its first sample")
	ErrWaveHeader = phrase.Errorf("the header of the WAV file contradicts itself")
)

// wave reads a WAV file, as sound cards and pocket recorders write them. Values are
// shares of full scale, -1 to 1.
//
// Source: IBM and Microsoft, Multimedia Programming Interface and Data Specifications 1.0,
// 1991, "Waveform Audio File Format"; EBU Tech 3306 (RF64), 2009, with the 64-bit sizes in
// its chunk ds64; for WAVE_FORMAT_EXTENSIBLE the header mmreg.h as documented by
// Microsoft. From memory.
type wave struct {
	in    *bufio.Reader
	form  waveForm
	left  int64 // bytes of samples that are still promised; as long as there are any where unknown
	row   int64
	short int64 // frames promised and not there
	buf   []byte
}

// waveForm is how the samples are written.
type waveForm struct {
	channels int
	rate     float64
	frame    int  // bytes of one sample of all channels
	bytes    int  // of one sample of one channel
	float    bool // else whole numbers
}

// unknownSize is more than any file has: a recorder that streams does not know the size.
const unknownSize = math.MaxInt64

// isWave tells whether a file begins as WAV does.
func isWave(head []byte) bool {
	return len(head) >= 12 && (bytes.Equal(head[:4], []byte("RIFF")) || bytes.Equal(head[:4], []byte("RF64"))) && bytes.Equal(head[8:12], []byte("WAVE"))
}

// newWave reads the chunks up to the samples.
func newWave(in *bufio.Reader) (*wave, error) {
	w := &wave{in: in}
	if _, err := in.Discard(12); err != nil {
		return nil, ErrWaveCut
	}
	wide := int64(unknownSize) // the size that ds64 gives
	for {
		var head [8]byte
		if _, err := io.ReadFull(in, head[:]); err != nil {
			return nil, ErrWaveCut
		}
		name, size := string(head[:4]), int64(binary.LittleEndian.Uint32(head[4:]))
		switch name {
		case "data":
			if w.form.frame == 0 {
				return nil, ErrWaveHeader
			}
			switch size {
			case 0, math.MaxUint32:
				size = wide
			}
			w.left = size
			return w, nil
		case "fmt ", "ds64":
			if size < 14 || size > 1<<12 {
				return nil, ErrWaveHeader
			}
			body := make([]byte, size+size&1)
			if _, err := io.ReadFull(in, body); err != nil {
				return nil, ErrWaveCut
			}
			if name == "ds64" {
				if n := int64(binary.LittleEndian.Uint64(append(body, make([]byte, 16)...)[8:])); n > 0 {
					wide = n
				}
			} else if err := w.form.read(body); err != nil {
				return nil, err
			}
		default:
			if _, err := io.CopyN(io.Discard, in, size+size&1); err != nil {
				return nil, ErrWaveCut
			}
		}
	}
}

// Codings of a WAV file.
const (
	wavePCM        = 1
	waveFloat      = 3
	waveExtensible = 0xfffe
)

// read takes the format from its chunk, of 14 bytes at least.
func (f *waveForm) read(b []byte) error {
	b = append(b, make([]byte, 40)...)
	coding, bits := binary.LittleEndian.Uint16(b), int(binary.LittleEndian.Uint16(b[14:]))
	if coding == waveExtensible {
		coding = binary.LittleEndian.Uint16(b[24:])
	}
	f.channels, f.rate = int(binary.LittleEndian.Uint16(b[2:])), float64(binary.LittleEndian.Uint32(b[4:]))
	f.frame = int(binary.LittleEndian.Uint16(b[12:]))
	f.float = coding == waveFloat
	if coding != wavePCM && coding != waveFloat {
		return ErrWaveCoding
	}
	if f.channels < 1 || f.channels > maxChannels {
		return phrase.Errorf("%v; this one has %d", ErrColumns, f.channels)
	}
	f.bytes = (bits + 7) / 8
	if f.frame%f.channels == 0 && f.frame/f.channels > f.bytes { // fewer bits in wider places
		f.bytes = f.frame / f.channels
	}
	wide := f.bytes >= 1 && f.bytes <= 4
	if f.float {
		wide = f.bytes == 4 || f.bytes == 8
	}
	if !wide || f.rate < 1 || f.frame != f.channels*f.bytes {
		return ErrWaveHeader
	}
	return nil
}

func (w *wave) channels() []Channel { return make([]Channel, w.form.channels) }

func (w *wave) notes() []Note {
	if w.short > 0 {
		return []Note{{Kind: CutOff, Value: float64(w.short) / w.form.rate}}
	}
	return nil
}

func (w *wave) read(b *Block) error {
	f := w.form
	b.make(f.channels)
	b.Steps = false
	if w.buf == nil {
		w.buf = make([]byte, BlockRows*f.frame)
	}
	want := int(min(int64(len(w.buf)), w.left))
	got, err := io.ReadFull(w.in, w.buf[:want])
	n := got / f.frame
	w.left -= int64(got)
	switch {
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF):
		if _, err := w.in.ReadByte(); !errors.Is(err, io.EOF) {
			return err // the packed file ends, not what is in it
		}
		if w.left < unknownSize/2 {
			w.short = w.left / int64(f.frame)
		}
		w.left = 0
	case err != nil:
		return err
	}
	for c := range f.channels {
		f.decode(b.Values[c][:n], w.buf[c*f.bytes:])
	}
	for i := range n {
		b.Time[i] = float64(w.row+int64(i)) / f.rate
	}
	w.row += int64(n)
	b.cut(n)
	if n == 0 {
		return io.EOF
	}
	return nil
}

// decode reads one channel's samples, which lie a frame apart.
func (f waveForm) decode(to []float64, from []byte) {
	for i := range to {
		b := from[i*f.frame:]
		switch {
		case f.float && f.bytes == 4:
			to[i] = finite(float64(math.Float32frombits(binary.LittleEndian.Uint32(b))))
		case f.float:
			to[i] = finite(math.Float64frombits(binary.LittleEndian.Uint64(b)))
		case f.bytes == 1:
			to[i] = (float64(b[0]) - 128) / (1 << 7) // of 8 bits alone without a sign
		case f.bytes == 2:
			to[i] = float64(int16(binary.LittleEndian.Uint16(b))) / (1 << 15)
		case f.bytes == 3:
			to[i] = float64(int32(uint32(b[0])<<8|uint32(b[1])<<16|uint32(b[2])<<24)) / (1 << 31)
		default:
			to[i] = float64(int32(binary.LittleEndian.Uint32(b))) / (1 << 31)
		}
	}
}

// finite is NaN for what is no number that can be reckoned with.
func finite(v float64) float64 {
	if math.Abs(v) <= 1e100 {
		return v
	}
	return math.NaN()
}
