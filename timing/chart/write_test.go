package chart

import (
	"bytes"
	"io"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/internal/sample"
)

// write writes a drawing light and as fine as usual.
func write(w io.Writer, ending string, d figure.Drawing) error {
	return WriteAs(w, ending, d, figure.Light(), UsualDPI)
}

// What each format begins with: an XML element, and the signatures of the PDF
// and PNG standards (ISO 32000-1, 7.5.2; ISO/IEC 15948, 5.2).
var beginnings = map[string]string{".svg": "<", ".pdf": "%PDF-1.", ".png": "\x89PNG\r\n\x1a\n"}

func TestEveryFigureInEveryFormat(t *testing.T) {
	t.Parallel()
	at := timing.Deg(430)
	for _, name := range Names {
		d, err := Drawing(name, sample.Demo(t), Options{Cursor: &at, From: timing.Flywheel, ByNumber: true})
		if err != nil {
			t.Fatal(err)
		}
		for _, ending := range append(Formats, ".PNG") {
			var b bytes.Buffer
			if err := write(&b, ending, d); err != nil {
				t.Errorf("%s as %s: %v", name, ending, err)
			}
			if want := beginnings[strings.ToLower(ending)]; !strings.HasPrefix(b.String(), want) || b.Len() < 1000 {
				t.Errorf("%s as %s: %d bytes, beginning %q", name, ending, b.Len(), b.String()[:min(8, b.Len())])
			}
		}
		if err := write(&bytes.Buffer{}, ".gif", d); err == nil {
			t.Error("a figure was written as .gif")
		}
	}
	if _, err := Drawing("plan", sample.Demo(t), Options{}); err == nil || !strings.Contains(err.Error(), "cycle and wheel") {
		t.Errorf("a figure there is not: %v", err)
	}
}

// The same job gives the same file, and the choices change it.
func TestDrawingsRepeat(t *testing.T) {
	t.Parallel()
	at, later := timing.Deg(0), timing.Deg(10)
	svg := func(name string, o Options) string {
		d, err := Drawing(name, sample.Demo(t), o)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := write(&b, ".svg", d); err != nil {
			t.Fatal(err)
		}
		return b.String()
	}
	for _, name := range Names {
		first, again := svg(name, Options{Cursor: &at}), svg(name, Options{Cursor: &at})
		if first != again {
			t.Errorf("%s differs from run to run", name)
		}
		turns := name == "cycle" || name == "wheel"
		if turns && first == svg(name, Options{Cursor: &later}) {
			t.Errorf("%s is the same at 0 and at 10", name)
		}
	}
	if svg("cycle", Options{}) == svg("cycle", Options{Cursor: &at}) || svg("cycle", Options{}) == svg("cycle", Options{ByNumber: true}) {
		t.Error("the cycle shows no cursor, or one order of rows only")
	}
	if svg("wheel", Options{}) != svg("wheel", Options{Cursor: &at}) || svg("wheel", Options{}) == svg("wheel", Options{From: timing.Flywheel}) {
		t.Error("the wheel stands at 0 unless told, and looks different from the other end")
	}
}
