package trace

import (
	"bytes"
	"context"
	"io"
	"runtime"
	"strconv"
	"testing"

	"pinphase.org/pinphase/timing/trace/samples"
	"pinphase.org/pinphase/timing/trace/simulate"
)

// benchText is a recording as text, some MB of it.
func benchText(b *testing.B) ([]byte, Known) {
	c := tryout{cylinders: 4, wheels: wheel60(), start: 37, seed: 1, seconds: 8, scope: simulate.Scope{Rate: 100000, Noise: 0.05, Bits: 12}}
	s, k := c.play()
	var text bytes.Buffer
	if err := s.WriteCSV(&text, 6, "crank", "cam"); err != nil {
		b.Fatal(err)
	}
	return text.Bytes(), k
}

// BenchmarkRead reads the same recording in three ways: the reader alone, the reader with
// all that is kept of the samples, and the whole way to what the recording proves.
func BenchmarkRead(b *testing.B) {
	text, known := benchText(b)
	run := func(name string, work func() error) {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				if err := work(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
	run("reader", func() error {
		r, err := samples.NewReader(bytes.NewReader(text), samples.Options{})
		var block samples.Block
		for err == nil {
			err = r.Read(&block)
		}
		if err == io.EOF {
			return nil
		}
		return err
	})
	collected := func() (*Collector, error) {
		r, err := samples.NewReader(bytes.NewReader(text), samples.Options{})
		if err != nil {
			return nil, err
		}
		return Collect(context.Background(), r, nil, nil)
	}
	run("reader and edges", func() error { _, err := collected(); return err })
	run("whole", func() error {
		c, err := collected()
		if err == nil {
			_, err = c.Analyse(known)
		}
		return err
	})
}

// endless repeats a recording's rows for so many bytes, the time counting on: what a
// file of any size would read as.
type endless struct {
	row, left int64
	cells     [][]byte // of each row, from its first comma on
	buf       []byte
}

func (e *endless) Read(p []byte) (int, error) {
	for len(e.buf) < len(p) {
		if e.left <= 0 {
			if len(e.buf) == 0 {
				return 0, io.EOF
			}
			break
		}
		before := len(e.buf)
		e.buf = strconv.AppendFloat(e.buf, float64(e.row)/100000, 'f', 6, 64)
		e.buf = append(e.buf, e.cells[e.row%int64(len(e.cells))]...)
		e.row++
		e.left -= int64(len(e.buf) - before)
	}
	n := copy(p, e.buf)
	e.buf = e.buf[:copy(e.buf, e.buf[n:])]
	return n, nil
}

// BenchmarkMemory streams a recording of 1 GiB through reader, collector and picture
// and reports the most memory that the process held from the system.
func BenchmarkMemory(b *testing.B) {
	text, known := benchText(b)
	lines := bytes.SplitAfter(text, []byte("\n"))
	e := endless{left: 1 << 30}
	for _, line := range lines[1 : len(lines)-1] {
		e.cells = append(e.cells, append([]byte(nil), line[bytes.IndexByte(line, ','):]...))
	}
	text, lines = nil, nil
	b.SetBytes(1 << 30)
	for b.Loop() {
		e.row, e.left = 0, 1<<30
		r, err := samples.NewReader(&e, samples.Options{})
		if err != nil {
			b.Fatal(err)
		}
		most, blocks := uint64(0), 0
		look := func(int64) {
			if blocks++; blocks%200 == 0 {
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				most = max(most, m.Sys-m.HeapReleased)
			}
		}
		var p Picture
		c, err := Collect(context.Background(), r, look, p.Add)
		if err != nil {
			b.Fatal(err)
		}
		p.Finish()
		if _, err := c.Analyse(known); err != nil {
			b.Fatal(err)
		}
		blocks = 199
		look(0)
		b.ReportMetric(float64(most)/(1<<20), "MiB-at-most")
		if most > 300<<20 {
			b.Errorf("%d MiB held", most>>20)
		}
	}
}

// BenchmarkTable is how reading a recording and keeping it as a picture grows with the
// recording.
func BenchmarkTable(b *testing.B) {
	text, _ := benchText(b)
	lines := bytes.SplitAfter(text, []byte("\n"))
	var e endless
	for _, line := range lines[1 : len(lines)-1] {
		e.cells = append(e.cells, line[bytes.IndexByte(line, ','):])
	}
	for _, mb := range []int64{1, 100, 1000} {
		row := strconv.FormatInt(mb, 10) + " MB read and kept as a picture"
		b.Run(row+"/pinphase", func(b *testing.B) {
			b.SetBytes(mb * 1e6)
			for b.Loop() {
				e.row, e.left = 0, mb*1e6
				r, err := samples.NewReader(&e, samples.Options{})
				if err != nil {
					b.Fatal(err)
				}
				var p Picture
				if _, err := Collect(context.Background(), r, nil, p.Add); err != nil {
					b.Fatal(err)
				}
				p.Finish()
			}
		})
		b.Run(row+"/making those bytes", func(b *testing.B) {
			b.SetBytes(mb * 1e6)
			for b.Loop() {
				e.row, e.left = 0, mb*1e6
				if _, err := io.CopyBuffer(struct{ io.Writer }{io.Discard}, &e, make([]byte, 256<<10)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
