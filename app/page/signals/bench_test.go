package signals

import (
	"bytes"
	"io"
	"os"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/software"

	"pinphase.org/pinphase/app/desk/desktest"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/finding"
)

// repeated is a file that holds the same rows over and over.
type repeated struct {
	rows []byte
	at   int
	left int // bytes
}

func (r *repeated) Read(p []byte) (int, error) {
	if r.left == 0 {
		return 0, io.EOF
	}
	n := copy(p[:min(len(p), r.left)], r.rows[r.at:])
	r.at = (r.at + n) % len(r.rows)
	r.left -= n
	return n, nil
}

// BenchmarkSignals zooms and moves along a recording of ten million samples, on the
// screen of the other benchmarks, one step a frame: from what is asked for to the
// painted figure.
func BenchmarkSignals(b *testing.B) {
	const samples, rate = 10_000_000, 50_000
	u := desktest.New(b, Kind)
	u.InTurn = true
	s, err := finding.SignalsOf(u.Session.Job(), finding.SignalOptions{})
	if err != nil {
		b.Fatal(err)
	}
	// A cycle at 180 rpm and 50 kHz is 33333 1/3 samples: three of them repeat.
	var three bytes.Buffer
	if err := s.WriteCSV(&three, finding.Sampling{Cycles: 3, RateHz: rate}); err != nil {
		b.Fatal(err)
	}
	var rows bytes.Buffer
	lines := bytes.Split(bytes.TrimSpace(three.Bytes()), []byte("\n"))[1:]
	for _, line := range lines {
		cells := bytes.Split(line, []byte(","))
		rows.Write(append(append(append(cells[2], ','), cells[3]...), '\n'))
	}
	path := b.TempDir() + "/long.csv"
	f, err := os.Create(path)
	if err != nil {
		b.Fatal(err)
	}
	if _, err := io.Copy(f, &repeated{rows: rows.Bytes(), left: samples / len(lines) * rows.Len()}); err != nil {
		b.Fatal(err)
	}
	f.Close()
	c := software.NewCanvas()
	c.SetPadded(false)
	c.SetContent(u.Root)
	c.Resize(fyne.NewSize(desktest.Width, desktest.Height))
	u.Page.(*page).recorder.open(path, finding.TraceOptions{IntervalS: 1.0 / rate})
	rec := u.Page.(*page).recorder.shown()
	if rec == nil || rec.err != nil || !rec.drawn.Follows() {
		b.Fatalf("not read: %q", u.Said())
	}
	p := u.Page.(*page)
	var figure *canvas.Raster
	for _, r := range desktest.Rasters(p.view) {
		figure = r
	}
	paint := func() { figure.Generator(int(figure.Size().Width), int(figure.Size().Height)) }
	if figure.Size().Width < 0.9*desktest.Width {
		b.Fatalf("the figure is %v", figure.Size())
	}
	for _, way := range []struct {
		name string
		way  chart.Way
	}{{"cycle", chart.OneCycle}, {"through", chart.Through}, {"time", chart.OverTime}} {
		p.ways.Chose(int(way.way))
		p.view.Fit()
		frame := 0
		b.Run(way.name+"/zoom", func(b *testing.B) {
			desktest.Percentiles(b, func() {
				if frame++; frame%80 < 40 {
					p.view.Zoom(1 / 1.25)
				} else {
					p.view.Zoom(1.25)
				}
				paint()
			})
		})
		lo, hi := p.spread.Lo, p.spread.Lo+p.spread.First
		p.view.ShowRange(lo, lo+(hi-lo)/2)
		b.Run(way.name+"/move", func(b *testing.B) {
			desktest.Percentiles(b, func() {
				if frame++; frame%100 < 50 {
					p.view.Pan(0.02)
				} else {
					p.view.Pan(-0.02)
				}
				paint()
			})
		})
	}
}
