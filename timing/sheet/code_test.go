package sheet

import (
	"math"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/figure"
	"pinphase.org/pinphase/timing/finding"
	"pinphase.org/pinphase/timing/job"
)

// scanned reads the code of a document from its picture as printed at 600 dots an inch,
// with a decoder that knows nothing of who drew it.
func scanned(t *testing.T, d Document) string {
	t.Helper()
	var blocks []Block
	for _, b := range d.Blocks {
		if g, ok := b.(Group); ok {
			blocks = append(blocks, g.Blocks...)
		}
		blocks = append(blocks, b)
	}
	for _, b := range blocks {
		f, ok := b.(Figure)
		if !ok || f.Name != "code" {
			continue
		}
		const scale = 600.0 / 72
		var r figure.Raster
		img := r.Render(f.Drawing, figure.Paper(), int(f.Drawing.W*scale), int(f.Drawing.H*scale), scale)
		bits, err := gozxing.NewBinaryBitmapFromImage(img)
		if err != nil {
			t.Fatal(err)
		}
		got, err := qrcode.NewQRCodeReader().Decode(bits, nil)
		if err != nil {
			t.Fatalf("the code cannot be read: %v", err)
		}
		return got.GetText()
	}
	t.Fatal("there is no code")
	return ""
}

// What is read from the code of a claim is a sound job file with the angles of the claim,
// seen from its end, and the words of its case; the wheel error that follows is that of
// the whole job to two thousandths of a degree.
func TestCodeGivesTheSameAngles(t *testing.T) {
	const caseWords = `
[case]
supplier = "Talleres Peñón & Söhne"
order = "4711"
part_number = "K-118"
customer = "Nobody else's business"
`
	const head = "title = \"Grain elevator\"\n[engine]\nstrokes = 4\nfiring_order = [1, 5, 3, 6, 2, 4]\n"
	for name, text := range map[string]string{
		"angles": "format = 2\n" + head + `[injection]
start_btdc_deg = 9.0
[dowel]
drawing = { angle_deg = 12.5, side = "clockwise", u_deg = 0.1 }
measured = { method = "chord", chord_mm = 16.18, dowel_radius_mm = 41.0, keyway_radius_mm = 27.0, side = "anticlockwise" }
` + caseWords,
		"from the flywheel, turning the other way": "format = 2\n" + strings.Replace(head, "strokes", "rotation = \"anticlockwise\"\nstrokes", 1) + `
[dowel]
seen_from = "flywheel"
drawing = { angle_deg = 12.5, side = "clockwise", u_deg = 0.1 }
measured = { angle_deg = 12.25, side = "anticlockwise", u_deg = 0.3 }
[keyway]
seen_from = "flywheel"
drawing = { angle_deg = 3, side = "clockwise" }
measured = { angle_deg = 1, side = "anticlockwise", u_deg = 0.2 }
` + caseWords,
		"old and new": "format = 2\n" + head + `
[[part]]
name = "Old crankshaft"
use = "datum"
dowel = { angle_deg = 12.5, side = "clockwise", u_deg = 0.1 }
[[part]]
name = "New crankshaft"
use = "engine"
dowel = { angle_deg = 12.25, side = "anticlockwise", u_deg = 0.3 }
` + caseWords,
	} {
		doc, err := job.Read(name, []byte(text))
		if err != nil {
			t.Fatal(err)
		}
		claim, err := ClaimSheet(Input{Job: doc.Job(), Angles: doc.Job().Compared()})
		if err != nil {
			t.Fatal(err)
		}
		read := scanned(t, claim)
		back, err := job.Read("code", []byte(read))
		if err != nil {
			t.Fatalf("%s: %v in\n%s", name, err, read)
		}
		t.Logf("%s: %d bytes", name, len(read))
		want, err := finding.WheelErrorOf(doc.Job().Compared())
		if err != nil {
			t.Fatal(err)
		}
		got, err := finding.WheelErrorOf(back.Job())
		if err != nil {
			t.Fatalf("%s: %v in\n%s", name, err, read)
		}
		if d := timing.Difference(got.Value, want.Value, timing.Turn); math.Abs(float64(d)) > 0.002 || math.Abs(float64(got.U-want.U)) > 0.002 {
			t.Errorf("%s: the code gives a wheel error of %v, the job %v:\n%s", name, got, want, read)
		}
		if c := back.Job().Case; c == nil || c.Supplier != "Talleres Peñón & Söhne" || c.Order != "4711" || c.PartNumber != "K-118" || c.Customer != "" {
			t.Errorf("%s: the code says %+v", name, c)
		}
	}
}

// A job of 24 cylinders with every text far too long has a code that can be read still;
// its texts are cut short, its angles are not.
func TestCodeOfALongJob(t *testing.T) {
	j := job.Job{Format: 2, Title: strings.Repeat("long ", 40), Engine: job.Engine{Strokes: 4}}
	for i := range 24 {
		j.Engine.FiringOrder = append(j.Engine.FiringOrder, i+1)
		j.Engine.FiringIntervalsDeg = append(j.Engine.FiringIntervalsDeg, 30)
	}
	long := strings.Repeat("W", 200)
	j.Case = &job.Case{Supplier: long, Order: long, PartNumber: long, PartSerial: long, EngineSerial: long}
	j.Dowel = &job.Feature{Drawing: &job.Reading{AngleDeg: job.Num(12), Side: "clockwise"}, Measured: &job.Reading{AngleDeg: job.Num(12), Side: "anticlockwise"}}
	claim, err := ClaimSheet(Input{Job: j, Angles: j})
	if err != nil {
		t.Fatal(err)
	}
	read := scanned(t, claim)
	back, err := job.Read("code", []byte(read))
	if err != nil {
		t.Fatalf("%v in\n%s", err, read)
	}
	got := back.Job()
	if got.Case == nil || got.Case.Supplier != long[:mostCode] || got.Title != strings.TrimSpace(j.Title[:mostCode]) {
		t.Errorf("the texts are not cut to %d characters:\n%s", mostCode, read)
	}
	if got.Dowel == nil || got.Dowel.Measured == nil || got.Dowel.Measured.AngleDeg.Value != 12 || len(got.Engine.FiringIntervalsDeg) != 24 {
		t.Errorf("angle or engine is another:\n%s", read)
	}
	t.Logf("%d bytes", len(read))
}
