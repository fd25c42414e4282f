package samples

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"
)

// waveKind is how a WAV file is written in the tests.
type waveKind struct {
	name     string
	bits     int // that are used; the rest of the bytes below them is 0
	bytes    int // of one sample
	float    bool
	wide     bool   // WAVE_FORMAT_EXTENSIBLE
	rf64     bool   // the sizes stand in ds64
	size     uint32 // of the data as the header has it, where not 0
	before   int    // bytes of a chunk that stands before the samples
	channels int
	rate     uint32
}

// chunk is a chunk with its pad byte.
func chunk(name string, body []byte) []byte {
	b := binary.LittleEndian.AppendUint32([]byte(name), uint32(len(body)))
	b = append(b, body...)
	if len(body)%2 == 1 {
		b = append(b, 0)
	}
	return b
}

// write makes a file of frames of values from -1 to 1.
func (k waveKind) write(frames [][]float64) []byte {
	le := binary.LittleEndian
	coding := uint16(wavePCM)
	if k.float {
		coding = waveFloat
	}
	form := le.AppendUint16(nil, coding)
	form = le.AppendUint16(form, uint16(k.channels))
	form = le.AppendUint32(form, k.rate)
	form = le.AppendUint32(form, k.rate*uint32(k.channels*k.bytes))
	form = le.AppendUint16(form, uint16(k.channels*k.bytes))
	form = le.AppendUint16(form, uint16(8*k.bytes))
	if k.wide {
		le.PutUint16(form, waveExtensible)
		form = le.AppendUint16(form, 22)
		form = le.AppendUint16(form, uint16(k.bits))
		form = le.AppendUint32(form, 3)
		form = le.AppendUint16(form, coding)
		form = append(form, 0, 0, 0, 0, 0x10, 0, 0x80, 0, 0, 0xaa, 0, 0x38, 0x9b, 0x71)
	}
	var data []byte
	for _, f := range frames {
		for _, v := range f {
			switch full := math.Ldexp(1, k.bits-1); {
			case k.float && k.bytes == 4:
				data = le.AppendUint32(data, math.Float32bits(float32(v)))
			case k.float:
				data = le.AppendUint64(data, math.Float64bits(v))
			case k.bytes == 1:
				data = append(data, byte(math.Round(v*127)+128))
			default:
				n := int64(min(math.Round(v*full), full-1)) << (8*k.bytes - k.bits)
				data = append(data, le.AppendUint64(nil, uint64(n))[:k.bytes]...)
			}
		}
	}
	samples := chunk("data", data)
	head := "RIFF"
	var b []byte
	if k.rf64 {
		head = "RF64"
		ds := le.AppendUint64(nil, uint64(len(data)+100))
		ds = le.AppendUint64(ds, uint64(len(data)))
		ds = le.AppendUint64(ds, uint64(len(frames)))
		b = append(b, chunk("ds64", le.AppendUint32(ds, 0))...)
	}
	if k.size != 0 {
		le.PutUint32(samples[4:], k.size+1) // 1 stands for 0
	}
	if k.before > 0 {
		b = append(b, chunk("LIST", bytes.Repeat([]byte("x"), k.before))...)
	}
	b = append(b, chunk("fmt ", form)...)
	if k.before > 0 {
		b = append(b, chunk("fact", make([]byte, 4))...)
	}
	b = append(b, samples...)
	if k.size == 0 || k.rf64 {
		b = append(b, chunk("LIST", []byte("INFOthe end"))...)
	}
	return append(append(le.AppendUint32([]byte(head), uint32(len(b)+4)), "WAVE"...), b...)
}

// waveKinds are the ways in which recorders write WAV.
var waveKinds = []waveKind{
	{name: "8 bits", bits: 8, bytes: 1, channels: 2, rate: 44100},
	{name: "16 bits", bits: 16, bytes: 2, channels: 2, rate: 48000},
	{name: "16 bits, one channel", bits: 16, bytes: 2, channels: 1, rate: 44100},
	{name: "24 bits", bits: 24, bytes: 3, channels: 3, rate: 96000},
	{name: "32 bits", bits: 32, bytes: 4, channels: 2, rate: 192000},
	{name: "float", bits: 32, bytes: 4, float: true, channels: 2, rate: 48000},
	{name: "double float", bits: 64, bytes: 8, float: true, channels: 2, rate: 48000},
	{name: "extensible", bits: 16, bytes: 2, wide: true, channels: 8, rate: 48000},
	{name: "extensible, 24 bits in 4 bytes", bits: 24, bytes: 4, wide: true, channels: 4, rate: 48000},
	{name: "extensible float", bits: 32, bytes: 4, wide: true, float: true, channels: 2, rate: 48000},
	{name: "RF64", bits: 16, bytes: 2, rf64: true, size: math.MaxUint32 - 1, channels: 2, rate: 48000},
	{name: "size not known", bits: 16, bytes: 2, size: math.MaxUint32 - 1, channels: 2, rate: 48000},
	{name: "size 0", bits: 24, bytes: 3, size: math.MaxUint32, channels: 1, rate: 48000},
	{name: "odd chunks before", bits: 8, bytes: 1, before: 33, channels: 1, rate: 44100},
}

