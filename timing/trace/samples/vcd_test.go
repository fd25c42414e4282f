package samples

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"testing/iotest"
)

// standardVCD is the example of IEEE Std 1364-2005, 18.2.3, from memory.
const standardVCD = `$date June 26, 1989 10:05:41
$end
$version VERILOG-SIMULATOR 1.0a
$end
$timescale 1 ns
$end
$scope module top $end
$scope module m1 $end
$var trireg 1 *@ net1 $end
$var trireg 1 *# net2 $end
$var trireg 1 *$ net3 $end
$upscope $end
$scope task t1 $end
$var reg 32 (k accumulator[31:0] $end
$var integer 32 {2 index $end
$upscope $end
$upscope $end
$enddefinitions $end
$comment
Note: $dumpvars was executed at time '#500'.
All initial values are dumped at this time.
$end
#500
$dumpvars
x*@
x*#
x*$
bx (k
bx {2
$end
#505
0*@
1*#
1*$
b10zx1110x11100 (k
b1111000101z01x {2
#510
0*$
#520
1*$
#530
0*$
bz (k
#535
$dumpall 0*@ 1*# 0*$
bz (k
b1111000101z01x {2
$end
#540
1*$
#1000
$dumpoff
x*@
x*#
x*$
bx (k
bx {2
$end
#2000
$dumpon
z*@
1*#
0*$
b0 (k
bx {2
$end
#2010
1*$
`

func TestVCDOfTheStandard(t *testing.T) {
	r, b, err := readBlocks(iotest.OneByteReader(strings.NewReader(standardVCD)))
	if err != nil {
		t.Fatal(err)
	}
	if got := fmt.Sprint(r.Names()); got != "[net1 net2 net3 accumulator index]" || !b.Steps {
		t.Errorf("channels %s, steps %v", got, b.Steps)
	}
	x := "NaN"
	want := []string{"505 0 1 1", "510 0 1 0", "520 0 1 1", "530 0 1 0", "540 0 1 1", "1000 NaN NaN NaN", "2000 NaN 1 0", "2010 NaN 1 1"}
	var got []string
	for i, at := range b.Time {
		show := func(c int) string {
			if v := b.Values[c][i]; v == v {
				return fmt.Sprint(v)
			}
			return x
		}
		got = append(got, fmt.Sprintf("%.0f %s %s %s", at*1e9, show(0), show(1), show(2)))
	}
	if fmt.Sprint(got) != fmt.Sprint(want) {
		t.Errorf("rows %q, want %q", got, want)
	}
	if v := b.Values[3][6]; v != 0 {
		t.Errorf("the accumulator is %g", v)
	}
}

// analyser is a dump as logic analysers write it: so many wires, all known at the start.
func analyser(scale string, wires int, changes string) string {
	var s strings.Builder
	fmt.Fprintf(&s, "$date today $end\n$version 1 $end\n$timescale %s $end\n$scope module top $end\n", scale)
	for i := range wires {
		fmt.Fprintf(&s, "$var wire 1 %c D%d $end\n", '!'+i, i)
	}
	s.WriteString("$upscope $end\n$enddefinitions $end\n")
	return s.String() + changes
}

