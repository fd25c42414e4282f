package samples

import (
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"
)

// readAll reads a recording whole.
func readAll(r io.Reader, o Options) (*table, Block, error) {
	rd, err := NewReader(r, o)
	if err != nil {
		return nil, Block{}, err
	}
	t, ok := rd.source.(*table)
	if !ok {
		return nil, Block{}, errNoTable
	}
	return drain(t)
}

var errNoTable = errors.New("this is no table")

// drain reads what is left.
func drain(rd *table) (*table, Block, error) {
	var all, b Block
	for {
		err := rd.read(&b)
		if err == io.EOF {
			return rd, all, nil
		}
		if err != nil {
			return rd, all, err
		}
		all.Time = append(all.Time, b.Time...)
		if all.Values == nil {
			all.Values = make([][]float64, len(b.Values))
		}
		for c := range b.Values {
			all.Values[c] = append(all.Values[c], b.Values[c]...)
		}
	}
}

// named are the channels' names.
func named(r *table) (list []string) {
	for _, c := range r.channels() {
		list = append(list, c.Name)
	}
	return list
}

func packed(text string) string {
	var b bytes.Buffer
	z := gzip.NewWriter(&b)
	z.Write([]byte(text))
	z.Close()
	return b.String()
}

// Every way of writing the same four samples, 20 microseconds apart.
func TestReaderTakes(t *testing.T) {
	for _, c := range []struct {
		name, text string
		interval   float64
		names      string
		given      bool // the unit of time is given
	}{
		{"comma, header with units", "time (s),crank (V),cam (V)\n0,1.5,-2\n0.00002,1.25,5\n0.00004,0,5\n0.00006,-1e1,5.0\n", 0, "crank cam", true},
		{"no header", "0,1.5,-2\n0.00002,1.25,5\n0.00004,0,5\n0.00006,-10,5\n", 0, " ", false},
		{"semicolon and decimal comma", "Zeit;A;B\ns;V;V\n0;1,5;-2\n0,00002;1,25;5\n0,00004;0;5\n0,00006;-10;5\n", 0, "A B", true},
		{"tabs, units row in brackets", "Time\tCH1\tCH2\n(ms)\t(V)\t(V)\n\n0\t1.5\t-2\n0.02\t1.25\t5\n0.04\t0\t5\n0.06\t-10\t5\n", 0, "CH1 CH2", true},
		{"tabs and decimal comma", "time [us]\ta\tb\n0\t1,5\t-2\n20\t1,25\t5\n40\t0\t5\n60\t-10\t5\n", 0, "a b", true},
		{"blanks", "# t_us a b\n  0   1.5 -2\n 20  1.25  5\n 40     0  5\n 60   -10  5\n", 0, "a b", true},
		{"comments between rows", "% made by hand\nt,a,b\n0,1.5,-2\n# a remark\n0.00002,1.25,5\n0.00004,0,5\n0.00006,-10,5\n", 0, "a b", false},
		{"carriage returns", "t,a,b\r\n0,1.5,-2\r\n0.00002,1.25,5\r\n0.00004,0,5\r\n0.00006,-10,5\r\n", 0, "a b", false},
		{"byte order mark", "\xef\xbb\xbftime (s),a,b\n0,1.5,-2\n0.00002,1.25,5\n0.00004,0,5\n0.00006,-10,5", 0, "a b", true},
		{"quoted", "\"time (s)\",\"a\",\"b\"\n\"0\",\"1.5\",\"-2\"\n\"0.00002\",\"1.25\",\"5\"\n\"0.00004\",\"0\",\"5\"\n\"0.00006\",\"-10\",\"5\"\n", 0, "a b", true},
		{"quoted decimal commas", "time (s),a,b\n\"0\",\"1,5\",\"-2\"\n\"0,00002\",\"1,25\",\"5\"\n\"0,00004\",\"0\",\"5\"\n\"0,00006\",\"-10\",\"5\"\n", 0, "a b", true},
		{"a delimiter at the end", "time (s),a,b,\n0,1.5,-2,\n0.00002,1.25,5,\n0.00004,0,5,\n0.00006,-10,5,\n", 0, "a b", true},
		{"milliseconds unsaid", "t,a,b\n0,1.5,-2\n0.02,1.25,5\n0.04,0,5\n0.06,-10,5\n", 0, "a b", false},
		{"microseconds unsaid", "t,a,b\n0,1.5,-2\n20,1.25,5\n40,0,5\n60,-10,5\n", 0, "a b", false},
		{"no time, interval given", "a,b\n1.5,-2\n1.25,5\n0,5\n-10,5\n", 20e-6, "a b", false},
		{"no time, interval in the file", "Sample interval: 20 us\na,b\n1.5,-2\n1.25,5\n0,5\n-10,5\n", 0, "a b", false},
		{"no time, rate in the file", "# Sampling rate, 50 kHz\na;b\n1,5;-2\n1,25;5\n0;5\n-10;5\n", 0, "a b", false},
		{"a count and an interval", "dt = 2e-5\nsample,a,b\n0,1.5,-2\n1,1.25,5\n2,0,5\n3,-10,5\n", 0, "a b", false},
		{"time in the last column", "a,b,time (s)\n1.5,-2,0\n1.25,5,0.00002\n0,5,0.00004\n-10,5,0.00006\n", 0, "a b", true},
		{"sections and keys above it", "[header]\nscope = 7\ntime (s),a,b\n0,1.5,-2\n0.00002,1.25,5\n0.00004,0,5\n0.00006,-10,5\n", 0, "a b", true},
		{"begins before 0", "time (ms),a,b\n-1,1.5,-2\n-0.98,1.25,5\n-0.96,0,5\n-0.94,-10,5\n", 0, "a b", true},
		{"minus signs of print", "time (s),a,b\n0,1.5,−2\n0.00002,1.25,5\n0.00004,0,5\n0.00006,−10,5\n", 0, "a b", true},
	} {
		for _, way := range []string{"plain", "gzip", "byte by byte"} {
			var in io.Reader = strings.NewReader(c.text)
			switch way {
			case "gzip":
				in = strings.NewReader(packed(c.text))
			case "byte by byte":
				in = iotest.OneByteReader(in)
			}
			r, b, err := readAll(in, Options{IntervalS: c.interval})
			if err != nil {
				t.Errorf("%s, %s: %v", c.name, way, err)
				continue
			}
			if fmt.Sprint(b.Values) != "[[1.5 1.25 0 -10] [-2 5 5 5]]" {
				t.Errorf("%s, %s: values %v", c.name, way, b.Values)
			}
			if len(b.Time) != 4 || math.Abs(b.Time[3]-b.Time[0]-60e-6) > 1e-12 {
				t.Errorf("%s, %s: times %v", c.name, way, b.Time)
			}
			if got := strings.Join(named(r), " "); got != c.names {
				t.Errorf("%s, %s: channels %q", c.name, way, got)
			}
			if r.format.UnitGiven != c.given {
				t.Errorf("%s, %s: unit given: %v", c.name, way, !c.given)
			}
		}
	}
}