func waveFrames(channels, n int) [][]float64 {
	frames := make([][]float64, n)
	for i := range frames {
		for c := range channels {
			frames[i] = append(frames[i], 0.99*math.Sin(float64(i)/7+float64(c)))
		}
	}
	return frames
}

// readBlocks reads a recording of any kind whole.
func readBlocks(in io.Reader) (*Reader, Block, error) {
	r, err := NewReader(in, Options{})
	if err != nil {
		return nil, Block{}, err
	}
	var all, b Block
	for {
		err := r.Read(&b)
		if err == io.EOF {
			return r, all, nil
		}
		if err != nil {
			return r, all, err
		}
		if all.Values == nil {
			all.Values = make([][]float64, len(b.Values))
		}
		all.Steps = b.Steps
		all.Time = append(all.Time, b.Time...)
		for c := range b.Values {
			all.Values[c] = append(all.Values[c], b.Values[c]...)
		}
	}
}

func TestWave(t *testing.T) {
	const n = 10001
	for _, k := range waveKinds {
		for _, way := range []string{"plain", "gzip"} {
			frames := waveFrames(k.channels, n)
			text := string(k.write(frames))
			if way == "gzip" {
				text = packed(text)
			}
			r, b, err := readBlocks(strings.NewReader(text))
			if err != nil || len(b.Time) != n || len(b.Values) != k.channels || b.Steps || len(r.Notes()) > 0 {
				t.Errorf("%s, %s: %d frames of %d channels, %v", k.name, way, len(b.Time), len(b.Values), err)
				continue
			}
			for i := range frames {
				if want := float64(i) / float64(k.rate); math.Abs(b.Time[i]-want) > 1e-12 {
					t.Fatalf("%s, %s: frame %d at %g s, want %g", k.name, way, i, b.Time[i], want)
				}
				for c, want := range frames[i] {
					if got := b.Values[c][i]; math.Abs(got-want) > math.Max(math.Ldexp(1.1, -min(k.bits, 24)), 0) && k.bits > 8 || math.Abs(got-want) > 0.013 {
						t.Fatalf("%s, %s: frame %d of channel %d is %g, want %g", k.name, way, i, c, got, want)
					}
				}
			}
		}
	}
}

// A file that ends early is read to its end, and that is said; a header that cannot be is
// refused, and one that promises 4 GB takes no more memory than what is there.
// An interval for a recording that says its times is told to be of no use.
func TestIntervalOfWhatIsTimed(t *testing.T) {
	for _, c := range []struct{ name, text string }{
		{"wave", string(waveKinds[1].write(waveFrames(2, 100)))},
		{"changes of a logic analyser", standardVCD},
		{"a column of time", "time (s),a\n0,1\n0.1,2\n0.2,3\n"},
		{"a column that rises as time does", "0,1\n0.1,2\n0.2,3\n"},
	} {
		for _, in := range []string{c.text, packed(c.text)} {
			if _, err := NewReader(strings.NewReader(in), Options{IntervalS: 1e-4}); !errors.Is(err, ErrTimed) {
				t.Errorf("%s: %v", c.name, err)
			}
		}
	}
}

func TestWaveRefuses(t *testing.T) {
	k := waveKinds[1]
	whole := k.write(waveFrames(2, 9600))
	r, b, err := readBlocks(bytes.NewReader(whole[:len(whole)/2]))
	if err != nil || len(b.Time) < 4700 || len(b.Time) > 4800 || len(r.Notes()) != 1 || r.Notes()[0].Kind != CutOff || math.Abs(r.Notes()[0].Value-0.1) > 0.001 {
		t.Errorf("cut: %d frames, %v, %v", len(b.Time), r.Notes(), err)
	}
	at := bytes.Index(whole, []byte("fmt "))
	changed := func(offset int, v ...byte) []byte {
		return append(append(slices.Clone(whole[:at+8+offset]), v...), whole[at+8+offset+len(v):]...)
	}
	promised := slices.Clone(whole)
	binary.LittleEndian.PutUint32(promised[bytes.Index(whole, []byte("data"))+4:], 0xfffffff0)
	if _, b, err := readBlocks(bytes.NewReader(promised)); err != nil || len(b.Time) < 9600 {
		t.Errorf("promised: %d frames, %v", len(b.Time), err)
	}
	for _, c := range []struct {
		name string
		file []byte
		is   error
	}{
		{"no samples", whole[:at+20], ErrWaveCut}, {"only its name", whole[:12], ErrWaveCut}, {"compressed", changed(0, 0x55, 0), ErrWaveCoding}, {"A-law", changed(0, 6, 0), ErrWaveCoding},
		{"no channels", changed(2, 0, 0), ErrColumns}, {"nine channels", changed(2, 9, 0), ErrColumns}, {"no rate", changed(4, 0, 0, 0, 0), ErrWaveHeader},
		{"no frame", changed(12, 0, 0), ErrWaveHeader}, {"64 bits whole", changed(14, 64, 0), ErrWaveHeader},
		{"samples before their form", append(slices.Clone(whole[:12]), chunk("data", make([]byte, 100))...), ErrWaveHeader},
		{"gzip cut short", []byte(packed(string(whole))[:4000]), io.ErrUnexpectedEOF},
	} {
		if _, _, err := readBlocks(bytes.NewReader(c.file)); !errors.Is(err, c.is) || strings.Contains(fmt.Sprint(err), "\n") {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