func TestVCD(t *testing.T) {
	for _, c := range []struct {
		name, text string
		names      string
		rows       string // times in microseconds and values
	}{
		{"wires", analyser("1 us", 2, "#0 0! 1\"\n#5 1!\n#7 0!\n#7 0\"\n#9\n"), "[D0 D1]", "0:0,1 5:1,1 7:0,0 9:0,0 "},
		{"no blank in the scale", analyser("100ns", 2, "#0\n$dumpvars\n0!\n1\"\n$end\n#50\n1!\n#100\n"), "[D0 D1]", "0:0,1 5:1,1 10:1,1 "},
		{"a change that changes nothing", analyser("1us", 1, "#1 0!\n#2 0!\n#3 1!\n"), "[D0]", "1:0 3:1 "},
		{"sixteen wires of which two move", analyser("1 us", 16, "#0\n"+strings.Join([]string{"0!", "0\"", "1#", "1$", "0%", "0&", "0'", "0(", "0)", "0*", "0+", "0,", "0-", "0.", "0/", "00"}, "\n")+
			"\n#3 1\"\n#4 0#\n#9\n"), "[D1 D2]", "0:0,1 3:1,1 4:1,0 9:1,0 "},
		{"a vector is its bits", "$timescale 1 us $end $var wire 4 ! bus [3:0] $end $enddefinitions $end #0 b0101 ! #1 b1 ! #2 bx1 ! #3 b11 !", "[bus[0] bus[1] bus[2] bus[3]]",
			"0:1,0,1,0 1:1,0,0,0 2:1,NaN,NaN,NaN 3:1,1,0,0 "},
		{"a long vector and a real are numbers", "$timescale 1 us $end $var reg 12 ! adc [11:0] $end $var real 64 r volts $end $enddefinitions $end #0 b100000000001 ! r1.5e-1 r #2 r-3 r", "[adc volts]",
			"0:2049,0.15 2:2049,-3 "},
		{"carriage returns and a comment", strings.ReplaceAll(analyser("1 us", 1, "#0 0!\n$comment 1! #99 $end\n#4 1!\n"), "\n", "\r\n"), "[D0]", "0:0 4:1 "},
		{"the same wire under two names", "$timescale 1 us $end $var wire 1 ! a $end $var wire 1 ! b $end $enddefinitions $end #0 0! #1 1!", "[a]", "0:0 1:1 "},
	} {
		for _, text := range []string{c.text, packed(c.text)} {
			r, b, err := readBlocks(strings.NewReader(text))
			if err != nil {
				t.Errorf("%s: %v", c.name, err)
				continue
			}
			rows := ""
			for i, at := range b.Time {
				rows += fmt.Sprintf("%.6g:", at*1e6)
				for v := range b.Values {
					rows += fmt.Sprintf("%g,", b.Values[v][i])
				}
				rows = strings.TrimSuffix(rows, ",") + " "
			}
			if got := fmt.Sprint(r.Names()); got != c.names || rows != c.rows {
				t.Errorf("%s: channels %s, rows %q", c.name, got, rows)
			}
		}
	}
}

func TestVCDRefuses(t *testing.T) {
	many := "#0\n"
	for i := range 10 {
		many += fmt.Sprintf("#%d 0%c\n#%d 1%c\n", 2*i, '!'+i, 2*i+1, '!'+i)
	}
	for _, c := range []struct {
		name, text string
		is         error
		says       string
	}{
		{"no timescale", strings.Replace(analyser("1 us", 1, "#0 0!\n#1 1!\n"), "$timescale 1 us $end", "", 1), ErrVCDScale, "$timescale"},
		{"a strange timescale", analyser("1 week", 1, "#0 0!\n"), ErrVCDScale, ""},
		{"no variables", analyser("1 us", 0, "#0\n"), ErrVCDVariables, ""},
		{"ten wires that move", analyser("1 us", 10, many), ErrColumns, "has 10"},
		{"backwards", analyser("1 us", 1, "#5 0!\n#4 1!\n"), ErrBackward, "line 9"},
		{"ends early", "$date x $end\n$timescale 1 us $end\n$var wire", nil, "line 3"},
		{"nonsense among the changes", analyser("1 us", 1, "#0 0!\n#1 hello\n"), nil, `"hello"`},
		{"a word without end", analyser("1 us", 1, "#0 0!\n"+strings.Repeat("1", 1<<20)), ErrBinary, "longer"},
	} {
		_, _, err := readBlocks(strings.NewReader(c.text))
		if err == nil || c.is != nil && !errors.Is(err, c.is) || !strings.Contains(fmt.Sprint(err), c.says) || strings.Contains(fmt.Sprint(err), "\n") {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}
