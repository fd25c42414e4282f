package main

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"pinphase.org/pinphase/timing/console"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/phrase"
)

// page is what a command prints, in the reader's language. It is handed on whole
// once all of it has gone well.
type page struct {
	out bytes.Buffer
	*language.Voice
	quiet bool // without notes, steps and cautions
}

// with is a text with its data.
func (p *page) with(text phrase.Text, data map[string]any) string {
	return p.Say(phrase.Sentence{Text: text, Data: data})
}

// line prints one line, whatever is in it.
func (p *page) line(text string) { p.out.WriteString(console.Line(text) + "\n") }

func (p *page) blank() { p.out.WriteString("\n") }

// column is the heading of a column of a table. Numbers stand at the right.
type column struct {
	name   phrase.Text
	number bool
}

// table prints rows under their headings, in columns two spaces apart.
func (p *page) table(columns []column, rows [][]string) {
	heading := make([]string, len(columns))
	for i, c := range columns {
		heading[i] = p.Text(c.name)
	}
	rows = append([][]string{heading}, rows...)
	widths := make([]int, len(columns))
	for _, r := range rows {
		for i, cell := range r {
			r[i] = console.Line(cell)
			widths[i] = max(widths[i], utf8.RuneCountInString(r[i]))
		}
	}
	for _, r := range rows {
		var line strings.Builder
		for i, cell := range r {
			room := strings.Repeat(" ", widths[i]-utf8.RuneCountInString(cell))
			if columns[i].number {
				cell = room + cell
			} else {
				cell += room
			}
			line.WriteString(cell + "  ")
		}
		p.out.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
}

// unknown stands where something cannot be said for want of a key in the job.
const unknown = "–"

// Lines under a table that say what is missing for what it cannot tell.
const (
	needsLinkage = "Piston heights need engine.bore_mm, engine.stroke_mm and engine.rod_mm."
	needsValves  = "Valves need their opening and closing in [engine.valves]."
)

// needs prints the lines that apply.
func (p *page) needs(texts ...phrase.Text) {
	before := "\n"
	for _, n := range texts {
		if n != "" {
			fmt.Fprintf(&p.out, "%s%s %s\n", before, unknown, p.Text(n))
			before = ""
		}
	}
}

// number writes a number with at most so many decimals, fixed with just as many.
func (p *page) number(v float64, decimals int) string {
	return p.Write(phrase.Num{Value: v, Decimals: decimals})
}

func (p *page) fixed(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if p.Comma() {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// degrees writes a crank angle to a hundredth of a degree, or to as much more as keeps it
// on its side of a dead centre; see [finding.Beside].
func (p *page) degrees(v float64) string { return p.Write(finding.Beside(v, 2)) + "°" }

// btdc writes an angle before top dead centre; negative is after.
func (p *page) btdc(v float64) string {
	switch n := finding.Beside(v, 2); {
	case n.String() == "0":
		return p.Text("TDC")
	case v < 0:
		return p.with("{{.Size}}° ATDC", map[string]any{"Size": phrase.Num{Value: -v, Decimals: n.Decimals}})
	default:
		return p.with("{{.Size}}° BTDC", map[string]any{"Size": n})
	}
}

// angle writes an angle that stands beside no stroke: how far one thing is from
// another, or how surely; maybeAngle one that may not be known.
func (p *page) angle(v float64) string { return p.number(v, 2) + "°" }

func (p *page) maybeAngle(v *float64) string {
	if v == nil {
		return unknown
	}
	return p.angle(*v)
}

// height writes a piston's height in hundredths of a millimetre.
func (p *page) height(mm *float64) string {
	if mm == nil {
		return unknown
	}
	return p.fixed(*mm, 2) + " mm"
}

// percent writes a probability. None is ever quite 0 or 1.
func (p *page) percent(v float64) string {
	switch {
	case v < 0.0005:
		return p.with("under {{.Share}} %", map[string]any{"Share": phrase.Num{Value: 0.1, Decimals: 1}})
	case v >= 0.9995:
		return p.with("over {{.Share}} %", map[string]any{"Share": phrase.Num{Value: 99.9, Decimals: 1}})
	}
	return p.fixed(100*v, 1) + " %"
}

func (p *page) openShut(b *bool) string {
	switch {
	case b == nil:
		return unknown
	case *b:
		return p.Text("open")
	}
	return p.Text("shut")
}

// sentences prints what stands beside an answer.
func (p *page) sentences(heading phrase.Text, list []phrase.Sentence) {
	if len(list) == 0 || p.quiet {
		return
	}
	fmt.Fprintf(&p.out, "\n%s\n", p.Text(heading))
	for _, s := range list {
		p.line("  " + p.Say(s))
	}
}

// texts are the sentences as JSON has them, never null.
func (p *page) texts(list []phrase.Sentence) []string {
	words := make([]string, len(list))
	for i, s := range list {
		words[i] = p.Say(s)
	}
	return words
}

func (p *page) cautions() {
	if p.quiet {
		return
	}
	fmt.Fprintf(&p.out, "\n%s\n", p.Text("Before you measure or turn the engine"))
	for _, c := range finding.Cautions {
		p.line("  " + p.Text(c))
	}
}
