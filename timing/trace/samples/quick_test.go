package samples

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"
	"testing/iotest"

	"pgregory.net/rapid"
)

// readCarefully reads a recording without the quick way, which needs more than a line at
// a time.
func readCarefully(in io.Reader, o Options) (*table, Block, error) {
	rd, err := NewReader(in, o)
	if err != nil {
		return nil, Block{}, err
	}
	r, ok := rd.source.(*table)
	if !ok {
		return nil, Block{}, errNoTable
	}
	seen := bytes.NewReader(bytes.Clone(r.buf[r.at:r.to]))
	r.in, r.at, r.to, r.eof = iotest.OneByteReader(io.MultiReader(seen, r.in)), 0, 0, false
	return drain(r)
}

// sameReading fails where the quick way and the careful one do not come to the same, to the
// last bit.
func sameReading(t interface {
	Helper()
	Fatalf(string, ...any)
}, text []byte, o Options) {
	t.Helper()
	r, quick, err := readAll(bytes.NewReader(text), o)
	c, careful, err2 := readCarefully(bytes.NewReader(text), o)
	if fmt.Sprint(err) != fmt.Sprint(err2) {
		t.Fatalf("errors %v, carefully %v", err, err2)
	}
	if r == nil {
		return
	}
	if r.bad != c.bad || r.firstAt != c.firstAt || r.line != c.line || r.row != c.row {
		t.Fatalf("%d rows of %d lines, %d bad, the first %d; carefully %d, %d, %d, %d", r.row, r.line, r.bad, r.firstAt, c.row, c.line, c.bad, c.firstAt)
	}
	for k, pair := range append([][2][]float64{{quick.Time, careful.Time}}, pairs(quick.Values, careful.Values)...) {
		if len(pair[0]) != len(pair[1]) {
			t.Fatalf("column %d: %d values, carefully %d", k, len(pair[0]), len(pair[1]))
		}
		for i := range pair[0] {
			if math.Float64bits(pair[0][i]) != math.Float64bits(pair[1][i]) {
				t.Fatalf("column %d, row %d: %v, carefully %v", k, i, pair[0][i], pair[1][i])
			}
		}
	}
}

func pairs(a, b [][]float64) (list [][2][]float64) {
	for c := range a {
		list = append(list, [2][]float64{a[c], b[c]})
	}
	return list
}

// drawNumber is a number as some device writes it, and what strconv reads of it.
func drawNumber(t *rapid.T, label string) (text string, v float64) {
	x := rapid.Float64Range(-1e6, 1e6).Draw(t, label)
	if rapid.Bool().Draw(t, "small") {
		x = rapid.Float64Range(-12, 12).Draw(t, label)
	}
	text = strconv.FormatFloat(x, "fffffeEg"[rapid.IntRange(0, 7).Draw(t, "format")], rapid.IntRange(-1, 18).Draw(t, "digits"), 64)
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return text, v
}

// The numbers read are those the standard library reads, to the last bit.
func TestNumbersAreExact(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, want := drawNumber(t, "v")
		if rapid.Bool().Draw(t, "huge") {
			v := rapid.Float64Range(-1e300, 1e300).Draw(t, "w")
			s = strconv.FormatFloat(v, "efg"[rapid.IntRange(0, 2).Draw(t, "format")], rapid.IntRange(-1, 12).Draw(t, "digits"), 64)
			want, _ = strconv.ParseFloat(s, 64)
		}
		got, _, ok := cell([]byte(s), '.')
		if !ok && len(s) <= 400 || ok && math.Float64bits(got) != math.Float64bits(want) {
			t.Fatalf("%q is %g (%v), want %g", s, got, ok, want)
		}
		if quick, next, _, ok := plain([]byte(s), 0, '.'); ok && (next != len(s) || math.Float64bits(quick) != math.Float64bits(want)) {
			t.Fatalf("%q quickly is %g", s, quick)
		}
	})
}