// many is a recording of so many sound rows with what is put between them.
func many(rows int, between func(i int) string) string {
	var s strings.Builder
	s.WriteString("time (s),a,b\n")
	for i := range rows {
		fmt.Fprintf(&s, "%.6f,%d,%d\n", float64(i)*1e-5, i%7, i%3)
		if between != nil {
			s.WriteString(between(i))
		}
	}
	return s.String()
}

// What must be refused, and the words that say why.
func TestReaderRefuses(t *testing.T) {
	bomb := func() io.Reader { // a gigabyte of zeros without an end of line
		r, w := io.Pipe()
		go func() {
			z, _ := gzip.NewWriterLevel(w, gzip.BestSpeed)
			zeros := make([]byte, 1<<20)
			for i := range zeros {
				zeros[i] = '0'
			}
			z.Write([]byte(many(3000, nil)))
			for range 1024 {
				if _, err := z.Write(zeros); err != nil {
					break
				}
			}
			z.Close()
			w.Close()
		}()
		return r
	}
	rows := func() io.Reader { // the same, as rows that can be read
		r, w := io.Pipe()
		go func() {
			z, _ := gzip.NewWriterLevel(w, gzip.BestCompression)
			same := []byte(strings.Repeat("1,1,1\n", 1<<18))
			_, err := z.Write([]byte("time (s),a,b\n0,1,1\n0.5,1,1\n1,1,1\n"))
			for range 64 {
				if err == nil {
					_, err = z.Write(same)
				}
			}
			z.Close()
			w.Close()
		}()
		return r
	}
	whole := packed(many(40000, nil))
	damaged := []byte(whole)
	damaged[len(damaged)/2] ^= 0xff
	for _, c := range []struct {
		name string
		in   io.Reader
		is   error
		says string
	}{
		{"nothing", strings.NewReader(""), ErrEmpty, "no rows of numbers"},
		{"words", strings.NewReader("this is\nnot a recording\n"), ErrEmpty, ""},
		{"only a header", strings.NewReader("time,a,b\n"), ErrEmpty, ""},
		{"UTF-16", strings.NewReader("\xff\xfet\x00,\x00a\x00\n\x00"), ErrUTF16, "UTF-8"},
		{"binary", strings.NewReader("RIFF\x00\x01\x02\x00abcd"), ErrBinary, "CSV"},
		{"a picture", strings.NewReader("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR"), ErrBinary, ""},
		{"no time", strings.NewReader("a,b\n0,2\n0,3\n0,2\n0,3\n5,3\n5,2\n"), ErrNoTime, "give the interval"},
		{"time only", strings.NewReader("time\n1\n2\n3\n"), ErrColumns, "has 0"},
		{"nine channels", strings.NewReader("t,1a,2a,3a,4a,5a,6a,7a,8a,9a\n0,1,2,3,4,5,6,7,8,9\n1e-5,1,2,3,4,5,6,7,8,9\n"), ErrColumns, "has 9"},
		{"backwards from the start", strings.NewReader("time,a,b\n3,1,2\n2,1,3\n1,2,2\n0,0,0\n"), ErrBackward, ""},
		{"backwards later", strings.NewReader(many(2000, nil) + "0.001,1,1\n"), ErrBackward, "line 2002"},
		{"thousands of bad rows", strings.NewReader(many(5000, func(int) string { return "x,y,z\n" })), nil, "other rows are not numbers"},
		{"NUL bytes in the middle", strings.NewReader(many(8000, nil) + strings.Repeat("\x00", 300000)), ErrBinary, "longer than"},
		{"a line without end", strings.NewReader(many(5000, nil) + strings.Repeat("1", 1<<20)), ErrBinary, "line 5002"},
		{"gzip cut short", strings.NewReader(whole[:len(whole)/2]), io.ErrUnexpectedEOF, "was cut off"},
		{"gzip damaged", bytes.NewReader(damaged), nil, "line"},
		{"gzip of nothing known", strings.NewReader("\x1f\x8bnonsense"), nil, "unpacking"},
		{"a bomb", bomb(), ErrBinary, "longer than"},
		{"a bomb of rows", rows(), ErrBomb, "200 times"},
	} {
		_, _, err := readAll(c.in, Options{})
		if err == nil || c.is != nil && !errors.Is(err, c.is) || !strings.Contains(fmt.Sprint(err), c.says) {
			t.Errorf("%s: %v", c.name, err)
		}
		if err != nil && strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: more than one line: %q", c.name, err)
		}
	}
}

