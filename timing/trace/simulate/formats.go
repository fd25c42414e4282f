package simulate

import (
	"bytes"
	"compress/gzip"
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"time"
)

// Formats returns a recording of two Hall sensors, gzip-packed rows of time, crank and cam,
// in every other way a recording is written in, by the file's name: samples otherwise
// written, changes of level, a sound card's behind its capacitor, and each also packed.
func Formats(packed []byte) (map[string][]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		return nil, err
	}
	text, err := io.ReadAll(z)
	if err != nil {
		return nil, err
	}
	rows, err := csv.NewReader(bytes.NewReader(text)).ReadAll()
	if err != nil {
		return nil, err
	}
	var at []float64
	var v [2][]float64
	for _, row := range rows[1:] {
		for c, cell := range row {
			x, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				return nil, err
			}
			if c == 0 {
				at = append(at, x)
			} else {
				v[c-1] = append(v[c-1], x)
			}
		}
	}
	files := map[string][]byte{
		"returns.csv": bytes.ReplaceAll(text, []byte("\n"), []byte("\r")),
		"strokes.txt": bytes.ReplaceAll(text, []byte(","), []byte("|")),
		"clock.csv":   clock(at, v),
		"sound.wav":   sound(at, v),
	}
	files["changes.csv"], files["analyser.vcd"] = changes(at, v)
	for _, name := range slices.Collect(maps.Keys(files)) {
		var b bytes.Buffer
		z := gzip.NewWriter(&b)
		if _, err := z.Write(files[name]); err != nil {
			return nil, err
		}
		if err := z.Close(); err != nil {
			return nil, err
		}
		files[name+".gz"] = b.Bytes()
	}
	return files, nil
}

// clock writes the time as that of a day.
func clock(at []float64, v [2][]float64) []byte {
	begin := time.Date(2024, 5, 6, 7, 8, 9, 0, time.UTC)
	text := []byte("Timestamp;crank;cam\n")
	for i, t := range at {
		moment := begin.Add(time.Duration(math.Round(t * 1e9)))
		text = fmt.Appendf(text, "%s;%g;%g\n", moment.Format("2006-01-02T15:04:05.000000Z07:00"), v[0][i], v[1][i])
	}
	return text
}

// changes writes a row, and an entry of a dump, at each change of level.
func changes(at []float64, v [2][]float64) (rows, dump []byte) {
	rows = []byte("Time [s],crank,cam\n")
	dump = []byte("$date today $end\n$timescale 1 us $end\n$scope module top $end\n$var wire 1 ! crank $end\n$var wire 1 \" cam $end\n$upscope $end\n$enddefinitions $end\n")
	level := func(x float64) int {
		if x > 2.5 {
			return 1
		}
		return 0
	}
	before := [2]int{-1, -1}
	for i, t := range at {
		now := [2]int{level(v[0][i]), level(v[1][i])}
		if now == before {
			continue
		}
		rows = fmt.Appendf(rows, "%.9f,%d,%d\n", t, now[0], now[1])
		dump = fmt.Appendf(dump, "#%.0f\n", t*1e6)
		for c, sign := range "!\"" {
			if now[c] != before[c] {
				dump = fmt.Appendf(dump, "%d%c\n", now[c], sign)
			}
		}
		before = now
	}
	return rows, fmt.Appendf(dump, "#%.0f\n", at[len(at)-1]*1e6)
}

// sound writes what a sound card of 16 bits makes of it, whose capacitor takes away what is
// steady with a time constant of 5 ms.
func sound(at []float64, v [2][]float64) []byte {
	le := binary.LittleEndian
	rate := math.Round(float64(len(at)-1) / (at[len(at)-1] - at[0]))
	left := math.Exp(-1 / (rate * 5e-3))
	var data []byte
	var held [2]float64
	for i := range at {
		for c := range v {
			held[c] = held[c]*left + v[c][i] - v[c][max(i-1, 0)]
			data = le.AppendUint16(data, uint16(int16(math.Round(held[c]*4000))))
		}
	}
	b := le.AppendUint32([]byte("RIFF"), uint32(36+len(data)))
	b = le.AppendUint32(append(b, "WAVEfmt "...), 16)
	b = le.AppendUint16(le.AppendUint16(b, 1), 2)
	b = le.AppendUint32(le.AppendUint32(b, uint32(rate)), uint32(rate)*4)
	b = le.AppendUint16(le.AppendUint16(b, 4), 16)
	return append(le.AppendUint32(append(b, "data"...), uint32(len(data))), data...)
}
