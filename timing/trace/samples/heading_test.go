package samples

import (
	"fmt"
	"strings"
	"testing"
)

// headed writes three channels of eight rows, 20 microseconds apart, under a heading.
type headed struct {
	name      string
	delimiter string
	comma     bool   // decimal comma
	before    string // lines above the heading
	heading   func(names, units []string) []string
	names     []string
	quoted    bool
	bom       bool
	end       string
	millis    bool // the time is in milliseconds
}

func (h headed) text() string {
	var s strings.Builder
	if h.bom {
		s.WriteString("\xef\xbb\xbf")
	}
	s.WriteString(strings.ReplaceAll(h.before, "\n", h.end))
	units := []string{"s", "V", "V", "A"}
	if h.millis {
		units[0] = "ms"
	}
	for _, line := range h.heading(h.names, units) {
		s.WriteString(strings.ReplaceAll(line, "\x00", h.delimiter) + h.end)
	}
	step := 0.00002
	if h.millis {
		step = 0.02
	}
	for i, row := range headedValues {
		cells := []string{fmt.Sprintf("%.5f", float64(i)*step)}
		for _, v := range row {
			cells = append(cells, fmt.Sprintf("%.2f", v))
		}
		for c := range cells {
			if h.comma {
				cells[c] = strings.Replace(cells[c], ".", ",", 1)
			}
			if h.quoted {
				cells[c] = `"` + cells[c] + `"`
			}
		}
		s.WriteString(strings.Join(cells, h.delimiter) + h.end)
	}
	return s.String()
}

var headedValues = [][3]float64{{1.5, -2, 30}, {1.25, 5, 31}, {0, 5, 29}, {-1.5, 5.25, 30}, {1, -2, 31}, {2.25, -2, 33}, {0.5, -2.5, 30}, {-1, 5, 30}}

// joined makes a line of a heading; \x00 is the delimiter.
func joined(cells ...string) string { return strings.Join(cells, "\x00") }

func quoted(cells []string) (list []string) {
	for _, c := range cells {
		list = append(list, `"`+c+`"`)
	}
	return list
}

func withUnits(format string) func(names, units []string) []string {
	return func(names, units []string) []string {
		var cells []string
		for i := range names {
			cells = append(cells, fmt.Sprintf(format, names[i], units[i]))
		}
		return []string{joined(cells...)}
	}
}

// headedStyles are ways in which scopes and loggers write a heading, by every delimiter and
// in several languages: common practice, no source.
func headedStyles() (list []headed) {
	headings := map[string]func(names, units []string) []string{
		"round brackets":  withUnits("%s (%s)"),
		"square brackets": withUnits("%s [%s]"),
		"no blank":        withUnits("%s(%s)"),
		"stroke":          withUnits("%s/%s"),
		"quoted":          withUnits(`"%s (%s)"`),
		"units row":       func(n, u []string) []string { return []string{joined(n...), joined(u...)} },
		"units in a row ()": func(n, u []string) []string {
			return []string{joined(n...), joined("("+u[0]+")", "("+u[1]+")", "("+u[2]+")", "("+u[3]+")")}
		},
		"units in a row []": func(n, u []string) []string {
			return []string{joined(n...), joined("["+u[0]+"]", "["+u[1]+"]", "["+u[2]+"]", "["+u[3]+"]")}
		},
		"units row, blank line": func(n, u []string) []string { return []string{joined(n...), joined(u...), ""} },
		"quoted units row":      func(n, u []string) []string { return []string{joined(quoted(n)...), joined(quoted(u)...)} },
		"comment":               func(n, u []string) []string { return []string{"# " + joined(n...), "# " + joined(u...)} },
		"percent comment":       func(n, u []string) []string { return []string{"% " + joined(n...), "% " + joined(u...)} },
		"rule below": func(n, u []string) []string {
			return []string{joined(n...), joined(u...), joined("---", "---", "---", "---")}
		},
		"empty row below":        func(n, u []string) []string { return []string{joined(n...), joined(u...), joined("", "", "", "")} },
		"time's unit alone":      func(n, u []string) []string { return []string{joined(n[0]+" ("+u[0]+")", n[1], n[2], n[3])} },
		"unit behind a low line": func(n, u []string) []string { return []string{joined(n[0]+"_"+u[0], n[1], n[2], n[3])} },
	}
	languages := [][]string{{"Time", "Channel A", "Channel B", "Channel C"}, {"time", "crank", "cam", "starter"}, {"Zeit", "Kanal A", "Kanal B", "Kanal V"},
		{"Tiempo", "Canal A", "Canal B", "Canal C"}, {"Temps", "Voie A", "Voie B", "Voie C"}, {"t", "CH_A", "CH_B", "CH_V2"}}
	writings := []headed{{delimiter: ",", end: "\n"}, {delimiter: ";", end: "\r\n", comma: true}, {delimiter: "\t", end: "\n", bom: true}, {delimiter: ";", end: "\n", quoted: true},
		{delimiter: "|", end: "\n"}, {delimiter: ",", end: "\r", millis: true}, {delimiter: ", ", end: "\n", before: "Logger 12\nSerial,A,4711\nChannels: 3\n\n"},
		{delimiter: ";", end: "\n", comma: true, before: "# recorded by hand\n# 2024-05-06 12:34\nMessung;7;V;A\n"}}
	for what, heading := range headings {
		for i, names := range languages {
			for k, w := range writings {
				w.name = fmt.Sprintf("%s, %s, writing %d", what, languages[i][1], k)
				w.heading, w.names = heading, names
				list = append(list, w)
			}
		}
	}
	return list
}