// Any 64 bits times a power of ten is rounded as strconv rounds it, and half-way cases too.
func TestDecimalIsNearest(t *testing.T) {
	check := func(fatalf func(string, ...any), m uint64, exp int) {
		want, _ := strconv.ParseFloat(fmt.Sprintf("%de%d", m, exp), 64)
		if got, ok := decimal(m, exp); !ok || got != want {
			fatalf("%d e %d is %v (%v), want %v", m, exp, got, ok, want)
		}
	}
	for _, m := range []uint64{0, 1, 5, 1<<53 - 1, 1 << 53, 1<<53 + 1, 1<<53 + 3, 1<<54 + 2, 1<<54 + 6, 1<<63 + 1<<10, 1<<63 + 3<<10, 1<<63 + 1<<10 + 1, math.MaxUint64} {
		for exp := -27; exp <= 27; exp++ {
			check(t.Fatalf, m, exp)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		check(t.Fatalf, rapid.Uint64().Draw(t, "m")>>rapid.IntRange(0, 63).Draw(t, "shift"), rapid.IntRange(-27, 27).Draw(t, "exp"))
	})
	for _, exp := range []int{-28, 28, math.MinInt32} {
		if v, ok := decimal(1<<60, exp); ok {
			t.Errorf("2^60 e %d is %g", exp, v)
		}
	}
}

// Rows of every kind make the same numbers both ways, and those of strconv; what the quick
// way does not take it leaves to the careful one.
func TestQuickRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		end := rapid.SampledFrom([]string{"\n", "\r\n", ",\n", ",,\r\n", " \n"}).Draw(t, "end")
		dress := rapid.SampledFrom([]string{"%s", "%s", "%s", "\"%s\"", " %s", "%12s", "%s  "}).Draw(t, "dress")
		odd := rapid.Bool().Draw(t, "odd rows")
		rows := rapid.IntRange(3, 60).Draw(t, "rows")
		var text strings.Builder
		var want [2][]float64
		for i := range rows {
			if odd && rapid.IntRange(0, 9).Draw(t, "odd") == 0 {
				text.WriteString(rapid.SampledFrom([]string{"# a remark\n", "1,2\n", "\n", "0,-,-.\n", "0,1,2,3\n", "x,1,2\n", "0,1-,2\n", "0,1e,2\n"}).Draw(t, "row"))
			}
			fmt.Fprintf(&text, "%.5f", 1+float64(i)*1e-5)
			for c := range want {
				s, v := drawNumber(t, "v")
				want[c] = append(want[c], v)
				fmt.Fprintf(&text, ","+dress, s)
			}
			text.WriteString(end)
		}
		text.WriteString(strings.Repeat("# the end\n", 10))
		sameReading(t, []byte(text.String()), Options{})
		_, b, err := readAll(strings.NewReader(text.String()), Options{})
		if odd {
			return // which rows those are is for the careful way to say
		}
		if err != nil {
			t.Fatal(err)
		}
		for c := range want {
			for i, x := range want[c] {
				if len(b.Values[c]) <= i || math.Float64bits(b.Values[c][i]) != math.Float64bits(x) {
					t.Fatalf("row %d, channel %d: %v, want %v", i, c, b.Values[c], x)
				}
			}
		}
	})
}

// A time in quotation marks is as fine as its digits: one that is truly uneven stays so.
func TestQuotedTimeStaysUneven(t *testing.T) {
	at := func(i int) float64 { return float64(i)*1e-5 + 3e-3*math.Sin(float64(i)/500) }
	var text strings.Builder
	text.WriteString("\"time (s)\",\"a\"\n")
	for i := range 20000 {
		fmt.Fprintf(&text, "\"%.7f\",\"%d\"\n", at(i), i%5)
	}
	_, b, err := readAll(strings.NewReader(text.String()), Options{})
	if err != nil {
		t.Fatal(err)
	}
	for i, got := range b.Time {
		if math.Abs(got-at(i)) > 1e-7 {
			t.Fatalf("row %d was moved to %g s", i, got)
		}
	}
}

// A long heading with rows of numbers in it does not hide how the values are written.
func TestLongHeading(t *testing.T) {
	var text strings.Builder
	for i := range 900 {
		fmt.Fprintf(&text, "setting %d; value %d\n", i, i*i)
	}
	text.WriteString("Zeit;A\ns;V\n")
	for i := range 300 {
		fmt.Fprintf(&text, "0,%05d;%d,5\n", i, i%4)
	}
	r, b, err := readAll(strings.NewReader(text.String()), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if f := r.format; f.Delimiter != ';' || !f.DecimalComma || f.FirstLine != 903 || len(b.Time) != 300 || b.Values[0][3] != 3.5 {
		t.Errorf("%+v, %d rows", f, len(b.Time))
	}
}
