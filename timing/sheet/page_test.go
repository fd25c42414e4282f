package sheet

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"image"
	"io"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
)

// checkPages fails the test where something on the pages is cut off or lies over
// something else. Figures are taken as blocks: what is inside them has tests of
// its own.
func checkPages(t interface {
	Errorf(string, ...any)
	Helper()
}, d Document, p Paper) {
	t.Helper()
	d.Blocks = slices.Clone(d.Blocks)
	for i, b := range d.Blocks {
		if f, ok := b.(Figure); ok {
			block := figure.Picture{Rect: figure.Rect{W: f.Drawing.W, H: f.Drawing.H}, Image: image.NewGray(image.Rect(0, 0, 1, 1))}
			f.Drawing = figure.Drawing{W: f.Drawing.W, H: f.Drawing.H, Shapes: []figure.Shape{block}}
			d.Blocks[i] = f
		}
	}
	pages := d.Pages(p)
	for n, page := range pages {
		room := figure.Rect{X: side - 0.1, Y: headAt - 8, W: p.W - 2*side + 0.2, H: p.H - headAt - footAt + 14}
		var taken []figure.Rect
		var what []string
		last := 0.0
		for _, s := range page.Shapes {
			b := s.Bounds()
			if text, ok := s.(figure.Text); ok {
				b.Y, b.H = text.Y-0.74*text.Size, 0.74*text.Size // what capitals fill
			} else if _, ok := s.(figure.Picture); !ok {
				continue
			}
			room := room
			if b.W > p.W-2*side+0.1 { // to true scale
				room.X, room.W = edgeMM*mm-0.1, p.W-2*edgeMM*mm+0.2
			}
			if b.X < room.X || b.Y < room.Y || b.Right() > room.Right() || b.Bottom() > room.Bottom() {
				t.Errorf("page %d on %s: %s reaches to %.1f, %.1f, %.1f, %.1f", n+1, p.Name, s, b.X, b.Y, b.Right(), b.Bottom())
			}
			for i, o := range taken {
				if b.Meets(o) {
					t.Errorf("page %d on %s: %s lies over %s", n+1, p.Name, s, what[i])
				}
			}
			taken, what = append(taken, b), append(what, s.String())
			if b.Bottom() < p.H-below {
				last = max(last, b.Bottom())
			}
		}
		if last == 0 {
			t.Errorf("page %d of %d on %s is empty", n+1, len(pages), p.Name)
		}
	}
}

// A heading is never the last thing on a page.
func checkHeadings(t *testing.T, d Document, p Paper) {
	t.Helper()
	for n, page := range d.Pages(p) {
		var lowest figure.Text
		for _, s := range page.Shapes {
			if text, ok := s.(figure.Text); ok && text.Y < p.H-below && text.Y > lowest.Y {
				lowest = text
			}
		}
		for _, f := range headFaces[2:] {
			if lowest.Size == f.size && lowest.Bold {
				t.Errorf("page %d on %s ends with %q", n+1, p.Name, lowest.S)
			}
		}
	}
}

func TestNothingIsCutOffOrOverlaps(t *testing.T) {
	long := sample.Demo(t)
	long.Title = strings.Repeat("Barcaza de grava «Golondrina», cigüeñal nuevo, ", 20)
	long.Notes = strings.Repeat("Schiffsdieselmotorkurbelwellensensorradpassstift ", 60) + "\n\n" + strings.Repeat("x", 4000) + "\n" + strings.Repeat("Zeile\n", 120)
	many := sample.File(t, "v16-uneven")
	many.Engine.FiringOrder, many.Engine.FiringIntervalsDeg = nil, nil
	for i := range 24 {
		many.Engine.FiringOrder = append(many.Engine.FiringOrder, i*7%24+1)
		many.Engine.FiringIntervalsDeg = append(many.Engine.FiringIntervalsDeg, [...]float64{29.123, 30.877}[i%2])
	}
	many.CamWheel = &job.CamWheel{}
	for i := range 120 {
		many.CamWheel.TeethCamDeg = append(many.CamWheel.TeethCamDeg, float64(i)*2.9751)
	}
	jobs := append(jobsOfAllKinds(t), sample.Demo(t), long, many, sample.File(t, "two-stroke"), sample.File(t, "five-cylinder-flywheel-view"), sample.File(t, "keyway-and-dowel"),
		sample.Read(t, thin), sample.Read(t, photographed), sample.Read(t, flywheeled))
	for i, j := range jobs {
		in := on(t, j)
		sheets := []Document{JobSheet(in)}
		if c, err := ClaimSheet(in); err == nil {
			sheets = append(sheets, c)
		}
		for _, d := range sheets {
			for _, p := range Papers {
				checkPages(t, d, p)
				checkHeadings(t, d, p)
			}
		}
		if t.Failed() {
			t.Fatalf("job %d, %s", i, line(j.Title))
		}
	}
}

