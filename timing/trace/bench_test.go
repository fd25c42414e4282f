package trace

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

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
	run("reader", func() error { return parsed(bytes.NewReader(text)) })
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
	clock     []byte   // the next row's time, in hundred-thousandths of a second
	buf       []byte
}

func (e *endless) Read(p []byte) (int, error) {
	if e.row == 0 {
		e.clock = append(e.clock[:0], "000000.000000"...)
	}
	for len(e.buf) < len(p) {
		if e.left <= 0 {
			if len(e.buf) == 0 {
				return 0, io.EOF
			}
			break
		}
		before := len(e.buf)
		e.buf = append(append(e.buf, bytes.TrimLeft(e.clock[:5], "0")...), e.clock[5:]...)
		e.buf = append(e.buf, e.cells[e.row%int64(len(e.cells))]...)
		e.row++
		for i := len(e.clock) - 2; i >= 0; i-- {
			if e.clock[i] == '.' {
				continue
			}
			if e.clock[i]++; e.clock[i] <= '9' {
				break
			}
			e.clock[i] = '0'
		}
		e.left -= int64(len(e.buf) - before)
	}
	n := copy(p, e.buf)
	e.buf = e.buf[:copy(e.buf, e.buf[n:])]
	return n, nil
}

// rowsOf are a recording's rows without their times.
func rowsOf(text []byte) (cells [][]byte) {
	lines := bytes.SplitAfter(text, []byte("\n"))
	for _, line := range lines[1 : len(lines)-1] {
		cells = append(cells, line[bytes.IndexByte(line, ','):])
	}
	return cells
}

// parsed reads a recording and keeps nothing.
func parsed(in io.Reader) error {
	r, err := samples.NewReader(in, samples.Options{})
	var block samples.Block
	for err == nil {
		err = r.Read(&block)
	}
	if err == io.EOF {
		return nil
	}
	return err
}

// pictured reads a recording and keeps it as a picture.
func pictured(in io.Reader) error {
	r, err := samples.NewReader(in, samples.Options{})
	if err != nil {
		return err
	}
	var p Picture
	_, err = Collect(context.Background(), r, nil, p.Add)
	p.Finish()
	return err
}

// BenchmarkAgainstParsing parses the same recording and reads and keeps it in turn, and
// reports how fast the best of each was: other work on the machine disturbs both alike.
func BenchmarkAgainstParsing(b *testing.B) {
	text, _ := benchText(b)
	for _, ext := range []struct {
		name string
		file []byte
	}{{"CSV", text}, {"changes of level", []byte(changesOf(text))}} {
		b.Run(ext.name, func(b *testing.B) {
			alone, kept := time.Duration(math.MaxInt64), time.Duration(math.MaxInt64)
			for b.Loop() {
				for _, way := range []struct {
					work func(io.Reader) error
					took *time.Duration
				}{{parsed, &alone}, {pictured, &kept}} {
					start := time.Now()
					if err := way.work(bytes.NewReader(ext.file)); err != nil {
						b.Fatal(err)
					}
					*way.took = min(*way.took, time.Since(start))
				}
			}
			mb := float64(len(ext.file)) / 1e6
			b.ReportMetric(mb/alone.Seconds(), "MB/s-parsed")
			b.ReportMetric(mb/kept.Seconds(), "MB/s-kept")
			b.ReportMetric(alone.Seconds()/kept.Seconds(), "of-parsing")
		})
	}
}

// changesOf makes a row at each change of level of a recording's two channels, over and
// over until it is as long.
func changesOf(text []byte) string {
	var s strings.Builder
	s.WriteString("Time [s],crank,cam\n")
	dice := rand.New(rand.NewPCG(8, 9))
	at, crank, cam := 0.0, 0, 0
	for i := 0; s.Len() < len(text); i++ {
		at += 0.002 + 0.001*dice.Float64()
		if crank = 1 - crank; i%97 == 0 {
			cam = 1 - cam
		}
		fmt.Fprintf(&s, "%.9f,%d,%d\n", at, crank, cam)
	}
	return s.String()
}

// BenchmarkMemory streams a recording of 1 GiB through reader, collector and picture
// and reports the most memory that the process held from the system.
func BenchmarkMemory(b *testing.B) {
	text, known := benchText(b)
	e := endless{left: 1 << 30, cells: rowsOf(text)}
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
	e := endless{cells: rowsOf(text)}
	for _, mb := range []int64{1, 100, 1000} {
		row := strconv.FormatInt(mb, 10) + " MB read and kept as a picture"
		b.Run(row+"/pinphase", func(b *testing.B) {
			b.SetBytes(mb * 1e6)
			for b.Loop() {
				e.row, e.left = 0, mb*1e6
				if err := pictured(&e); err != nil {
					b.Fatal(err)
				}
			}
		})
		b.Run(row+"/parsing alone", func(b *testing.B) {
			b.SetBytes(mb * 1e6)
			for b.Loop() {
				e.row, e.left = 0, mb*1e6
				if err := parsed(&e); err != nil {
					b.Fatal(err)
				}
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
