package samples

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
)

// FuzzReader: whatever the bytes, reading ends, without a panic, what it hands out keeps
// its promises, and the quick way of reading comes to the same as the careful one.
func FuzzReader(f *testing.F) {
	for _, seed := range []string{
		"time (s),a,b\n0,1.5,-2\n0.00002,1.25,5\n", "Zeit;A;B\ns;V;V\n0;1,5;-2\n0,00002;1,25;5\n", "# dt = 1e-5\n1 2\n3 4\n", packed("t,a\n0,1\n1,2\n"),
		"\xef\xbb\xbft,a\n0,1\n1,2\n", "\"0\",\"1\n2\",3\n", "sample rate 1 kHz\n1\n2\n", ";1;2\n;3;4\n", "t,a\n0,nan\n1,1e999\n2,1e-999\n", ";",
		strings.Repeat("0.00001,-1.234567,12.123456789\n", 9), strings.Repeat("  1, 2.5E-03,\"-7\",.5 ,\r\n", 9), strings.Repeat("1;-0,12345678901234567;+3;\n", 9),
	} {
		f.Add([]byte(seed), 0.0)
		f.Add([]byte(seed), 1e-5)
	}
	f.Fuzz(func(t *testing.T, data []byte, interval float64) {
		if !(interval >= 0 && interval < 1) {
			interval = 0
		}
		sameReading(t, data, Options{IntervalS: interval})
		r, b, err := readAll(bytes.NewReader(data), Options{IntervalS: interval})
		if err != nil {
			return
		}
		if n := len(r.channels()); n < 1 || n > maxChannels || len(b.Time) > 0 && len(b.Values) != n {
			t.Fatalf("%d channels, values of %d", n, len(b.Values))
		}
		for i, at := range b.Time {
			if math.IsNaN(at) || math.IsInf(at, 0) {
				t.Fatalf("sample %d at %g s", i, at)
			}
		}
		for _, v := range b.Values {
			if len(v) != len(b.Time) {
				t.Fatalf("%d values at %d times", len(v), len(b.Time))
			}
		}
	})
}

// FuzzNumber: what is read of a number is what strconv reads of it, to the last bit, alone
// and in rows.
func FuzzNumber(f *testing.F) {
	for _, seed := range []string{"0", "-0.000", "1.5", "-12.3456789", "0.12345678901234567", "9007199254740993", "18446744073709551615e-27", "1.234567E-03", "+7e22",
		"-.5", "5.", "0.0000000000000000000000001", "4.9e-324", "1e999", "12345678", "-1234567.12345678", "0.30000000000000004"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, s string) {
		want, err := strconv.ParseFloat(s, 64)
		if v, next, _, ok := plain([]byte(s), 0, '.'); ok && next == len(s) && (err != nil || math.Float64bits(v) != math.Float64bits(want)) {
			t.Fatalf("%q is %v, want %v (%v)", s, v, want, err)
		}
		if err != nil || math.IsNaN(want) || math.IsInf(want, 0) || len(s) > 300 || strings.ContainsAny(s, "xXpP_") {
			return
		}
		row := "1," + s + ",-" + strings.TrimLeft(s, "+-") + "\n"
		text := "time (s),a,b\n" + strings.Repeat(row, 40)
		sameReading(t, []byte(text), Options{IntervalS: 1})
		_, b, err := readAll(strings.NewReader(text), Options{IntervalS: 1})
		if err != nil || len(b.Time) != 40 {
			t.Fatalf("%q: %d rows, %v", s, len(b.Time), err)
		}
		for i := range b.Time {
			if math.Float64bits(b.Values[0][i]) != math.Float64bits(want) || b.Values[1][i] != -math.Abs(want) {
				t.Fatalf("%q in row %d is %v and %v", s, i, b.Values[0][i], b.Values[1][i])
			}
		}
	})
}

// keeps fails where what a reader hands out breaks its promises. It reads so many blocks at
// most: a small file may promise more rows than a test has time for.
func keeps(t *testing.T, data []byte) {
	r, err := NewReader(bytes.NewReader(data), Options{})
	if err != nil {
		return
	}
	n := len(r.Channels())
	if n < 1 || n > maxChannels {
		t.Fatalf("%d channels", n)
	}
	var b Block
	last := math.Inf(-1)
	rows := 0
	for {
		err := r.Read(&b)
		if err != nil {
			r.Notes()
			return
		}
		if len(b.Time) == 0 || len(b.Time) > BlockRows || len(b.Values) != n {
			t.Fatalf("a block of %d rows of %d channels", len(b.Time), len(b.Values))
		}
		if rows += len(b.Time); rows > len(data)+1 {
			t.Fatalf("%d rows of %d bytes", rows, len(data))
		}
		for i, at := range b.Time {
			if !(at >= last) || math.IsInf(at, 0) {
				t.Fatalf("%g s after %g s", at, last)
			}
			last = at
			for c := range b.Values {
				if math.IsInf(b.Values[c][i], 0) {
					t.Fatalf("channel %d is %g", c, b.Values[c][i])
				}
			}
		}
	}
}

// FuzzWave: whatever the bytes of a WAV file, reading ends without a panic and hands out no
// more than there is.
func FuzzWave(f *testing.F) {
	for _, k := range waveKinds {
		f.Add(k.write(waveFrames(k.channels, 9)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		if !isWave(data) {
			data = append([]byte("RIFF\xff\xff\xff\xffWAVE"), data...)
		}
		keeps(t, data)
	})
}

// FuzzVCD is the same of a value change dump.
func FuzzVCD(f *testing.F) {
	f.Add([]byte(standardVCD))
	f.Add([]byte(analyser("1 us", 16, "#0 0! 1\"\n#5 1!\n#7 0!\n#7 0\"\n#9\n")))
	f.Add([]byte("$timescale 1 us $end $var wire 4 ! b $end $var real 1 r v $end $enddefinitions $end #0 b0101 ! r1e5 r #1 bx1 !"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if !isVCD(data) {
			data = append([]byte("$timescale 1 us $end $var wire 1 ! a $end $var wire 1 \" b $end $enddefinitions $end "), data...)
		}
		keeps(t, data)
	})
}

// FuzzChanges is the same of rows of changes: each byte is how long a level lasts.
func FuzzChanges(f *testing.F) {
	f.Add([]byte{100, 10, 10, 10, 10, 30, 10, 10, 10, 10, 30, 10, 10, 255, 0, 1}, false)
	f.Add([]byte("a recording of changes of level"), true)
	f.Fuzz(func(t *testing.T, data []byte, twice bool) {
		text := []byte("Time (s),a,b\n0,0,0\n")
		at := 0
		for i, d := range data {
			at += int(d)
			if twice {
				text = fmt.Appendf(text, "%d.%04d,%d,%d\n", at/10000, at%10000, (i+1)%2, i/3%2)
			}
			text = fmt.Appendf(text, "%d.%04d,%d,%d\n", at/10000, at%10000, i%2, (i+1)/3%2)
		}
		keeps(t, text)
	})
}
