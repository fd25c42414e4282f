package trace

import (
	"bytes"
	"compress/gzip"
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"runtime"
	"strconv"
	"strings"
	"testing"
	"time"

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

// BenchmarkRead reads the same recording in five ways: the bytes alone, this
// package's reader, the reader with all that is kept of the samples, the whole way to
// what the recording proves, and the straightforward way with the standard library.
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
	run("bytes", func() error {
		_, err := io.CopyBuffer(struct{ io.Writer }{io.Discard}, struct{ io.Reader }{bytes.NewReader(text)}, make([]byte, bufferSize))
		return err
	})
	run("reader", func() error { return readOnly(text) })
	collected := func() (*Collector, error) {
		r, err := NewReader(bytes.NewReader(text), Options{})
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
	run("standard library", func() error { return readPlainly(text, ',', false) })
}

// BenchmarkAgainstStandard reads the same recording in turn with this package's reader
// and with the standard library, and reports how many times as fast the best reading
// was: other work on the machine disturbs both alike.
func BenchmarkAgainstStandard(b *testing.B) {
	text, _ := benchText(b)
	short := bytes.LastIndexByte(text[:4<<20], '\n') // many short turns, some of which nothing disturbs
	against(b, text[:short+1], ',', false)
}

// BenchmarkWritten does the same with recordings written as scopes and loggers write them.
func BenchmarkWritten(b *testing.B) {
	for _, w := range []struct {
		name           string
		format         byte
		time, decimals int
		channels       int
		delimiter, end string
	}{
		{"three decimals", 'f', 6, 3, 2, ",", "\n"},
		{"six decimals", 'f', 6, 6, 2, ",", "\n"},
		{"nine decimals", 'f', 9, 9, 2, ",", "\n"},
		{"eight channels, carriage returns", 'f', 6, 6, 8, ",", "\r\n"},
		{"decimal commas", 'f', 6, 4, 2, ";", "\n"},
		{"tabs", 'f', 7, 5, 2, "\t", "\n"},
		{"blanks", 'f', 6, 4, 2, ", ", "\n"},
		{"exponents", 'E', 6, 6, 2, ",", "\n"},
		{"all digits", 'f', 6, -1, 2, ",", "\n"},
	} {
		var text []byte
		text = append(text, "time (s)"...)
		for c := range w.channels {
			text = fmt.Appendf(text, "%sCH%d", w.delimiter, c+1)
		}
		text = append(text, w.end...)
		dice := rand.New(rand.NewPCG(1, 2))
		for i := range 200000 {
			text = strconv.AppendFloat(text, float64(i)*1e-5, w.format, w.time, 64)
			for c := range w.channels {
				v := 5*math.Sin(float64(i)/50+float64(c)) + 0.3*dice.NormFloat64()
				text = strconv.AppendFloat(append(text, w.delimiter...), v, w.format, w.decimals, 64)
			}
			text = append(text, w.end...)
		}
		if w.delimiter == ";" {
			text = bytes.ReplaceAll(text, []byte("."), []byte(","))
		}
		b.Run(w.name, func(b *testing.B) { against(b, text, rune(w.delimiter[0]), len(w.delimiter) > 1) })
	}
}

// against reports how many times as fast a recording is read as with the standard library.
func against(b *testing.B, text []byte, delimiter rune, blanks bool) {
	ours, theirs := time.Duration(math.MaxInt64), time.Duration(math.MaxInt64)
	for b.Loop() {
		start := time.Now()
		if err := readOnly(text); err != nil {
			b.Fatal(err)
		}
		ours = min(ours, time.Since(start))
		start = time.Now()
		if err := readPlainly(text, delimiter, blanks); err != nil {
			b.Fatal(err)
		}
		theirs = min(theirs, time.Since(start))
	}
	mb := float64(len(text)) / 1e6
	b.ReportMetric(mb/ours.Seconds(), "MB/s-reader")
	b.ReportMetric(mb/theirs.Seconds(), "MB/s-standard")
	b.ReportMetric(theirs.Seconds()/ours.Seconds(), "times-as-fast")
}

// readOnly reads a recording and keeps nothing.
func readOnly(text []byte) error {
	r, err := NewReader(bytes.NewReader(text), Options{})
	var block Block
	for err == nil {
		err = r.Read(&block)
	}
	if err == io.EOF {
		return nil
	}
	return err
}

// readPlainly reads a recording with encoding/csv and strconv as one would write it
// first: row by row, every cell parsed and put into its column, of which as much is kept as
// our reader keeps, one block. Of the options of [csv.Reader] it has the delimiter and
// ReuseRecord, which its documentation gives for speed and which spares it an allocation a row;
// with blanks behind the delimiters also TrimLeadingSpace, without which it could not read them.
func readPlainly(text []byte, delimiter rune, blanks bool) error {
	r := csv.NewReader(bytes.NewReader(text))
	r.Comma, r.ReuseRecord, r.TrimLeadingSpace = delimiter, true, blanks
	names, err := r.Read()
	if err != nil {
		return err
	}
	columns := make([][]float64, len(names))
	for {
		record, err := r.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		for i, cell := range record {
			if delimiter == ';' {
				cell = strings.Replace(cell, ",", ".", 1)
			}
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				return err
			}
			if len(columns[i]) == blockRows {
				columns[i] = columns[i][:0]
			}
			columns[i] = append(columns[i], v)
		}
	}
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
		r, err := NewReader(&e, Options{})
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

// BenchmarkGzip is the reader on a packed recording.
func BenchmarkGzip(b *testing.B) {
	text, _ := benchText(b)
	var small bytes.Buffer
	z := gzip.NewWriter(&small)
	z.Write(text)
	z.Close()
	b.SetBytes(int64(len(text)))
	for b.Loop() {
		r, err := NewReader(bytes.NewReader(small.Bytes()), Options{})
		var block Block
		for err == nil {
			err = r.Read(&block)
		}
		if err != io.EOF {
			b.Fatal(err)
		}
	}
}

// BenchmarkTable is reading a recording, against the standard library and against
// passing its bytes on alone; and how that grows with the recording.
func BenchmarkTable(b *testing.B) {
	text, _ := benchText(b)
	row := strconv.Itoa(len(text)/1e6) + " MB of recording"
	for _, way := range []struct {
		name string
		read func() error
	}{
		{"pinphase", func() error { return readOnly(text) }},
		{"encoding csv and strconv", func() error { return readPlainly(text, ',', false) }},
		{"the bytes alone", func() error {
			_, err := io.CopyBuffer(struct{ io.Writer }{io.Discard}, struct{ io.Reader }{bytes.NewReader(text)}, make([]byte, bufferSize))
			return err
		}},
	} {
		b.Run(row+"/"+way.name, func(b *testing.B) {
			b.SetBytes(int64(len(text)))
			for b.Loop() {
				if err := way.read(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
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
				r, err := NewReader(&e, Options{})
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
				if _, err := io.CopyBuffer(struct{ io.Writer }{io.Discard}, &e, make([]byte, bufferSize)); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
