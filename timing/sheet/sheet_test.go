package sheet

import (
	"bytes"
	"errors"
	"image"
	"strings"
	"testing"

	"pinphase.org/pinphase/timing"
	"pinphase.org/pinphase/timing/cause"
	"pinphase.org/pinphase/timing/chart"
	"pinphase.org/pinphase/timing/internal/sample"
	"pinphase.org/pinphase/timing/job"
	"pinphase.org/pinphase/timing/language"
	"pinphase.org/pinphase/timing/part/photo"
	"pinphase.org/pinphase/timing/phrase"
	"pinphase.org/pinphase/timing/quantity"
)

// photographed is measured on a sample photograph.
const photographed = `title = "Bomba nº 3, señora Müller: Kurbelwelle geprüft – “neu”"
notes = """Größe ≤ 5 µm, Ø 82 mm.
Zweite Zeile, ñandú, Łódź."""
[engine]
strokes = 4
firing_order = [1, 3, 4, 2]
[injection]
start_btdc_deg = 9
[dowel]
drawing = { angle_deg = 12.5, side = "clockwise", u_deg = 0.1 }
[dowel.measured]
method = "photo"
file = "nose-square.jpg"
rim = [[1072.4, 525.9], [1027.2, 711.6], [902.4, 793.1], [834.2, 801.6], [691.6, 743.1], [624.4, 639.5], [626.9, 496.2], [746.9, 362.6], [925.7, 353.6], [1031.6, 433.7]]
keyway = [[783.5, 348.1], [837.8, 340.6]]
dowel = [[812, 439.4], [799.3, 453.5], [787.6, 454.9], [773, 440.7], [783.5, 419.5], [797.7, 416.5]]
centre = [[842.3, 567.6]]
`

// flywheeled is seen from the other end, by a degree wheel and calipers.
const flywheeled = thin + `[dowel]
seen_from = "flywheel"
drawing = { angle_deg = 12.5, side = "clockwise" }
measured = { method = "degree_wheel", keyway_deg = [10.0, 10.5], dowel_deg = 22.0, counts = "clockwise" }
[keyway]
drawing = { angle_deg = 45, side = "clockwise" }
measured = { method = "chord", over = "outside", chord_mm = 60.0, pin_mm = 30.0, key_mm = 10.0, throw_radius_mm = 50, keyway_radius_mm = 25, side = "clockwise" }
`

