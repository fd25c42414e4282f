package samples

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"encoding/binary"
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
			if len(columns[i]) == BlockRows {
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

// BenchmarkTable is reading a recording, in every format against the straightforward way
// with the standard library, and as CSV against passing its bytes on alone.
func BenchmarkTable(b *testing.B) {
	text := benchText()
	table := func(what string, file []byte, ways ...way) {
		row := strconv.Itoa(len(file)/1e6) + " MB of " + what
		for _, w := range append([]way{{"pinphase", func() error { return readOnly(file) }}}, ways...) {
			b.Run(row+"/"+w.name, func(b *testing.B) {
				b.SetBytes(int64(len(file)))
				for b.Loop() {
					if err := w.read(); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
	table("recording", text, way{"encoding csv and strconv", func() error { return readPlainly(text, ',', false) }}, way{"the bytes alone", func() error {
		_, err := io.CopyBuffer(struct{ io.Writer }{io.Discard}, struct{ io.Reader }{bytes.NewReader(text)}, make([]byte, bufferSize))
		return err
	}})
	small := []byte(packed(string(text)))
	table("recording, packed", small, way{"unpacking alone", func() error {
		z, err := gzip.NewReader(bytes.NewReader(small))
		if err == nil {
			_, err = io.Copy(io.Discard, z)
		}
		return err
	}})
	changes, dump, clock := benchChanges()
	table("changes of level", changes, way{"encoding csv and strconv", func() error { return readPlainly(changes, ',', false) }})
	table("VCD", dump, way{"bufio and strconv", func() error { return readDumpPlainly(dump) }})
	table("times of day", clock, way{"encoding csv and package time", func() error { return readClockPlainly(clock) }})
	sound := waveKinds[1].write(waveFrames(2, 2_000_000))
	table("WAV", sound, way{"encoding binary", func() error { return readSoundPlainly(sound[44:]) }})
}

// way is a way of reading a recording.
type way struct {
	name string
	read func() error
}

// benchChanges are half a million changes of two levels: as rows, as a dump, and as rows
// with times of day.
func benchChanges() (rows, dump, clock []byte) {
	rows, clock = []byte("Time [s],crank,cam\n"), []byte("time,crank,cam\n")
	dump = []byte("$timescale 1 ns $end\n$var wire 1 ! crank $end\n$var wire 1 \" cam $end\n$enddefinitions $end\n")
	begin := time.Date(2024, 5, 6, 0, 0, 1, 0, time.UTC)
	dice := rand.New(rand.NewPCG(8, 9))
	var at int64
	levels := [2]int{}
	for i := range 500_000 {
		at += 2_000_000 + dice.Int64N(1_000_000)
		c := 0
		if i%97 == 0 {
			c = 1
		}
		levels[c] = 1 - levels[c]
		rows = fmt.Appendf(rows, "%d.%09d,%d,%d\n", at/1e9, at%1e9, levels[0], levels[1])
		dump = fmt.Appendf(dump, "#%d\n%d%c\n", at, levels[c], "!\""[c])
		clock = fmt.Appendf(clock, "%s,%d,%d\n", begin.Add(time.Duration(at)).Format("15:04:05.000000000"), levels[0], levels[1])
	}
	return rows, dump, clock
}

// readDumpPlainly reads the changes of a dump of wires word by word.
func readDumpPlainly(dump []byte) error {
	w := bufio.NewScanner(bytes.NewReader(dump[bytes.Index(dump, []byte("$enddefinitions $end"))+20:]))
	w.Split(bufio.ScanWords)
	values := map[string]float64{}
	for w.Scan() {
		word := w.Text()
		if word[0] == '#' {
			if _, err := strconv.ParseInt(word[1:], 10, 64); err != nil {
				return err
			}
			continue
		}
		values[word[1:]] = float64(word[0] - '0')
	}
	return w.Err()
}

// readClockPlainly reads rows whose first cell is a time of day.
func readClockPlainly(text []byte) error {
	r := csv.NewReader(bytes.NewReader(text))
	r.ReuseRecord = true
	if _, err := r.Read(); err != nil {
		return err
	}
	for {
		row, err := r.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		if _, err := time.Parse("15:04:05", row[0]); err != nil {
			return err
		}
		for _, cell := range row[1:] {
			if _, err := strconv.ParseFloat(cell, 64); err != nil {
				return err
			}
		}
	}
}

// readSoundPlainly reads samples of 16 bits a block at a time.
func readSoundPlainly(data []byte) error {
	in := bytes.NewReader(data)
	block := make([]int16, 2*BlockRows)
	values := make([]float64, len(block))
	for {
		err := binary.Read(in, binary.LittleEndian, block)
		if err != nil {
			if err == io.EOF || err == io.ErrUnexpectedEOF {
				return nil
			}
			return err
		}
		for i, v := range block {
			values[i] = float64(v) / (1 << 15)
		}
	}
}
