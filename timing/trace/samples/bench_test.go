package samples

import (
	"bytes"
	"compress/gzip"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"time"
)

// benchText is 800,000 rows of what a scope of 12 bits shows of a wheel that comes up to
// speed: time, an inductive sensor and a Hall sensor.
func benchText() []byte {
	text := []byte("time (s),crank (V),cam (V)\n")
	dice := rand.New(rand.NewPCG(1, 2))
	const step = 24.0 / 4096
	for i := range 800000 {
		at := float64(i) * 1e-5
		turned := 1200*at + 30*math.Sin(40*at)
		text = strconv.AppendFloat(text, at, 'f', 6, 64)
		for _, v := range []float64{5 * math.Sin(turned), 2.5 + math.Copysign(2.5, math.Sin(turned/17))} {
			v = math.Round((v+0.05*dice.NormFloat64())/step) * step
			text = strconv.AppendFloat(append(text, ','), v, 'f', 3, 64)
		}
		text = append(text, '\n')
	}
	return text
}

// BenchmarkAgainstStandard reads the same recording in turn with this package's reader
// and with the standard library, and reports how many times as fast the best reading
// was: other work on the machine disturbs both alike.
func BenchmarkAgainstStandard(b *testing.B) {
	text := benchText()
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

// BenchmarkGzip is the reader on a packed recording.
func BenchmarkGzip(b *testing.B) {
	text := benchText()
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
// passing its bytes on alone.
func BenchmarkTable(b *testing.B) {
	text := benchText()
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
}