// anyTable draws a table with texts as nobody would write them.
func anyTable(t *rapid.T) Table {
	words := rapid.OneOf(rapid.String(), rapid.StringN(0, 300, -1), rapid.Just("−14.5°"), rapid.Just("a few words in a cell"), rapid.Just(strings.Repeat("long ", 3000)))
	table := Table{Written: rapid.Bool().Draw(t, "written")}
	for range rapid.IntRange(0, 8).Draw(t, "columns") {
		table.Columns = append(table.Columns, Column{Head: rapid.StringN(0, 30, -1).Draw(t, "head"), Number: rapid.Bool().Draw(t, "number"), Blank: rapid.Bool().Draw(t, "blank")})
	}
	for range rapid.IntRange(0, 12).Draw(t, "rows") {
		table.Rows = append(table.Rows, rapid.SliceOfN(words, 0, 9).Draw(t, "row"))
	}
	return table
}

// Any document whatever can be set and written: nothing is lost, cut off or
// endless.
func TestAnyDocument(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.OneOf(rapid.String(), rapid.StringN(0, 600, -1), rapid.SampledFrom([]string{"", "\n\n", "\x00\x07\t", "e\u0301 \U0001f600 漢字 עברית", strings.Repeat("W", 900)}))
		d := Document{Kind: text.Draw(t, "kind"), Title: text.Draw(t, "title"), Lang: "en", Date: someDay, Made: text.Draw(t, "made"),
			page: func(n, of int) string { return fmt.Sprintf("Page %d of %d", n, of) }}
		for range rapid.IntRange(1, 6).Draw(t, "blocks") {
			var b Block
			switch rapid.IntRange(0, 6).Draw(t, "block") {
			case 0:
				b = Heading{text.Draw(t, "heading"), rapid.IntRange(1, 3).Draw(t, "level")}
			case 1:
				b = Paragraph{text.Draw(t, "text"), rapid.SampledFrom([]Style{Body, Small}).Draw(t, "style")}
			case 2:
				b = List{rapid.SliceOfN(text, 0, 5).Draw(t, "items")}
			case 3:
				pairs := Pairs{}
				for range rapid.IntRange(0, 9).Draw(t, "pairs") {
					pairs.Items = append(pairs.Items, [2]string{text.Draw(t, "name"), text.Draw(t, "value")})
				}
				b = pairs
			case 4:
				b = anyTable(t)
			case 5:
				b = Figure{Drawing: figure.Drawing{W: rapid.Float64Range(1, 900).Draw(t, "w"), H: rapid.Float64Range(1, 1200).Draw(t, "h")}, Caption: rapid.StringN(0, 300, -1).Draw(t, "caption")}
			case 6:
				b = Blanks{rapid.SliceOfN(rapid.StringN(0, 40, -1), 0, 5).Draw(t, "names")}
			}
			d.Blocks = append(d.Blocks, b)
		}
		for _, p := range Papers {
			checkPages(t, d, p)
		}
		var b bytes.Buffer
		if err := d.WritePDF(&b, A4); err != nil {
			t.Fatal(err)
		}
		b.Reset()
		if err := d.WriteHTML(&b, A4); err != nil {
			t.Fatal(err)
		}
		wellFormed(t, b.String())
	})
}

// wellFormed reads a page of HTML as XML, whose rules it keeps.
func wellFormed(t interface{ Fatalf(string, ...any) }, page string) {
	x := xml.NewDecoder(strings.NewReader(strings.TrimPrefix(page, "<!DOCTYPE html>\n")))
	x.Entity = xml.HTMLEntity
	for {
		_, err := x.Token()
		if err == io.EOF {
			return
		}
		if err != nil {
			at := x.InputOffset()
			t.Fatalf("%v near %q", err, page[max(0, at-60):min(int64(len(page)), at+60)])
		}
	}
}

// The page needs nothing beside it: no address to load anything from.
func TestHTMLStandsAlone(t *testing.T) {
	var b bytes.Buffer
	d := JobSheet(on(t, sample.Read(t, photographed)))
	if err := d.WriteHTML(&b, Letter); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	wellFormed(t, page)
	rest := strings.ReplaceAll(page, "http://www.w3.org/2000/svg", "")
	for _, s := range []string{"http:", "https:", "src=", "<script", "<link", "@import"} {
		if strings.Contains(rest, s) {
			t.Errorf("the page has %q", s)
		}
	}
	for _, s := range []string{"<html lang=\"en\">", "señora Müller: Kurbelwelle geprüft", "Größe ≤ 5 µm, Ø 82 mm.<br/>Zweite Zeile", "data:image/jpeg;base64,", "@page{size:letter", "Pinphase Figure"} {
		if !strings.Contains(page, s) {
			t.Errorf("the page lacks %q", s)
		}
	}
	if n := strings.Count(page, "@font-face"); n != 2 {
		t.Errorf("%d fonts, want regular and bold once", n)
	}
}

