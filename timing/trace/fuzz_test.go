package trace

import (
	"bytes"
	"compress/gzip"
	"context"
	"math"
	"testing"

	"pinphase.org/pinphase/timing/trace/samples"
	"pinphase.org/pinphase/timing/trace/simulate"
)

// FuzzAnalyse: whatever the samples, the analysis ends, without a panic, and what it
// states is finite. The bytes are laid over a sound recording in places, or are the
// samples themselves.
func FuzzAnalyse(f *testing.F) {
	w := wheel36()
	s, k := tryout{cylinders: 3, wheels: w, start: 37, seed: 1, seconds: 1.5, scope: simulate.Scope{Rate: 10000}}.play()
	f.Add([]byte{1, 2, 3, 250, 128, 0, 0, 255}, uint16(500), false)
	f.Add(bytes.Repeat([]byte{0, 255}, 300), uint16(3), true)
	f.Add(bytes.Repeat([]byte{0, 0, 0, 255, 255, 255}, 700), uint16(1), true)
	f.Add([]byte{}, uint16(0), false)
	f.Fuzz(func(t *testing.T, data []byte, every uint16, alone bool) {
		crank, cam := append([]float64(nil), s.Crank...), append([]float64(nil), s.Cam...)
		if alone {
			crank, cam = make([]float64, len(data)), make([]float64, len(data))
		}
		for i, b := range data {
			v := (float64(b) - 128) / 20
			if b == 7 {
				v = math.NaN()
			}
			at := i * (int(every) + 1)
			if alone {
				at = i
			}
			if at >= len(crank) {
				break
			}
			if i%2 == 0 {
				crank[at] = v
			} else {
				cam[at] = v
			}
		}
		if len(crank) == 0 {
			return
		}
		a, err := collect(simulate.Signals{Rate: 10000, Crank: crank, Cam: cam}).Analyse(k)
		if err != nil {
			return
		}
		finite := func(v ...float64) {
			for _, x := range v {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("%g in %+v", x, a)
				}
			}
		}
		finite(a.RPM, a.Revolutions, a.Seconds)
		if c := a.Correlation; c != nil {
			finite(float64(c.Value), float64(c.U))
		}
		if c := a.TDC; c != nil {
			finite(float64(c.Value), float64(c.U), float64(a.Modulo))
		}
		for i := range a.Runs {
			from, to := a.Span(i)
			finite(float64(from), float64(to))
		}
	})
}

// FuzzRecording is both: a file's bytes all the way to what they prove.
func FuzzRecording(f *testing.F) {
	w := wheel36()
	s, k := tryout{cylinders: 3, wheels: w, start: 37, seed: 1, seconds: 0.6, scope: simulate.Scope{Rate: 4000, Bits: 6}}.play()
	var text bytes.Buffer
	if err := s.WriteCSV(&text, 5, "crank", "cam"); err != nil {
		f.Fatal(err)
	}
	f.Add(text.Bytes())
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	z.Write(text.Bytes())
	z.Close()
	f.Add(packed.Bytes())
	var hall bytes.Buffer
	w.CrankHall = true
	s, _ = tryout{cylinders: 3, wheels: w, start: 37, seed: 1, seconds: 0.6, scope: simulate.Scope{Rate: 4000, Bits: 6}}.play()
	z = gzip.NewWriter(&hall)
	if err := s.WriteCSV(z, 5, "crank", "cam"); err != nil {
		f.Fatal(err)
	}
	z.Close()
	files, err := simulate.Formats(hall.Bytes())
	if err != nil {
		f.Fatal(err)
	}
	for _, file := range files {
		f.Add(file)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := samples.NewReader(bytes.NewReader(data), samples.Options{})
		if err != nil {
			return
		}
		var p Picture
		c, err := Collect(context.Background(), r, nil, p.Add)
		p.Finish()
		if err != nil {
			return
		}
		if a, err := c.Analyse(k); err == nil && a.Revolutions < 0 {
			t.Fatalf("%g turns", a.Revolutions)
		}
		from, to := p.Seconds()
		for ch := range p.Channels() {
			p.Columns(ch, from, to, 100)
		}
	})
}