func claim(t testing.TB, in Input) Document {
	t.Helper()
	d, err := ClaimSheet(in)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestGoldenDocuments(t *testing.T) {
	photo := on(t, sample.Read(t, photographed))
	for name, d := range map[string]Document{
		"job-demo.txt": JobSheet(on(t, sample.Demo(t))), "claim-demo.txt": claim(t, on(t, sample.Demo(t))),
		"job-thin.txt": JobSheet(on(t, sample.Read(t, thin))), "job-photo.txt": JobSheet(photo), "claim-photo.txt": claim(t, photo),
		"job-flywheel.txt": JobSheet(on(t, sample.Read(t, flywheeled))),
	} {
		golden(t, name, d.String())
	}
}

// What a claim needs is named when it is not there.
func TestClaimNeedsBoth(t *testing.T) {
	for text, key := range map[string]string{
		thin: "dowel",
		thin + "[dowel]\ndrawing = { angle_deg = 3, side = \"clockwise\" }\n":   "dowel.measured",
		thin + "[keyway]\nmeasured = { angle_deg = 3, side = \"clockwise\" }\n": "keyway.drawing",
	} {
		_, err := ClaimSheet(on(t, sample.Read(t, text)))
		var faults job.Faults
		if !errors.As(err, &faults) || len(faults) != 1 || faults[0].Key != key {
			t.Errorf("%q: %v, want a fault of %s", text, err, key)
		}
	}
}

// The same job and date give the same bytes, and another date others.
func TestBytesRepeat(t *testing.T) {
	write := func(in Input) (pdf, html string) {
		var p, h bytes.Buffer
		d := JobSheet(in)
		if err := d.WritePDF(&p, A4); err != nil {
			t.Fatal(err)
		}
		if err := d.WriteHTML(&h, A4); err != nil {
			t.Fatal(err)
		}
		return p.String(), h.String()
	}
	in := on(t, sample.Read(t, photographed))
	pdf, html := write(in)
	again, htmlAgain := write(in)
	if pdf != again || html != htmlAgain {
		t.Error("the same sheet gives other bytes")
	}
	in.Date = someDay.AddDate(0, 0, 1)
	if later, htmlLater := write(in); later == pdf || htmlLater == html || !strings.Contains(htmlLater, "1 Apr 2026") {
		t.Error("another date gives the same bytes")
	}
}

// A photograph that cannot be shown is said, and its angle stands all the same.
func TestPhotographThatIsNotThere(t *testing.T) {
	in := on(t, sample.Read(t, photographed))
	in.Picture = func(string) (image.Image, photo.Info, error) {
		return nil, photo.Info{}, errors.New("nose-square.jpg: is a HEIC picture")
	}
	got := claim(t, in).String()
	if !strings.Contains(got, "cannot be shown here: nose-square.jpg: is a HEIC picture") || !strings.Contains(got, "12.6° anticlockwise") {
		t.Error(got)
	}
	in.Picture = func(string) (image.Image, photo.Info, error) {
		return image.NewRGBA(image.Rect(0, 0, 100, 100)), photo.Info{Width: 100, Height: 100}, nil
	}
	if got := claim(t, in).String(); !strings.Contains(got, "lie outside it") {
		t.Error(got)
	}
	in.Picture = nil
	if got := claim(t, in).String(); strings.Contains(got, "figure photo") {
		t.Error("a photograph is shown that nobody gave")
	}
}

// photographedTwice has the drawing's angle from a photograph too, of a mirrored print,
// so that it lies at the other side.
func photographedTwice(t *testing.T) job.Job {
	j := sample.Read(t, photographed)
	dowel := *j.Dowel
	mirrored := *dowel.Measured
	mirrored.Mirror = job.MirrorMirrored
	dowel.Drawing, j.Dowel = &mirrored, &dowel
	return j
}

// Where the drawing's angle too was taken from a photograph, both are shown.
func TestDrawingFromAPhotograph(t *testing.T) {
	got := claim(t, on(t, photographedTwice(t))).String()
	// Side by side, each with its angle, in the order in which they stand.
	if strings.Count(got, "figure photo") != 1 || !strings.Contains(got, "at the right the one on which the dowel was measured. They show 12.6° clockwise and 12.6° anticlockwise, seen from the nose.") {
		t.Error(got)
	}
}

// Seen from the flywheel, the angles below the photographs are those that whoever took
// them saw, as everywhere on the sheet; without an angle no number stands there.
func TestPhotographsFromTheFlywheel(t *testing.T) {
	j := photographedTwice(t)
	j.Dowel.SeenFrom = "flywheel"
	in := on(t, j)
	if got := claim(t, in).String(); !strings.Contains(got, "They show 12.6° clockwise and 12.6° anticlockwise, seen from the flywheel.") {
		t.Error(got)
	}
	m := newMaker(in, wordClaim)
	m.Angles = job.Job{}
	if got := m.besideWords("dowel"); strings.Contains(got, "They show") || !strings.Contains(got, "At the left") {
		t.Errorf("of no angles it says %q", got)
	}
}

// Every word goes through the reader's translation.
func TestEveryWordIsSaid(t *testing.T) {
	say := chart.Say(func(s phrase.Sentence) string {
		return "~" + s.String()
	})
	outside := errors.New("gone")
	for _, j := range append(jobsOfAllKinds(t), sample.Demo(t), photographedTwice(t), sample.Read(t, photographed), sample.Read(t, flywheeled), sample.File(t, "v16-uneven"), sample.File(t, "two-stroke")) {
		in := on(t, j)
		in.Say = say
		for _, picture := range []func(string) (image.Image, photo.Info, error){in.Picture, nil,
			func(string) (image.Image, photo.Info, error) { return nil, photo.Info{}, outside },
			func(string) (image.Image, photo.Info, error) {
				return image.NewRGBA(image.Rect(0, 0, 9, 9)), photo.Info{Width: 9, Height: 9}, nil
			}} {
			in.Picture = picture
			d := JobSheet(in)
			d.Pages(A4)
			for _, b := range d.Blocks {
				for _, text := range texts(b) {
					if text != "" && !strings.Contains(text, "~") && strings.ContainsFunc(text, isLower) && text != j.Title && text != clean(j.Notes) {
						t.Errorf("%q speaks English only", text)
					}
				}
			}
			_, _ = ClaimSheet(in)
			if in.Job.Dowel == nil || in.Job.Dowel.Measured == nil || in.Job.Dowel.Measured.Method != "photo" {
				break
			}
		}
	}
	for _, about := range []string{"", "a job"} {
		in := exercise(t, "en", 16)
		in.About, in.Say = about, say
		ExerciseSheet(in)
		AnswerSheet(in)
	}
	j := sample.Demo(t)
	for _, end := range []timing.End{timing.Nose, timing.Flywheel} {
		in := Scale{DiameterMM: 300, From: end, Job: &j, RulerMM: 149, Date: someDay, Say: say}
		if _, err := DegreeWheel(in, A4); err != nil {
			t.Fatal(err)
		}
		if _, err := Tape(in, A4); err != nil {
			t.Fatal(err)
		}
	}
}

func isLower(r rune) bool { return 'a' <= r && r <= 'z' }

// texts are all texts of a block.
func texts(b Block) []string {
	switch b := b.(type) {
	case Heading:
		return []string{b.Text}
	case Paragraph:
		return []string{b.Text}
	case List:
		return b.Items
	case Blanks:
		return b.Names
	case Figure:
		return []string{b.Caption}
	case Pairs:
		var list []string
		for _, i := range b.Items {
			list = append(list, i[0], i[1])
		}
		return list
	case Table:
		var list []string
		for _, c := range b.Columns {
			list = append(list, c.Head)
		}
		for _, r := range b.Rows {
			list = append(list, r...)
		}
		return list
	}
	return nil
}

// jobsOfAllKinds have what the other jobs lack.
func jobsOfAllKinds(t *testing.T) []job.Job {
	var list []job.Job
	reading := func(measured string) job.Job {
		return sample.Read(t, thin+"[dowel]\ndrawing = { angle_deg = 12, side = \"clockwise\" }\nmeasured = { "+measured+" }\n")
	}
	const radii = `, dowel_radius_mm = 38.0, keyway_radius_mm = 24.0, side = "clockwise"`
	const sizes = radii + `, pin_mm = 8.0, key_mm = 10.0`
	for _, measured := range []string{
		`method = "arc", arc_mm = [9.0, 9.1], rim_radius_mm = 40, side = "clockwise"`,
		`method = "xy", centre = [0, 0], keyway = [0, 24], dowel = [8, 37]`,
		`method = "chord", over = "inside", chord_mm = 9.0` + sizes,
		`method = "chord", over = "inside", on = "keyway", chord_mm = 14.0` + sizes,
		`method = "chord", over = "outside", on = "keyway", chord_mm = 30.0` + sizes,
		`method = "chord", chord_mm = 17.0` + radii,
		`angle_deg = 12, side = "clockwise"`,
	} {
		list = append(list, reading(measured))
	}
	for _, measured := range []string{
		`method = "degree_wheel", throw_deg = 10.0, keyway_deg = 22.0, counts = "anticlockwise"`,
		`method = "xy", centre = [0, 0], keyway = [0, 24], throw = [8, 37]`,
	} {
		list = append(list, sample.Read(t, thin+"[keyway]\ndrawing = { angle_deg = 12, side = \"clockwise\" }\nmeasured = { "+measured+" }\n"))
	}
	j := sample.Demo(t)
	j.Engine.PolytropicExponent = job.Num(1.3)
	j.Engine.CompressionGaugeBar, j.Engine.CompressionGaugeRPM = job.Num(22), job.Num(180)
	j.CrankWheel.Missing = nil
	j.Gears.CamTeethOut = 1
	j.Gears.IdlerTeeth = []int{53, 41}
	for _, k := range cause.Kinds() {
		e := job.Evidence{Kind: k.Name, Value: k.Min}
		switch k.Value {
		case cause.YesNo:
			e.Value = true
		case cause.Word:
			e.Value = k.Words[0]
		}
		j.Evidence = append(j.Evidence, e)
	}
	list = append(list, j)
	late := sample.Demo(t)
	late.Keyway.Measured.AngleDeg = job.Num(100)
	late.Injection.CrankingRPM = job.Number{}
	list = append(list, late, job.Job{Engine: late.Engine}, sample.Read(t, thin+"[dowel]\nmeasured = { angle_deg = 3, side = \"clockwise\" }\n"))
	untitled := sample.Read(t, photographed)
	untitled.Title = ""
	untitled.Dowel.Measured.UPx = job.Num(2)
	return append(list, untitled)
}

// A job whose evidence is faulty does not lose its causes in silence: the sheet says
// what is wrong with it, at the top that there are none and under Causes why, in the
// reader's language.
func TestFaultyEvidenceIsSaid(t *testing.T) {
	j := sample.Demo(t)
	j.Evidence = []job.Evidence{{Kind: "strats", Value: true}, {Kind: "smoke", Value: "blue"}}
	in := on(t, j)
	got := JobSheet(in).String()
	for _, want := range []string{"evidence[1].kind: \"strats\" is not known; is starts meant?", "evidence[2].value: \"blue\" is not known for smoke; it is \"none\", \"white\" or \"black\""} {
		if !strings.Contains(got, want) {
			t.Errorf("does not say %q in\n%s", want, got)
		}
	}
	if n := strings.Count(got, string(wordUnranked)); n != 2 {
		t.Errorf("says %d times that the causes were not weighed", n)
	}
	german := language.New("de", quantity.Units{})
	in.Say = german.Say
	if got := JobSheet(in).String(); strings.Count(got, german.Text(wordUnranked)) != 2 || strings.Contains(got, "is not known") {
		t.Errorf("not in the reader's language:\n%s", got)
	}
}

// Only pictures that a sheet would show are asked about: not those of parts that are not
// compared.
func TestOutsideShown(t *testing.T) {
	j := photographedTwice(t)
	j.Dowel.Measured.File, j.Dowel.Drawing.File = "../new.jpg", "old.jpg"
	j = j.Gather("Old", "New")
	spare := *j.Parts[0].Dowel
	spare.File = "../spare.jpg"
	j.AddPart(job.Part{Name: "Spare", Dowel: &spare, Picture: "../shop.jpg"})
	if got := OutsideShown(j, "folder"); len(got) != 1 || got[0] != "../new.jpg" {
		t.Errorf("it would be asked about %v", got)
	}
	if got := OutsidePictures(j, "folder"); len(got) != 3 {
		t.Errorf("outside are %v", got)
	}
}