// Rows that cannot be read are left out and counted; empty and out-of-range cells
// are values that are not known.
func TestReaderForgives(t *testing.T) {
	r, b, err := readAll(strings.NewReader(many(6000, func(i int) string {
		switch i {
		case 5000:
			return "this line was written by a lightning stroke\n"
		case 5500:
			return "0.055001,1\n0.055002,1,2,3\n\n0.055003,,OVR\n0.055004,NaN,-inf\n"
		}
		return ""
	})), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if rows, first := r.bad, r.firstAt; rows != 3 || first != 5003 {
		t.Errorf("%d bad rows, the first in line %d", rows, first)
	}
	empty := 0
	for _, v := range b.Values {
		for _, x := range v {
			if x != x {
				empty++
			}
		}
	}
	if len(b.Time) != 6002 || empty != 4 {
		t.Errorf("%d rows, %d cells not known", len(b.Time), empty)
	}
	if f := r.notes(); len(f) != 1 || f[0].Kind != BadRows || f[0].N != 3 {
		t.Errorf("notes %+v", f)
	}
}

// A time written too coarsely is evened out; one that is truly uneven is not.
func TestReaderEvens(t *testing.T) {
	var coarse, uneven strings.Builder
	for i := range 20000 {
		fmt.Fprintf(&coarse, "%.4f,%d\n", float64(i)*1.7e-5, i%5)
		fmt.Fprintf(&uneven, "%.7f,%d\n", float64(i)*1e-5+3e-3*math.Sin(float64(i)/500), i%5)
	}
	_, b, err := readAll(strings.NewReader(coarse.String()), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, at := range b.Time {
		if math.Abs(at-float64(i)*1.7e-5) > 1e-5 {
			t.Fatalf("row %d at %g s, not %g", i, at, float64(i)*1.7e-5)
		}
	}
	_, b, err = readAll(strings.NewReader(uneven.String()), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, at := range b.Time {
		if math.Abs(at-(float64(i)*1e-5+3e-3*math.Sin(float64(i)/500))) > 1e-7 {
			t.Fatalf("row %d was moved to %g s", i, at)
		}
	}
}