// The same rows under hundreds of headings are the same recording: names without units,
// units only where they stand as units.
func TestHeadings(t *testing.T) {
	styles := headedStyles()
	if len(styles) < 200 {
		t.Fatalf("only %d styles", len(styles))
	}
	failed := 0
	for _, h := range styles {
		text := h.text()
		r, b, err := readAll(strings.NewReader(text), Options{})
		var wrong string
		switch {
		case err != nil:
			wrong = err.Error()
		case len(b.Time) != len(headedValues) || len(b.Values) != 3:
			wrong = fmt.Sprintf("%d rows of %d channels", len(b.Time), len(b.Values))
		case b.Time[7]-b.Time[0] < 139.999e-6 || b.Time[7]-b.Time[0] > 140.001e-6:
			wrong = fmt.Sprintf("times %v", b.Time)
		case !r.format.UnitGiven || b.Steps:
			wrong = fmt.Sprintf("unit given: %v, steps: %v", r.format.UnitGiven, b.Steps)
		default:
			for c, ch := range r.channels() {
				if ch.Name != h.names[c+1] {
					wrong = fmt.Sprintf("channel %d is called %q with the unit %q", c, ch.Name, ch.Unit)
				}
				stated := !strings.Contains(h.name, "alone") && !strings.Contains(h.name, "low line")
				if want := []string{"V", "V", "A"}[c]; stated && ch.Unit != want || !stated && ch.Unit != "" {
					wrong = fmt.Sprintf("channel %d is in %q", c, ch.Unit)
				}
				for i := range headedValues {
					if b.Values[c][i] != headedValues[i][c] {
						wrong = fmt.Sprintf("channel %d, row %d: %g", c, i, b.Values[c][i])
					}
				}
			}
		}
		if wrong != "" {
			if failed++; failed < 12 {
				t.Errorf("%s: %s\n%q", h.name, wrong, text[:min(len(text), 200)])
			}
		}
	}
	if failed > 0 {
		t.Errorf("%d of %d styles", failed, len(styles))
	}
}

// A unit is one only where it stands as one.
func TestCutUnit(t *testing.T) {
	for _, c := range []struct{ in, name, unit string }{
		{"Channel A", "Channel A", ""}, {"CH_A", "CH_A", ""}, {"Sensor V", "Sensor V", ""}, {"Channel A (V)", "Channel A", "V"}, {"Channel A [mV]", "Channel A", "mV"},
		{"crank_V", "crank", "V"}, {"current/A", "current", "A"}, {"time_us", "time", "us"}, {"Time in ms", "Time", "ms"}, {"t/s", "t", "s"}, {"Pressure (cyl 1)", "Pressure (cyl 1)", ""},
		{"crank (1)", "crank (1)", ""}, {"A", "A", ""}, {"", "", ""}, {"I_A", "I_A", ""}, {"bar", "bar", ""}, {"Zeit s", "Zeit", "s"}, {"Signal s", "Signal s", ""},
	} {
		if name, unit := cutUnit(c.in); name != c.name || unit != c.unit {
			t.Errorf("%q is %q in %q, want %q in %q", c.in, name, unit, c.name, c.unit)
		}
	}
}