// Any sound job has a sheet, and a claim or what it lacks for one.
func TestAnyJob(t *testing.T) {
	var bases []job.Job
	for _, name := range []string{"v16-uneven", "two-stroke", "five-cylinder-flywheel-view", "keyway-and-dowel"} {
		bases = append(bases, sample.File(t, name))
	}
	bases = append(append(bases, sample.Demo(t), sample.Read(t, thin), sample.Read(t, flywheeled)), jobsOfAllKinds(t)...)
	deadline := time.Now().Add(4 * time.Second)
	rapid.Check(t, func(t *rapid.T) {
		if time.Now().After(deadline) {
			return // a sheet takes a tenth of a second
		}
		j := rapid.SampledFrom(bases).Draw(t, "base").Clone()
		j.Title, j.Notes = rapid.String().Draw(t, "title"), rapid.String().Draw(t, "notes")
		part := func(name string, drop func()) {
			if rapid.IntRange(0, 3).Draw(t, "without "+name) == 0 {
				drop()
			}
		}
		part("injection", func() { j.Injection = nil })
		part("crank wheel", func() { j.CrankWheel = nil })
		part("cam wheel", func() { j.CamWheel = nil })
		part("dowel", func() { j.Dowel = nil })
		part("keyway", func() { j.Keyway = nil })
		part("gears", func() { j.Gears = nil })
		part("evidence", func() { j.Evidence = nil })
		part("valves", func() { j.Engine.Valves = nil })
		part("bore", func() { j.Engine.BoreMM = job.Number{} })
		part("ratio", func() { j.Engine.CompressionRatio = job.Number{} })
		if n := rapid.IntRange(0, 24).Draw(t, "cylinders"); n > 0 {
			numbers := make([]int, n)
			for i := range numbers {
				numbers[i] = i + 1
			}
			j.Engine.FiringOrder, j.Engine.FiringIntervalsDeg = rapid.Permutation(numbers).Draw(t, "order"), nil
		}
		for _, f := range []*job.Feature{j.Dowel, j.Keyway} {
			if f == nil {
				continue
			}
			part("drawing", func() { f.Drawing = nil })
			part("measured", func() { f.Measured = nil })
			if f.Measured != nil && f.Measured.AngleDeg.Given {
				f.Measured.AngleDeg.Value = rapid.Float64Range(0, 180).Draw(t, "angle")
			}
		}
		if j.Injection != nil && j.Injection.StartBTDCDeg.Given {
			j.Injection.StartBTDCDeg.Value = rapid.Float64Range(-180, 180).Draw(t, "start")
		}
		if job.Check(j) != nil || finding.CheckEvidence(j) != nil {
			t.Skip("not sound")
		}
		in := Input{Job: j, Angles: j, Date: someDay}
		d := JobSheet(in)
		for _, p := range Papers {
			checkPages(t, d, p)
		}
		if err := d.WritePDF(io.Discard, A4); err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := d.WriteHTML(&b, Letter); err != nil {
			t.Fatal(err)
		}
		wellFormed(t, b.String())
		if c, err := ClaimSheet(in); err == nil {
			checkPages(t, c, Letter)
		}
	})
}

// Nothing of a text is lost when it is wrapped, and no line is too wide.
func TestWrapped(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.String().Draw(t, "text")
		most := rapid.Float64Range(20, 500).Draw(t, "width")
		list := wrapped(s, 9, false, most)
		squeezed := func(s string) string { return strings.Join(strings.Fields(s), "") }
		if got, want := squeezed(strings.Join(list, "")), squeezed(clean(s)); got != want {
			t.Fatalf("%q became %q", want, got)
		}
		for _, l := range list {
			if width(l, 9, false) > most+1e-9 {
				t.Fatalf("%q is %g wide, more than %g", l, width(l, 9, false), most)
			}
		}
	})
}

func TestColumnWidths(t *testing.T) {
	for _, c := range []struct {
		name              string
		least, most, want []float64
		room              float64
	}{
		{"room for all", []float64{10, 10}, []float64{40, 20}, []float64{60, 40}, 100 + between},
		{"tight", []float64{10, 30}, []float64{110, 30}, []float64{70, 30}, 100 + between},
		{"too tight", []float64{100, 300}, []float64{200, 300}, []float64{25, 75}, 100 + between},
	} {
		got := columnWidths(c.least, c.most, c.room)
		for i := range c.want {
			if math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%s: %v, want %v", c.name, got, c.want)
				break
			}
		}
	}
}

func TestPapers(t *testing.T) {
	// ISO 216: 210 by 297 mm; the letter size is 8.5 by 11 inches.
	if math.Abs(A4.W-595.2756) > 1e-3 || math.Abs(A4.H-841.8898) > 1e-3 || Letter.W != 8.5*72 || Letter.H != 11*72 {
		t.Errorf("%v, %v", A4, Letter)
	}
	if p, err := PaperNamed(""); err != nil || p != A4 {
		t.Errorf("%v, %v", p, err)
	}
	if _, err := PaperNamed("a5"); err == nil {
		t.Error("there is a paper a5")
	}
	if Width > min(A4.W, Letter.W)-2*side {
		t.Error("a figure of the full width does not go onto the narrower paper")
	}
}
